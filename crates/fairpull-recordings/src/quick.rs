//! The usual row, read in one go.

use crate::cells::{behind, to_line_end};
use crate::form::Form;
use crate::number::TENS;
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
    sign: u8,
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
        Self {
            separator: log.sniffed.format.separator.byte(),
            // Between commas no comma is a decimal sign; a quotation mark, which no plain row holds, takes its place.
            sign: match (log.sniffed.format.decimal, log.sniffed.format.separator) {
                (Decimal::Point, _) => b'.',
                (Decimal::Comma, Separator::Comma) => b'"',
                (Decimal::Comma, _) => b',',
            },
            columns: log.sniffed.names.len(),
            wanted: log.wanted,
            steps,
            form: Form::default(),
            places: log.wanted.iter().map(|_| Place::of((0, 0), (0, 0), false)).collect(),
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
            let before = values.len();
            // Copies, which nothing written here could change.
            let (place, tens, unit) = (*place, place.tens.1, *w.unit);
            values.extend(self.starts.iter().map(|row| place.number(text, *row)));
            for x in values.get_mut(before..).unwrap_or_default() {
                *x = unit.to_si(*x / tens);
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
#[derive(Clone, Copy)]
struct Place {
    /// Offset of the digits before the decimal sign and how far they are to be moved,
    before: (usize, u32),
    /// and of those behind it,
    after: (usize, u32),
    /// and a one with as many zeros.
    tens: (u64, f64),
    /// How far those before have to make room for those behind, where all of them fit into eight bytes.
    room: Option<u32>,
    /// The bit of the sign.
    minus: u64,
}

impl Place {
    /// Offset and number of the digits, up to seven, before and behind the decimal sign.
    fn of(before: (usize, usize), after: (usize, usize), minus: bool) -> Self {
        let moved = |(at, count): (usize, usize)| (at, 56 - 8 * count.min(7) as u32);
        let tens = TENS.get(after.1).copied().unwrap_or(1.0);
        Self {
            before: moved(before),
            after: moved(after),
            tens: (tens as u64, tens),
            room: (before.1 + after.1 <= 8).then_some(8 * after.1 as u32),
            minus: u64::from(minus) << 63,
        }
    }

    /// The number at an offset, and where it ends: a minus or none, one to seven digits on either side of the decimal
    /// sign. What follows is no digit and not looked at.
    fn find(text: &[u8], at: usize, sign: u8) -> Option<(Self, usize)> {
        let minus = *text.get(at)? == b'-';
        let at = at + usize::from(minus);
        let before = count(text, at)?;
        let end = at + before;
        if *text.get(end)? != sign {
            return Some((Self::of((at, before), (at, 0), minus), end));
        }
        let after = count(text, end + 1)?;
        Some((Self::of((at, before), (end + 1, after), minus), end + 1 + after))
    }

    /// The number in the row that starts at an offset, without regard to its decimal sign. Digits and power of ten are
    /// exact, so that one division rounds as it should and the bits are those of any other way to read the cell.
    #[inline]
    fn number(&self, text: &[u8], row: usize) -> f64 {
        let moved = |(at, moved): (usize, u32)| eight(text, row + at).unwrap_or(0) << moved << 8;
        let (before, after) = (moved(self.before), moved(self.after));
        let number = match self.room {
            Some(room) => digits(before >> room | after),
            None => digits(before) * self.tens.0 + digits(after),
        };
        f64::from_bits((number as i64 as f64).to_bits() ^ self.minus)
    }
}

/// Eight bytes from an offset on, digits as numbers.
#[inline]
fn eight(text: &[u8], at: usize) -> Option<u64> {
    Some(u64::from_le_bytes(*text.get(at..)?.first_chunk()?) ^ ZEROS)
}

/// Number of digits, one to seven.
fn count(text: &[u8], at: usize) -> Option<usize> {
    let count = no_digits(eight(text, at)?).trailing_zeros() as usize / 8;
    (1..8).contains(&count).then_some(count)
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

    fn leading(text: &str, sign: u8) -> Option<(f64, usize)> {
        let (place, end) = Place::find(text.as_bytes(), 0, sign)?;
        Some((place.number(text.as_bytes(), 0) / place.tens.1, end))
    }

    #[test]
    fn leading_numbers_have_the_bits_of_the_library() {
        let mut known = 0;
        for text in invented(40_000) {
            for (sign, text) in [(b'.', text.clone()), (b',', text.replace('.', ","))] {
                for behind in [";12345678", "\n12345678", " .-; 5678"] {
                    let Some((x, end)) = leading(&(text.clone() + behind), sign) else {
                        continue;
                    };
                    assert_eq!(end, text.len(), "{text}");
                    let library = text.replace(',', ".").parse::<f64>().unwrap();
                    assert_eq!(x.to_bits(), library.to_bits(), "{text}");
                    known += 1;
                }
            }
        }
        assert!(known > 60_000, "{known}");
        for odd in [
            "",
            "-",
            ".",
            "5.;234567",
            ".5;234567",
            "-;2345678",
            ";12345678",
            "12345678;2345678",
            "1.23456789;2345678",
            "12;4567",
        ] {
            assert_eq!(leading(odd, b'.'), None, "{odd}");
        }
    }
}
