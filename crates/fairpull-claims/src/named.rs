//! A few values by name.

/// Values by name, each name once.
#[derive(Clone, Debug, PartialEq)]
pub struct Named<T>(Vec<(&'static str, T)>);

impl<T> Default for Named<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<T> Named<T> {
    /// None yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// The value of that name.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&T> {
        self.0.iter().find(|(n, _)| *n == name).map(|(_, value)| value)
    }

    /// Puts a value in the place of the one of that name, or behind the others.
    pub fn insert(&mut self, name: &'static str, value: T) {
        match self.0.iter_mut().find(|(n, _)| *n == name) {
            Some((_, old)) => *old = value,
            None => self.0.push((name, value)),
        }
    }
}

impl<T: Default> Named<T> {
    /// The value of that name, the default where there is none yet.
    pub fn entry(&mut self, name: &'static str) -> &mut T {
        let known = self.0.iter().position(|(n, _)| *n == name);
        let at = known.unwrap_or(self.0.len());
        if known.is_none() {
            self.0.push((name, T::default()));
        }
        &mut self.0[at].1
    }
}
