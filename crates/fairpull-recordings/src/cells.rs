//! Where the cells of a line without quotation marks end, eight bytes at a time: cells are a few bytes long, too short
//! for a search from each one to the next.

use crate::swar::{ONES, marked, zeros};

/// Bytes looked at together.
const STEP: usize = 8;
const BLOCK: usize = 64;
/// Bytes of a block from each one on.
static LEFT: [u8; BLOCK] = {
    let mut left = [0; BLOCK];
    let mut i = 0;
    while i < BLOCK {
        left[i] = (BLOCK - i) as u8;
        i += 1;
    }
    left
};

/// A byte in every place.
const fn pattern(byte: u8) -> u64 {
    byte as u64 * ONES
}

/// Separators up to the line end, and where that stands; none when there is no line end.
pub(crate) fn to_line_end(text: &[u8], separator: u8) -> Option<(usize, usize)> {
    // Where the machine compares sixteen bytes at once.
    if cfg!(any(target_feature = "sse2", target_feature = "neon")) {
        by_blocks(text, separator)
    } else {
        by_steps(text, separator)
    }
}

fn by_blocks(text: &[u8], separator: u8) -> Option<(usize, usize)> {
    let (mut count, mut at) = (0, 0);
    let (blocks, rest) = text.as_chunks::<BLOCK>();
    for block in blocks {
        let mut ends = [0; BLOCK];
        for ((end, b), left) in ends.iter_mut().zip(block).zip(&LEFT) {
            *end = if *b == b'\n' { *left } else { 0 };
        }
        // Bytes left from the line end on.
        let end = ends.iter().fold(0, |most, left| *left.max(&most));
        let before = block.iter().zip(&LEFT).map(|(b, left)| u8::from((*b == separator) & (*left > end)));
        count += usize::from(before.sum::<u8>());
        if end > 0 {
            return Some((count, at + BLOCK - usize::from(end)));
        }
        at += BLOCK;
    }
    by_steps(rest, separator).map(|(more, end)| (count + more, at + end))
}

fn by_steps(text: &[u8], separator: u8) -> Option<(usize, usize)> {
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
    let rest = text.get(at..)?;
    let end = rest.iter().position(|b| *b == b'\n')?;
    Some((count + rest.iter().take(end).filter(|b| **b == separator).count(), at + end))
}

/// Offset behind so many separators of the same line; none when the line ends before, or the text within the last few
/// bytes.
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
            for start in (0..9).chain(50..70).chain(110..140) {
                let text = format!("{}{line}\n1;2;3 and so on{}", "x".repeat(start), "; ".repeat(start));
                let cells: Vec<&str> = text.split('\n').next().unwrap_or("").split(';').collect();
                let end = start + line.len();
                for way in [to_line_end, by_blocks, by_steps] {
                    assert_eq!(way(text.as_bytes(), b';'), Some((cells.len() - 1, end)), "{text}");
                }
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
