//! The usual row, read in one go.

use crate::cells::{behind, to_line_end};
use crate::number::TENS;
use crate::read::Log;
use crate::{Decimal, Separator};

/// What it takes to read the usual row: as many cells as there are columns (and an empty one at most), plain numbers in
/// those that are mapped.
pub(crate) struct Quick {
    separator: u8,
    sign: u8,
    /// Mapped columns as they stand in a row: separators since the one before, and index among the wanted.
    steps: Vec<(usize, usize)>,
    /// Separators behind the last of them.
    tail: usize,
    pub values: Vec<f64>,
}

impl Quick {
    pub fn new(log: &Log<'_, '_>) -> Self {
        let mut steps = Vec::with_capacity(log.wanted.len());
        let mut at = 0;
        let after = |at: usize| {
            let rest = log.wanted.iter().enumerate().map(|(i, w)| (w.index, i)).filter(|w| w.0 >= at);
            rest.reduce(|a, b| if b.0 < a.0 { b } else { a })
        };
        while let Some((index, i)) = after(if steps.is_empty() { 0 } else { at + 1 }) {
            steps.push((index - at, i));
            at = index;
        }
        Self {
            separator: log.sniffed.format.separator.byte(),
            // Between commas no comma is a decimal sign; a quotation mark, which no plain row holds, takes its place.
            sign: match (log.sniffed.format.decimal, log.sniffed.format.separator) {
                (Decimal::Point, _) => b'.',
                (Decimal::Comma, Separator::Comma) => b'"',
                (Decimal::Comma, _) => b',',
            },
            steps,
            tail: log.sniffed.names.len().saturating_sub(at + 1),
            values: vec![0.0; log.wanted.len()],
        }
    }

    /// Reads the row at the start of the text and says how long it is with its end; none for any other row.
    pub fn row(&mut self, text: &[u8]) -> Option<usize> {
        let separator = self.separator;
        // A blank or a sign of comments may begin a row that is none.
        if text.first().is_none_or(|b| b.is_ascii_whitespace() || matches!(b, b'#' | b'%' | b'/' | b';')) {
            return None;
        }
        let mut at = 0;
        for (skip, i) in &self.steps {
            let rest = text.get(at..)?;
            at += match skip {
                0 => 0,
                1 if *rest.first()? == separator => 1,
                many => behind(rest, separator, *many)?,
            };
            let (x, taken) = leading(text.get(at..)?, self.sign)?;
            at += taken;
            let ends = *text.get(at)?;
            if ends != separator && ends != b'\n' && ends != b'\r' {
                return None;
            }
            *self.values.get_mut(*i)? = x;
        }
        let rest = text.get(at..)?;
        let (separators, end) = to_line_end(rest, separator)?;
        // A separator at the end opens one more cell, which holds nothing.
        let line = rest.get(..end)?;
        let open = || line.strip_suffix(b"\r").unwrap_or(line).ends_with(&[separator]);
        (separators == self.tail || separators == self.tail + 1 && open()).then_some(at + end + 1)
    }
}

/// Whole powers of ten.
const WHOLE: [i64; 8] = [1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000];

/// A number at the start of a text, and how many bytes it takes: a minus or none, one to seven digits on either side of
/// the decimal sign. What follows is no digit and not looked at. Digits and power of ten are exact, so the one division
/// rounds as it should and the bits are those of any other way to read the cell.
#[inline]
fn leading(text: &[u8], sign: u8) -> Option<(f64, usize)> {
    let minus = usize::from(*text.first()? == b'-');
    let body = text.get(minus..)?;
    let (whole, before) = digits(body)?;
    let (mut number, mut taken, mut tens) = (whole, before, 1.0);
    if *body.get(before)? == sign {
        let (part, after) = digits(body.get(before + 1..)?)?;
        number = whole * WHOLE.get(after)? + part;
        tens = *TENS.get(after)?;
        taken += 1 + after;
    }
    let size = number as f64 / tens;
    Some((if minus == 0 { size } else { -size }, minus + taken))
}

/// One to seven digits at the start of a text, and how many. All at once: each byte beside the one above it, then each
/// pair, then each four.
#[inline]
fn digits(text: &[u8]) -> Option<(i64, usize)> {
    let x = u64::from_le_bytes(*text.first_chunk()?) ^ 0x3030_3030_3030_3030;
    // The high bit of each byte that is no digit.
    let others = (((x & 0x7F7F_7F7F_7F7F_7F7F) + 0x7676_7676_7676_7676) | x) & 0x8080_8080_8080_8080;
    let count = others.trailing_zeros() / 8;
    if count == 0 || count == 8 {
        return None;
    }
    // Units last, zeros before the first digit.
    let x = x << (64 - 8 * count);
    let x = (x & 0x00FF_00FF_00FF_00FF) * 10 + ((x >> 8) & 0x00FF_00FF_00FF_00FF);
    let x = (x & 0x0000_FFFF_0000_FFFF) * 100 + ((x >> 16) & 0x0000_FFFF_0000_FFFF);
    let x = (x & 0xFFFF_FFFF) * 10_000 + (x >> 32);
    Some((x as i64, count as usize))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::number::invented;

    #[test]
    fn leading_numbers_have_the_bits_of_the_library() {
        let mut known = 0;
        for text in invented(40_000) {
            for (sign, text) in [(b'.', text.clone()), (b',', text.replace('.', ","))] {
                for behind in [";12345678", "\n12345678", " .-; 5678"] {
                    let Some((x, taken)) = leading((text.clone() + behind).as_bytes(), sign) else {
                        continue;
                    };
                    assert_eq!(taken, text.len(), "{text}");
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
            assert_eq!(leading(odd.as_bytes(), b'.'), None, "{odd}");
        }
    }
}
