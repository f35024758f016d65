//! Where the numbers of a row stand, and how to read them there.

use fairpull_units::Unit;

use crate::Decimal;
use crate::number::{TENS, short};
use crate::swar::{ZEROS, no_digits};

/// Where a number stands and how it is written.
#[derive(Clone, Copy)]
pub(crate) struct Place {
    way: Way,
    /// Offset of the digits before the decimal sign and how far they are to be moved,
    before: (usize, u32),
    /// and of those behind it.
    after: (usize, u32),
    /// What the number is to be divided by.
    tens: f64,
    /// The bit of the sign.
    minus: u64,
}

/// How the digits of a number are put together.
#[derive(Clone, Copy)]
enum Way {
    /// All in eight bytes, those before the decimal sign moved down by so much.
    Joined(u32),
    /// Those before the decimal sign times so much, and those behind it.
    Apart(u64),
    /// One after the other, so many bytes.
    Long(usize, Decimal),
}

impl Place {
    /// The number at an offset, and where it ends: a minus or none, digits, with a decimal sign between them at most.
    /// What follows is no digit and not looked at.
    pub fn find(text: &[u8], at: usize, (sign, decimal): (u8, Decimal)) -> Option<(Self, usize)> {
        let minus = *text.get(at)? == b'-';
        let at = at + usize::from(minus);
        let before = count(text, at)?;
        let (mut end, mut after) = (at + before, 0);
        if *text.get(end)? == sign {
            after = count(text, end + 1)?;
            end += 1 + after;
        }
        let tens = TENS.get(after).copied()?;
        let way = match (before + after, before, after) {
            (..=8, ..=7, ..=7) => Way::Joined(8 * after as u32),
            (_, ..=7, ..=7) => Way::Apart(tens as u64),
            (..=15, ..) => Way::Long(end - at, decimal),
            _ => return None,
        };
        let long = matches!(way, Way::Long(..));
        let moved = |at: usize, count: usize| (at, 56 - 8 * count.min(7) as u32);
        let place = Self {
            way,
            before: moved(at, before),
            after: moved(end - after, after),
            tens: if long { 1.0 } else { tens },
            minus: u64::from(minus) << 63,
        };
        Some((place, end))
    }

    /// The number in the row that starts at an offset. Digits and power of ten are exact, so that the one division rounds
    /// as it should and the bits are those of any other way to read the cell.
    pub fn number(&self, text: &[u8], row: usize) -> f64 {
        self.undivided(text, row) / self.tens
    }

    /// The numbers in the rows that start at these offsets, in SI.
    pub fn column(&self, text: &[u8], rows: &[usize], unit: &Unit, values: &mut Vec<f64>) {
        // Copies, which nothing written here could change.
        let (place, unit, before) = (*self, *unit, values.len());
        let rows = rows.iter();
        // The commonest way in a loop of its own.
        match place.way {
            Way::Joined(room) => {
                values.extend(rows.map(|row| place.signed(place.joined(text, *row, room))));
            }
            _ => values.extend(rows.map(|row| place.undivided(text, *row))),
        }
        for x in values.get_mut(before..).unwrap_or_default() {
            *x = unit.to_si(*x / place.tens);
        }
    }

    fn undivided(&self, text: &[u8], row: usize) -> f64 {
        self.signed(match self.way {
            Way::Joined(room) => self.joined(text, row, room),
            Way::Apart(tens) => {
                let [before, after] = self.parts(text, row);
                (digits(before) * tens + digits(after)) as i64 as f64
            }
            Way::Long(bytes, decimal) => {
                let start = row + self.before.0;
                text.get(start..start + bytes).and_then(|cell| short(cell, decimal)).unwrap_or(f64::NAN)
            }
        })
    }

    fn signed(&self, size: f64) -> f64 {
        f64::from_bits(size.to_bits() ^ self.minus)
    }

    #[inline]
    fn joined(&self, text: &[u8], row: usize, room: u32) -> f64 {
        let [before, after] = self.parts(text, row);
        digits(before >> room | after) as i64 as f64
    }

    /// The digits before the decimal sign and behind it, the last of each in the highest byte.
    #[inline]
    fn parts(&self, text: &[u8], row: usize) -> [u64; 2] {
        let part = |(at, moved): (usize, u32)| eight(text, row + at).unwrap_or(0) << moved << 8;
        [part(self.before), part(self.after)]
    }
}

/// Eight bytes from an offset on, digits as numbers.
#[inline]
fn eight(text: &[u8], at: usize) -> Option<u64> {
    Some(u64::from_le_bytes(*text.get(at..)?.first_chunk()?) ^ ZEROS)
}

/// Number of digits, one to fifteen.
fn count(text: &[u8], at: usize) -> Option<usize> {
    let count = |at: usize| Some(no_digits(eight(text, at)?).trailing_zeros() as usize / 8);
    match count(at)? {
        0 => None,
        8 => Some(8 + count(at + 8)?).filter(|n| *n < 16),
        some => Some(some),
    }
}

/// The number that eight digits make, the last of which is the highest byte: each with the one above it, then each
/// pair, then each four.
#[inline]
fn digits(x: u64) -> u64 {
    let x = (x.wrapping_mul(10 << 8 | 1) >> 8) & 0x00FF_00FF_00FF_00FF;
    let x = (x.wrapping_mul(100 << 16 | 1) >> 16) & 0x0000_FFFF_0000_FFFF;
    x.wrapping_mul(10_000 << 32 | 1) >> 32
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::number::invented;

    fn leading(text: &str, decimal: Decimal) -> Option<(f64, usize)> {
        let sign = if decimal == Decimal::Point { b'.' } else { b',' };
        let (place, end) = Place::find(text.as_bytes(), 0, (sign, decimal))?;
        Some((place.number(text.as_bytes(), 0), end))
    }

    #[test]
    fn leading_numbers_have_the_bits_of_the_library() {
        let mut known = 0;
        for text in invented(40_000) {
            for (decimal, text) in [(Decimal::Point, text.clone()), (Decimal::Comma, text.replace('.', ","))]
            {
                for behind in [";1234567890123456", "\n1234567890123456", " .-; 567890123456"] {
                    let Some((x, end)) = leading(&(text.clone() + behind), decimal) else {
                        continue;
                    };
                    assert_eq!(end, text.len(), "{text}");
                    let library = text.replace(',', ".").parse::<f64>().unwrap();
                    assert_eq!(x.to_bits(), library.to_bits(), "{text}");
                    known += 1;
                }
            }
        }
        assert!(known > 150_000, "{known}");
        for odd in [
            "",
            "-",
            ".",
            "5.;234567",
            ".5;234567",
            "-;2345678",
            ";12345678",
            "1234567890123456;2345678",
            "12345678.90123456;2345678",
            "1.2345678901234567;2345678",
            "12;4567",
        ] {
            assert_eq!(leading(odd, Decimal::Point), None, "{odd}");
        }
    }
}
