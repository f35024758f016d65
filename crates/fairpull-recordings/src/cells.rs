//! Where the cells of a line without quotation marks end, eight bytes at a time: cells are a few bytes long, too short
//! for a search from each one to the next.

/// Bytes looked at together.
const STEP: usize = 8;
const LOW: u64 = 0x7F7F_7F7F_7F7F_7F7F;
const ONES: u64 = 0x0101_0101_0101_0101;

/// A byte in every place.
const fn pattern(byte: u8) -> u64 {
    u64::from_ne_bytes([byte; STEP])
}

/// The high bit of each byte that is zero, and of no other.
const fn zeros(x: u64) -> u64 {
    !(((x & LOW) + LOW) | x | LOW)
}

/// Number of bytes marked by their high bit.
const fn marked(hits: u64) -> usize {
    ((hits >> 7).wrapping_mul(ONES) >> 56) as usize
}

/// Separators up to the line end, and where that stands; none when there is no line end, or none within the last few
/// bytes.
pub(crate) fn to_line_end(text: &[u8], separator: u8) -> Option<(usize, usize)> {
    let (separators, ends) = (pattern(separator), pattern(b'\n'));
    let (mut count, mut at) = (0, 0);
    for step in text.as_chunks::<STEP>().0 {
        let x = u64::from_le_bytes(*step);
        let (hits, end) = (zeros(x ^ separators), zeros(x ^ ends));
        if end != 0 {
            let before = (end & end.wrapping_neg()) - 1;
            return Some((count + marked(hits & before), at + (end.trailing_zeros() / 8) as usize));
        }
        count += marked(hits);
        at += STEP;
    }
    None
}

/// Offset behind so many separators of the same line; none as [`to_line_end`].
pub(crate) fn behind(text: &[u8], separator: u8, mut count: usize) -> Option<usize> {
    let (separators, ends) = (pattern(separator), pattern(b'\n'));
    let mut at = 0;
    for step in text.as_chunks::<STEP>().0 {
        let x = u64::from_le_bytes(*step);
        let (mut hits, end) = (zeros(x ^ separators), zeros(x ^ ends));
        if end != 0 {
            hits &= (end & end.wrapping_neg()) - 1;
        }
        let here = marked(hits);
        if here >= count {
            for _ in 1..count {
                hits &= hits - 1;
            }
            return Some(at + (hits.trailing_zeros() / 8) as usize + 1);
        }
        if end != 0 {
            return None;
        }
        count -= here;
        at += STEP;
    }
    None
}

/// Ends of the cells of one line.
pub(crate) struct Ends {
    separator: u8,
    ends: Vec<usize>,
}

impl Ends {
    pub fn new(separator: u8) -> Self {
        Self { separator, ends: Vec::with_capacity(64) }
    }

    /// Finds the cells of a line and says how many there are.
    pub fn split(&mut self, line: &[u8]) -> usize {
        self.ends.clear();
        let pattern = pattern(self.separator);
        let (steps, rest) = line.as_chunks::<STEP>();
        let mut at = 0;
        for step in steps {
            let mut hits = zeros(u64::from_le_bytes(*step) ^ pattern);
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
    fn as_a_plain_count() {
        for line in
            ["", ";", "a", "1;2", "1.5;;22.25;", ";;;;;;;;;;", "1234567;12345678;123456789;é;ÿ;\u{BB}"]
        {
            for start in 0..9 {
                let text = format!("{}{line}\n1;2;3 and so on", "x".repeat(start));
                let cells: Vec<&str> = text.split('\n').next().unwrap_or("").split(';').collect();
                let end = start + line.len();
                assert_eq!(to_line_end(text.as_bytes(), b';'), Some((cells.len() - 1, end)), "{text}");
                let mut at = 0;
                for (i, cell) in cells.iter().enumerate().skip(1) {
                    at += cells.get(i - 1).map_or(0, |c| c.len() + 1);
                    assert_eq!(behind(text.as_bytes(), b';', i), Some(at), "{text}: {cell}");
                }
                assert_eq!(behind(text.as_bytes(), b';', cells.len()), None, "{text}");
            }
        }
        assert_eq!(to_line_end(b"1;2;3;4;5;6;7;8;9", b';'), None);
        assert_eq!(behind(b"1;2;3;4;5;6;7;8;9", b';', 9), None);
    }

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
