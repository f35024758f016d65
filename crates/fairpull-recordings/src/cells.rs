//! Where the cells of a line without quotation marks end.

/// Bytes looked at together.
const STEP: usize = 8;
const LOW: u64 = 0x7F7F_7F7F_7F7F_7F7F;

/// Ends of the cells of one line.
pub(crate) struct Ends {
    separator: u8,
    ends: Vec<usize>,
}

impl Ends {
    pub fn new(separator: u8) -> Self {
        Self { separator, ends: Vec::with_capacity(64) }
    }

    /// Finds the cells of a line and says how many there are. Eight bytes at a time: cells are a few bytes long, too
    /// short for a search from each one to the next.
    pub fn split(&mut self, line: &[u8]) -> usize {
        self.ends.clear();
        let pattern = u64::from_ne_bytes([self.separator; STEP]);
        let (steps, rest) = line.as_chunks::<STEP>();
        let mut at = 0;
        for step in steps {
            let x = u64::from_le_bytes(*step) ^ pattern;
            // The high bit of each byte that is zero, and of no other.
            let mut hits = !(((x & LOW) + LOW) | x | LOW);
            while hits != 0 {
                self.ends.push(at + (hits.trailing_zeros() / 8) as usize);
                hits &= hits - 1;
            }
            at += STEP;
        }
        for b in rest {
            if *b == self.separator {
                self.ends.push(at);
            }
            at += 1;
        }
        self.ends.push(at);
        self.ends.len()
    }

    /// A cell of the line that was split last; nothing beyond the last one.
    pub fn cell<'a>(&self, line: &'a [u8], index: usize) -> &'a [u8] {
        let start = match index.checked_sub(1) {
            None => 0,
            Some(before) => self.ends.get(before).map_or(usize::MAX, |e| e + 1),
        };
        self.ends.get(index).and_then(|end| line.get(start..*end)).unwrap_or(&[])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn as_a_plain_split() {
        for line in
            ["", ";", "a", "1;2", "1.5;;22.25;", ";;;;;;;;;;", "1234567;12345678;123456789;é;ÿ;\u{BB}"]
        {
            let mut ends = Ends::new(b';');
            let plain: Vec<&[u8]> = line.as_bytes().split(|b| *b == b';').collect();
            assert_eq!(ends.split(line.as_bytes()), plain.len(), "{line}");
            for (i, cell) in plain.iter().enumerate() {
                assert_eq!(ends.cell(line.as_bytes(), i), *cell, "{line}");
            }
            assert!(ends.cell(line.as_bytes(), plain.len()).is_empty());
        }
    }
}
