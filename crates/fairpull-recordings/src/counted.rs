//! Numbers of rows and lines that mostly follow one another.

use core::ops::Range;

/// A list of rising numbers, kept as the places where it does not go on by one.
#[derive(Default)]
pub(crate) struct Counted {
    /// First index and number of each stretch.
    stretches: Vec<(usize, u64)>,
    len: usize,
    next: u64,
}

impl Counted {
    pub fn push(&mut self, number: u64) {
        self.extend(number, 1);
    }

    /// So many numbers from one on.
    pub fn extend(&mut self, first: u64, count: usize) {
        if count == 0 {
            return;
        }
        if first != self.next || self.len == 0 {
            self.stretches.push((self.len, first));
        }
        self.len += count;
        self.next = first + count as u64;
    }

    pub fn len(&self) -> usize {
        self.len
    }

    pub fn get(&self, index: usize) -> Option<u64> {
        let after = self.stretches.partition_point(|s| s.0 <= index);
        let (first, number) = *self.stretches.get(after.checked_sub(1)?)?;
        (index < self.len).then(|| number + (index - first) as u64)
    }

    pub fn iter(&self) -> impl Iterator<Item = u64> + '_ {
        self.stretches().flatten()
    }

    /// The numbers that follow one another.
    pub fn stretches(&self) -> impl Iterator<Item = Range<u64>> + '_ {
        self.stretches.iter().enumerate().map(|(i, (first, number))| {
            let end = self.stretches.get(i + 1).map_or(self.len, |s| s.0);
            *number..number + (end - first) as u64
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keeps_what_was_pushed() {
        let numbers = [3, 4, 5, 9, 10, 20, 22, 23];
        let mut c = Counted::default();
        numbers.into_iter().take(2).for_each(|n| c.push(n));
        c.extend(5, 1);
        c.extend(9, 0);
        c.extend(9, 2);
        numbers.into_iter().skip(5).for_each(|n| c.push(n));
        assert_eq!(c.len(), numbers.len());
        assert!(c.iter().eq(numbers));
        for (i, n) in numbers.into_iter().enumerate() {
            assert_eq!(c.get(i), Some(n));
        }
        assert_eq!(c.get(numbers.len()), None);
    }
}
