//! Rows written alike: digits where the row before has digits, and the same signs between them.
//!
//! Most rows of a log look like the one before, so that what was found out about one holds for the next.

use crate::swar::{HIGH, ONES, ZEROS, no_digits};

/// Bytes compared together.
const PART: usize = 16;

/// How the start of a text is written.
#[derive(Default)]
pub(crate) struct Form {
    parts: Vec<Part>,
    reach: usize,
}

/// Sixteen bytes of a text.
struct Part {
    /// Those that count.
    counts: [u64; 2],
    /// What they are, zeros in place of digits.
    bytes: [u64; 2],
    /// What makes the high bit of a byte show that it is something else.
    above: [u64; 2],
}

impl Form {
    /// Takes the form of the first `count` bytes; none where the text ends within fifteen bytes behind them.
    pub fn set(&mut self, text: &[u8], count: usize) -> Option<()> {
        self.parts.clear();
        self.reach = count.next_multiple_of(PART);
        for (i, bytes) in text.get(..self.reach)?.as_chunks().0.iter().enumerate() {
            self.parts.push(Part::of(pair(*bytes), count - PART * i));
        }
        Some(())
    }

    /// Takes it where `alike` says so, and otherwise none.
    pub fn take(&mut self, text: &[u8], count: usize, alike: bool) {
        if !alike || self.set(text, count).is_none() {
            self.clear();
        }
    }

    /// Nothing has this form from now on.
    pub fn clear(&mut self) {
        self.parts.clear();
    }

    /// True where the text starts in this form, and does not end within fifteen bytes behind it.
    pub fn fits(&self, text: &[u8]) -> bool {
        let parts = self.parts.iter().zip(text.as_chunks().0);
        let [a, b] = parts.fold([0; 2], |[a, b], (part, bytes)| {
            let [x, y] = part.others(pair(*bytes));
            [a | x, b | y]
        });
        (a | b) & HIGH == 0 && text.len() >= self.reach && !self.parts.is_empty()
    }
}

impl Part {
    /// Sixteen bytes, of which so many count.
    fn of(bytes: [u64; 2], count: usize) -> Self {
        let first = |n: usize| u64::MAX.checked_shr(64 - 8 * n.min(8) as u32).unwrap_or(0);
        let [a, b] = bytes;
        let half = |x: u64, count: usize| {
            let counts = first(count);
            let digits = !(no_digits(x ^ ZEROS) >> 7) & ONES;
            (counts, x & !(digits * 0x0F), (digits * 0x76 + (ONES - digits) * 0x7F) & counts)
        };
        let ((m, x, p), (n, y, q)) = (half(a, count), half(b, count.saturating_sub(8)));
        Self { counts: [m, n], bytes: [x, y], above: [p, q] }
    }

    /// High bits where a byte is something else.
    fn others(&self, bytes: [u64; 2]) -> [u64; 2] {
        let ([a, b], [x, y], [m, n], [p, q]) = (bytes, self.bytes, self.counts, self.above);
        let (a, b) = ((a ^ x) & m, (b ^ y) & n);
        // A sum runs over into the byte above only from a byte whose high bit is set already.
        [a | a.wrapping_add(p), b | b.wrapping_add(q)]
    }
}

/// Two times eight bytes.
fn pair(bytes: [u8; PART]) -> [u64; 2] {
    let both = u128::from_le_bytes(bytes);
    [both as u64, (both >> 64) as u64]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn as_byte_by_byte() {
        let digit = |b: u8| if b.is_ascii_digit() { b'0' } else { b };
        let text =
            b"12.5;-3,4;/:0;\x80\xB0\xFF9;8.000;12345678901234567890;\n1;2;3;4;5;6;7;8;9;10;11;12".as_slice();
        for count in 1..60 {
            let mut form = Form::default();
            assert!(!form.fits(text));
            form.set(text, count).unwrap();
            assert!(form.fits(text));
            for at in 0..count.next_multiple_of(PART) {
                for b in 0..=255 {
                    let mut other = text.to_vec();
                    other[at] = b;
                    let same = at >= count || digit(b) == digit(text[at]);
                    assert_eq!(form.fits(&other), same, "{count} {at} {b}");
                }
            }
            assert!(!form.fits(&text[..count - 1]));
            form.clear();
            assert!(!form.fits(text));
            assert_eq!(form.set(&text[..count - 1], count), None);
            assert!(!form.fits(text));
        }
    }
}
