//! Numbers as people and loggers write them: decimal point or comma, grouped thousands, exponent, Unicode minus.

use alloc::string::String;

/// Which sign is the decimal sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Decimal {
    /// The full stop; commas group thousands.
    Point,
    /// The comma; full stops group thousands.
    Comma,
    /// Read both where only one reading is possible; refuse `1,234`.
    #[default]
    Either,
}

/// Why a number could not be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum NumberError {
    /// There is no digit where the number should be.
    #[error("no number found; write digits such as 12.5")]
    Missing,
    /// Could be a decimal comma or grouped thousands.
    #[error("the comma can be a decimal comma or group thousands; write 1234 or 1.234 with a point")]
    Ambiguous,
    /// Separators in impossible places.
    #[error(
        "decimal and thousands separators do not form a number; write it with one decimal sign and no grouping"
    )]
    Malformed,
    /// Too large for a number.
    #[error("too large to be a number here")]
    NotFinite,
}

const fn separator(c: char) -> bool {
    matches!(c, '.' | ',' | '\'' | '’')
}

/// Length in bytes of the number at the head of `text` (already without leading blanks): sign, digits with
/// separators, exponent.
pub(crate) fn extent(text: &str) -> usize {
    let body = text.trim_start_matches(['+', '-', '−', '–']);
    let sign = text.len() - body.len();
    let digits = body.find(|c: char| !c.is_ascii_digit() && !separator(c)).unwrap_or(body.len());
    // An apostrophe or a quote after the last digit is feet or inches, not a separator.
    let head = body.get(..digits).unwrap_or("");
    let digits = head.trim_end_matches(['\'', '’']).len();
    let rest = body.get(digits..).unwrap_or("");
    let mut after = rest.strip_prefix(['e', 'E']).unwrap_or("");
    after = after.strip_prefix(['+', '-', '−']).unwrap_or(after);
    let power = after.find(|c: char| !c.is_ascii_digit()).unwrap_or(after.len());
    let exponent = if digits > 0 && power > 0 { rest.len() - after.len() + power } else { 0 };
    sign + digits + exponent
}

/// Reads a bare number.
///
/// # Errors
/// [`NumberError`] when it is no number, is ambiguous, or too large.
///
/// ```
/// use fairpull_units::{Decimal, NumberError, number};
/// assert_eq!(number("1,5", Decimal::Either), Ok(1.5));
/// assert_eq!(number("1.234,5", Decimal::Either), Ok(1234.5));
/// assert_eq!(number("−3e2", Decimal::Either), Ok(-300.0));
/// assert_eq!(number("1,234", Decimal::Either), Err(NumberError::Ambiguous));
/// assert_eq!(number("1,234", Decimal::Comma), Ok(1.234));
/// ```
pub fn number(text: &str, decimal: Decimal) -> Result<f64, NumberError> {
    let text = text.trim();
    if !text.contains(|c: char| c.is_ascii_digit()) || extent(text) == 0 {
        return Err(NumberError::Missing);
    }
    if extent(text) != text.len() {
        return Err(NumberError::Malformed);
    }
    let body = text.trim_start_matches(['+', '-', '−', '–']);
    let signs = text.get(..text.len() - body.len()).unwrap_or("");
    if signs.chars().count() > 1 {
        return Err(NumberError::Malformed);
    }
    let (mantissa, exponent) = body.split_at(body.find(['e', 'E']).unwrap_or(body.len()));
    let mark = decimal_mark(mantissa, decimal)?;
    let mut plain = String::with_capacity(text.len());
    if !signs.is_empty() && signs != "+" {
        plain.push('-');
    }
    for (i, c) in mantissa.char_indices() {
        if Some(i) == mark {
            plain.push('.');
        } else if !separator(c) {
            plain.push(c);
        }
    }
    plain.extend(exponent.chars().map(|c| if c == '−' { '-' } else { c }));
    match crate::decimal(plain.as_bytes()) {
        Some(v) if v.is_finite() => Ok(v),
        Some(_) => Err(NumberError::NotFinite),
        None => Err(NumberError::Malformed),
    }
}

/// Byte position of the decimal sign, if there is one; every other separator must group thousands.
fn decimal_mark(mantissa: &str, decimal: Decimal) -> Result<Option<usize>, NumberError> {
    let count = |c: char| mantissa.matches(c).count();
    let last = |c: char| mantissa.rfind(c);
    let mark = match (decimal, count('.'), count(',')) {
        (Decimal::Point, _, _) => last('.'),
        (Decimal::Comma, _, _) => last(','),
        (Decimal::Either, 1, 0) => last('.'),
        (Decimal::Either, 0, 1) => {
            if grouped(mantissa) && !mantissa.starts_with('0') {
                return Err(NumberError::Ambiguous);
            }
            last(',')
        }
        (Decimal::Either, points, commas) if points > 0 && commas > 0 => last('.').max(last(',')),
        (Decimal::Either, _, _) => None,
    };
    let whole = mark.map_or(mantissa, |m| mantissa.get(..m).unwrap_or(""));
    let fraction = mark.map_or("", |m| mantissa.get(m + 1..).unwrap_or(""));
    let one_kind = {
        let mut kinds = whole.chars().filter(|c| separator(*c));
        let first = kinds.next();
        kinds.all(|c| Some(c) == first)
            && first.is_none_or(|f| mark.and_then(|m| mantissa.get(m..)?.chars().next()) != Some(f))
    };
    if !one_kind || fraction.contains(separator) || (whole.contains(separator) && !grouped(whole)) {
        return Err(NumberError::Malformed);
    }
    Ok(mark)
}

/// `1,234,567`: a group of one to three digits, then groups of exactly three.
fn grouped(text: &str) -> bool {
    let mut groups = text.split(separator);
    let head = groups.next().is_some_and(|g| (1..=3).contains(&g.len()));
    head && groups.all(|g| g.len() == 3)
}
