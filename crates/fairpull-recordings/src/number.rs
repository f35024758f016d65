//! Cells to numbers.

use fairpull_units::Unit;

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
    // The common case first: plain ASCII number.
    if decimal == Decimal::Point
        && let Ok(x) = fast_float2::parse::<f64, _>(cell)
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
    let lower = text.to_lowercase();
    if NO_VALUE.contains(&lower.as_str()) {
        return Cell::NoValue;
    }
    grouped(&text, decimal).or_else(|| with_unit(&text, decimal, unit)).map_or(Cell::Bad, Cell::Number)
}

/// Sign, digits, decimal sign, exponent; nothing else.
fn plain(cell: &[u8], decimal: Decimal) -> Option<f64> {
    match decimal {
        Decimal::Point => fast_float2::parse(cell).ok(),
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
            fast_float2::parse(&*copy).ok()
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

/// True for a cell that looks like a number or a clock time under either decimal sign.
pub(crate) fn numberish(cell: &[u8]) -> bool {
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

/// True for an empty cell or a word for "no value".
pub(crate) fn neutral(cell: &[u8]) -> bool {
    matches!(read(cell, Decimal::Point, None), Cell::Empty | Cell::NoValue)
}
