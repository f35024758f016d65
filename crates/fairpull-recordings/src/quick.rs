//! The usual row, read in one go.

use crate::cells::{behind, to_line_end};
use crate::form::Form;
use crate::number::{TENS, short};
use crate::read::Log;
use crate::resolve::Wanted;
use crate::swar::{ZEROS, no_digits};
use crate::{Decimal, Separator};

/// Rows read together.
const ROWS: usize = 128;

/// What it takes to read the usual row: as many cells as there are columns (and an empty one at most), plain numbers in
/// those that are mapped.
///
/// The numbers of a row mostly stand where those of the row before stood. Such rows are gathered and then read column by
/// column.
pub(crate) struct Quick<'l> {
    separator: u8,
    /// The decimal sign.
    sign: (u8, Decimal),
    columns: usize,
    wanted: &'l [Wanted],
    /// Mapped columns as they stand in a row: separators since the one before, and index among the wanted.
    steps: Vec<(usize, usize)>,
    /// The text up to the end of the last mapped cell, as it was found last,
    form: Form,
    /// and where the numbers of the wanted columns stand in it.
    places: Vec<Place>,
    /// Bytes up to the end of the last of them, and seven more, so that eight can be read from any place.
    reach: usize,
    /// Where the rows of this form start that are not read yet.
    starts: Vec<usize>,
}

impl<'l> Quick<'l> {
    pub fn new(log: &Log<'l, '_>) -> Self {
        let mut order: Vec<(usize, usize)> =
            log.wanted.iter().enumerate().map(|(i, w)| (w.index, i)).collect();
        order.sort_unstable();
        let mut at = 0;
        let steps =
            order.into_iter().map(|(index, i)| (index - core::mem::replace(&mut at, index), i)).collect();
        // Between commas no comma is a decimal sign; a quotation mark, which no plain row holds, takes its place.
        let sign = match (log.sniffed.format.decimal, log.sniffed.format.separator) {
            (Decimal::Point, _) => b'.',
            (Decimal::Comma, Separator::Comma) => b'"',
            (Decimal::Comma, _) => b',',
        };
        Self {
            separator: log.sniffed.format.separator.byte(),
            sign: (sign, log.sniffed.format.decimal),
            columns: log.sniffed.names.len(),
            wanted: log.wanted,
            steps,
            form: Form::default(),
            places: vec![Place::default(); log.wanted.len()],
            reach: 0,
            starts: Vec::with_capacity(ROWS),
        }
    }

    /// Reads the usual rows at the start of the text, up to the first other one. How many there are, and bytes in them.
    pub fn rows(&mut self, text: &[u8], columns: &mut [Vec<f64>]) -> (usize, usize) {
        let (mut rows, mut at) = (0, 0);
        while let Some(row) = text.get(at..)
            && let Some(length) = self.length(row)
        {
            let fits = row.len() >= self.reach && self.form.fits(row);
            if !fits || self.starts.len() == ROWS {
                self.read(text, columns);
            }
            if !fits && self.find(row).is_none() {
                break;
            }
            self.starts.push(at);
            rows += 1;
            at += length;
        }
        self.read(text, columns);
        (rows, at)
    }

    /// Bytes of the row at the start of the text, if it has as many cells as it should.
    fn length(&self, text: &[u8]) -> Option<usize> {
        let (separators, end) = to_line_end(text, self.separator)?;
        // A separator at the end opens one more cell, which holds nothing.
        let open = || {
            let line = text.get(..end).unwrap_or(&[]);
            line.strip_suffix(b"\r").unwrap_or(line).ends_with(&[self.separator])
        };
        let usual = separators + 1 == self.columns || separators == self.columns && open();
        usual.then_some(end + 1)
    }

    /// Reads the rows gathered.
    fn read(&mut self, text: &[u8], columns: &mut [Vec<f64>]) {
        for ((place, values), w) in self.places.iter().zip(columns).zip(self.wanted) {
            if let [row] = self.starts.as_slice() {
                values.push(w.unit.to_si(place.number(text, *row) / place.tens));
                continue;
            }
            // Copies, which nothing written here could change.
            let (place, unit, before) = (*place, *w.unit, values.len());
            values.extend(self.starts.iter().map(|row| place.number(text, *row)));
            for x in values.get_mut(before..).unwrap_or_default() {
                *x = unit.to_si(*x / place.tens);
            }
        }
        self.starts.clear();
    }

    /// Finds where the numbers stand.
    fn find(&mut self, text: &[u8]) -> Option<()> {
        self.form.clear();
        // A blank or a sign of comments may begin a row that is none.
        if text.first().is_none_or(|b| b.is_ascii_whitespace() || matches!(b, b'#' | b'%' | b'/' | b';')) {
            return None;
        }
        let mut at = 0;
        for (skip, i) in &self.steps {
            let rest = text.get(at..)?;
            at += match skip {
                0 => 0,
                1 if *rest.first()? == self.separator => 1,
                many => behind(rest, self.separator, *many)?,
            };
            let (place, end) = Place::find(text, at, self.sign)?;
            let ends = *text.get(end)?;
            if ends != self.separator && ends != b'\n' && ends != b'\r' {
                return None;
            }
            *self.places.get_mut(*i)? = place;
            at = end;
        }
        self.reach = at + 8;
        text.get(..self.reach).and_then(|_| self.form.set(text, at + 1))
    }
}

/// Where a number stands and how it is written.
#[derive(Clone, Copy, Default)]
struct Place {
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

impl Default for Way {
    fn default() -> Self {
        Self::Joined(0)
    }
}

impl Place {
    /// The number at an offset, and where it ends: a minus or none, digits, with a decimal sign between them at most.
    /// What follows is no digit and not looked at.
    fn find(text: &[u8], at: usize, (sign, decimal): (u8, Decimal)) -> Option<(Self, usize)> {
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

    /// The number in the row that starts at an offset, still to be divided. Digits and power of ten are exact, so that
    /// one division rounds as it should and the bits are those of any other way to read the cell.
    #[inline]
    fn number(&self, text: &[u8], row: usize) -> f64 {
        let moved = |(at, moved): (usize, u32)| eight(text, row + at).unwrap_or(0) << moved << 8;
        let (before, after) = (moved(self.before), moved(self.after));
        let size = match self.way {
            Way::Joined(room) => digits(before >> room | after) as i64 as f64,
            Way::Apart(tens) => (digits(before) * tens + digits(after)) as i64 as f64,
            Way::Long(bytes, decimal) => {
                let start = row + self.before.0;
                text.get(start..start + bytes).and_then(|cell| short(cell, decimal)).unwrap_or(f64::NAN)
            }
        };
        f64::from_bits(size.to_bits() ^ self.minus)
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
        Some((place.number(text.as_bytes(), 0) / place.tens, end))
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
