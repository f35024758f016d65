//! Cells to numbers.

use fairpull_units::{Unit, decimal as decimal_number};

use crate::{Decimal, clock};

/// What a cell holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Cell {
    /// A finite number as written.
    Number(f64),
    /// Nothing but blanks.
    Empty,
    /// A word for "no value", or NaN or infinity.
    NoValue,
    /// Anything else.
    Bad,
}

/// Words loggers write where there is no value.
const NO_VALUE: [&str; 22] = [
    "nan",
    "-nan",
    "+nan",
    "inf",
    "-inf",
    "+inf",
    "infinity",
    "-infinity",
    "∞",
    "-∞",
    "n/a",
    "#n/a",
    "na",
    "null",
    "none",
    "nil",
    "-",
    "--",
    "---",
    "----",
    "1.#inf",
    "1.#qnan",
];

/// Without blanks at the ends (no-break spaces included).
pub(crate) fn trim(mut cell: &[u8]) -> &[u8] {
    loop {
        let next = cell.trim_ascii();
        let next = next.strip_prefix(b"\xC2\xA0").unwrap_or(next);
        let next = next.strip_suffix(b"\xC2\xA0").unwrap_or(next);
        if next.len() == cell.len() {
            return next;
        }
        cell = next;
    }
}

/// Reads a cell; a unit written behind the number must be the one of the column.
pub(crate) fn read(cell: &[u8], decimal: Decimal, unit: Option<&'static Unit>) -> Cell {
    // The common cases first.
    if let Some(x) = short(cell, decimal) {
        return Cell::Number(x);
    }
    if decimal == Decimal::Point
        && let Some(x) = decimal_number(cell)
    {
        return if x.is_finite() { Cell::Number(x) } else { Cell::NoValue };
    }
    let cell = trim(cell);
    if cell.is_empty() {
        return Cell::Empty;
    }
    if let Some(x) = plain(cell, decimal) {
        return if x.is_finite() { Cell::Number(x) } else { Cell::NoValue };
    }
    let text = String::from_utf8_lossy(cell);
    let lower = crate::case::lower(&text);
    if NO_VALUE.contains(&lower.as_str()) {
        return Cell::NoValue;
    }
    grouped(&text, decimal).or_else(|| with_unit(&text, decimal, unit)).map_or(Cell::Bad, Cell::Number)
}

/// Powers of ten that are exact.
pub(crate) const TENS: [f64; 16] =
    [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];

/// Up to 15 digits with a decimal sign between them at most. Digits and power of ten are then exact, so that the one
/// division rounds as it should (Clinger, "How to read floating point numbers accurately", 1990): the bits are those
/// of any correct reader.
pub(crate) fn short(cell: &[u8], decimal: Decimal) -> Option<f64> {
    let sign = match decimal {
        Decimal::Point => b'.',
        Decimal::Comma => b',',
    };
    let body = if let [b'-', rest @ ..] = cell { rest } else { cell };
    if body.len() > 16 || !body.first()?.is_ascii_digit() || !body.last()?.is_ascii_digit() {
        return None;
    }
    let (mut digits, mut before) = (0_u64, body.len());
    for (i, b) in body.iter().enumerate() {
        let digit = b.wrapping_sub(b'0');
        if digit < 10 {
            digits = 10 * digits + u64::from(digit);
        } else if *b == sign && before == body.len() {
            before = i;
        } else {
            return None;
        }
    }
    let after = (body.len() - before).saturating_sub(1);
    if digits > 999_999_999_999_999 {
        return None;
    }
    let size = digits as f64 / TENS.get(after)?;
    Some(if body.len() == cell.len() { size } else { -size })
}

/// Sign, digits, decimal sign, exponent; nothing else.
fn plain(cell: &[u8], decimal: Decimal) -> Option<f64> {
    match decimal {
        Decimal::Point => decimal_number(cell),
        Decimal::Comma => {
            let mut text = [0_u8; 48];
            let copy = text.get_mut(..cell.len())?;
            copy.copy_from_slice(cell);
            for b in copy.iter_mut() {
                match *b {
                    b',' => *b = b'.',
                    // A point under a decimal comma groups thousands: left to the careful reader.
                    b'.' => return None,
                    _ => {}
                }
            }
            decimal_number(copy)
        }
    }
}

/// Thousands in groups of three, Unicode minus.
fn grouped(text: &str, decimal: Decimal) -> Option<f64> {
    let blank = |c: char| matches!(c, ' ' | '\u{A0}' | '\u{2009}' | '\u{202F}');
    // Blanks between digits group thousands as well: 12 345,6.
    let mut joined = String::new();
    let mut groups = text.split(blank).peekable();
    let first = groups.next()?;
    joined.push_str(first);
    if groups.peek().is_some()
        && !first.trim_start_matches(['-', '+', '−']).chars().all(|c| c.is_ascii_digit())
    {
        return None;
    }
    while let Some(g) = groups.next() {
        let digits = g.chars().take_while(char::is_ascii_digit).count();
        if digits != 3 || (groups.peek().is_some() && g.len() != 3) {
            return None;
        }
        joined.push_str(g);
    }
    let sign = match decimal {
        Decimal::Point => fairpull_units::Decimal::Point,
        Decimal::Comma => fairpull_units::Decimal::Comma,
    };
    fairpull_units::number(&joined, sign).ok()
}

