//! A few values by name.

/// Values by name, each name once, in the order of the names: equal whatever the order they were put in.
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

    /// Puts a value in the place of the one of that name, if there is one.
    pub fn insert(&mut self, name: &'static str, value: T) {
        match self.place(name) {
            Ok(at) => self.0[at].1 = value,
            Err(at) => self.0.insert(at, (name, value)),
        }
    }

    fn place(&self, name: &str) -> Result<usize, usize> {
        self.0.binary_search_by(|(n, _)| (*n).cmp(name))
    }
}

impl<T: Default> Named<T> {
    /// The value of that name, the default where there is none yet.
    pub fn entry(&mut self, name: &'static str) -> &mut T {
        let at = self.place(name).unwrap_or_else(|at| {
            self.0.insert(at, (name, T::default()));
            at
        });
        &mut self.0[at].1
    }
}