/// A number followed by the unit of the column.
fn with_unit(text: &str, decimal: Decimal, unit: Option<&'static Unit>) -> Option<f64> {
    let unit = unit.filter(|_| text.len() <= 64)?;
    let end = text.rfind(|c: char| c.is_ascii_digit())? + 1;
    // Units may end in a digit (inH2O); try the longest number first.
    let mut ends = text.char_indices().map(|(i, _)| i).filter(|i| (1..=end).contains(i)).collect::<Vec<_>>();
    ends.push(end);
    ends.into_iter().rev().find_map(|i| {
        let (number, word) = (text.get(..i)?.trim(), text.get(i..)?.trim());
        let found = Unit::find_in(word, unit.dimension())?;
        let same = found.factor() == unit.factor() && found.offset() == unit.offset();
        if same { plain(number.as_bytes(), decimal).filter(|x| x.is_finite()) } else { None }
    })
}

/// What a cell is while separator and decimal sign are still open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A number or a clock time under either decimal sign.
    Number,
    /// Empty, or a word for "no value".
    Neutral,
    Other,
}

/// What a cell is that does not tell by its form.
pub(crate) fn kind(cell: &[u8]) -> Kind {
    if numberish(cell) {
        Kind::Number
    } else if matches!(read(cell, Decimal::Point, None), Cell::Empty | Cell::NoValue) {
        Kind::Neutral
    } else {
        Kind::Other
    }
}

/// What the form of a cell says, whatever its digits are; most cells of a log need no more.
pub(crate) fn by_form(cell: &[u8]) -> Option<Kind> {
    let body = if let [b'-', rest @ ..] = cell { rest } else { cell };
    let (mut points, mut commas, mut foreign, mut other) = (0_u32, 0_u32, false, false);
    for b in body.trim_ascii() {
        match b {
            b'0'..=b'9' => {}
            b'.' => points += 1,
            b',' => commas += 1,
            // A separator that is not the one being tried: in no number, unit or word for "no value".
            b';' | b'|' => foreign = true,
            b':' => return None,
            _ => other = true,
        }
    }
    let ends = [body.first(), body.last()].into_iter().all(|b| b.is_some_and(u8::is_ascii_digit));
    if ends && body.len() <= 40 && points + commas <= 1 && !foreign && !other {
        return Some(Kind::Number);
    }
    // Only one of the two signs can group thousands.
    (foreign || points > 1 && commas > 1 && !other).then_some(Kind::Other)
}

/// True for a cell that looks like a number or a clock time under either decimal sign.
fn numberish(cell: &[u8]) -> bool {
    let number = |c: &[u8]| {
        [Decimal::Point, Decimal::Comma].into_iter().any(|d| matches!(read(c, d, None), Cell::Number(_)))
    };
    number(cell) || clock::seconds(cell).is_some() || unit_behind(trim(cell)).is_some_and(|(n, _)| number(n))
}

/// A number and the unit written behind it (`12,5 km/h`); no unit, no answer.
pub(crate) fn unit_behind(cell: &[u8]) -> Option<(&[u8], &'static Unit)> {
    let digit = |b: &u8| b.is_ascii_digit() || matches!(b, b'+' | b'-' | b'.' | b',' | b'\'');
    let n = cell.iter().position(|b| !digit(b))?;
    let (number, word) = cell.split_at_checked(n)?;
    if word.len() > 24 || !number.iter().any(u8::is_ascii_digit) {
        return None;
    }
    Some((number, Unit::find(core::str::from_utf8(word).ok()?.trim())?))
}

/// Numbers of up to 17 digits, some with a point and a minus.
#[cfg(test)]
pub(crate) fn invented(count: usize) -> impl Iterator<Item = String> {
    let mut state = 0x9E37_79B9_7F4A_7C15_u64;
    (0..count).map(move |i| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let (digits, length) = ((state >> 8).to_string(), 1 + (i % 17));
        let mut text = digits.get(..length.min(digits.len())).unwrap_or("0").to_owned();
        let at = (state % 20) as usize;
        if at < text.len() {
            text.insert(at, '.');
        }
        if state & 1 == 0 {
            text.insert(0, '-');
        }
        text
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn short_numbers_have_the_bits_of_the_library() {
        let mut known = 0;
        for text in invented(40_000) {
            for (decimal, text) in [(Decimal::Point, text.clone()), (Decimal::Comma, text.replace('.', ","))]
            {
                if let Some(x) = short(text.as_bytes(), decimal) {
                    let library = text.replace(',', ".").parse::<f64>().unwrap();
                    assert_eq!(x.to_bits(), library.to_bits(), "{text}");
                    known += 1;
                }
            }
        }
        assert!(known > 30_000, "{known}");
        for odd in ["", "-", ".", "5.", ".5", "1.2.3", "1,5", "+1", "1e3", " 1", "12345678901234567"] {
            assert_eq!(short(odd.as_bytes(), Decimal::Point), None, "{odd}");
        }
    }
}
