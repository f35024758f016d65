//! Quantities to text.

use crate::unit::Unit;
use alloc::format;
use alloc::string::String;

/// How many digits are printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Digits {
    /// Digits after the decimal sign.
    Decimals(u8),
    /// Significant digits (0 counts as 1).
    Significant(u8),
    /// As many as are needed to read the same number back.
    Shortest,
}

/// Decimal sign of printed numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Sign {
    /// 12.5
    #[default]
    Point,
    /// 12,5
    Comma,
}

/// An SI value in a unit, with a decimal point: `221.0 kW`.
///
/// Read back with [`crate::parse_as`], a value printed with [`Digits::Shortest`] returns within 1e-12 relative.
///
/// ```
/// use fairpull_units::{Digits, Unit, show};
/// assert_eq!(show(389_814.3375, Unit::find("PS").unwrap(), Digits::Decimals(1)), "530.0 PS");
/// ```
#[must_use]
pub fn show(si: f64, unit: &Unit, digits: Digits) -> String {
    show_signed(si, unit, digits, Sign::Point)
}

/// As [`show`], with the decimal sign asked for. Read a comma back with [`crate::parse_with`] and
/// [`crate::Decimal::Comma`]: `1,234 kW` alone is ambiguous.
#[must_use]
pub fn show_signed(si: f64, unit: &Unit, digits: Digits, sign: Sign) -> String {
    with_unit(localised(digits_of(unit.from_si(si), digits), sign), unit)
}

/// An SI value with its interval: `221.3 ± 4.1 kW`.
///
/// One rule: the half width of the 95 % interval is printed with two significant digits, and the value is rounded to
/// the same decimal place (JCGM 100:2008, 7.2.6). `half_width` is in SI; zero, negative or not finite means that no
/// interval is known, and the value is printed alone with four significant digits.
///
/// ```
/// use fairpull_units::{Unit, show_with};
/// let kw = Unit::find("kW").unwrap();
/// assert_eq!(show_with(221_342.0, 4_120.0, kw), "221.3 ± 4.1 kW");
/// assert_eq!(show_with(221_342.0, 996.0, kw), "221.3 ± 1.0 kW");
/// ```
#[must_use]
pub fn show_with(si: f64, half_width: f64, unit: &Unit) -> String {
    show_with_signed(si, half_width, unit, Sign::Point)
}

/// As [`show_with`], with the decimal sign asked for.
#[must_use]
pub fn show_with_signed(si: f64, half_width: f64, unit: &Unit, sign: Sign) -> String {
    let half = unit.step_from_si(half_width);
    let value = unit.from_si(si);
    let Some(place) = last_place(half).filter(|_| value.is_finite()) else {
        return show_signed(si, unit, Digits::Significant(4), sign);
    };
    let (v, h) = (rounded(value, place), rounded(half, place));
    with_unit(localised(format!("{v} ± {h}"), sign), unit)
}

/// Power of ten of the second significant digit.
fn last_place(half: f64) -> Option<i32> {
    if !(half > 0.0 && half.is_finite()) {
        return None;
    }
    let text = format!("{half:.1e}");
    let (_, exponent) = text.split_once('e')?;
    exponent.parse::<i32>().ok().map(|e| e - 1)
}

fn rounded(value: f64, place: i32) -> String {
    if place <= 0 {
        let decimals = usize::try_from(-place).unwrap_or(0);
        return unsigned_zero(format!("{value:.decimals$}"));
    }
    // products are exact up to here; `libm::exp10` would bring a table of 4 kB
    let step = match place {
        ..=15 => (0..place).fold(1.0, |step, _| step * 10.0),
        _ => libm::pow(10.0, f64::from(place)),
    };
    let whole = libm::round(value / step) * step;
    unsigned_zero(format!("{whole:.0}"))
}

fn digits_of(value: f64, digits: Digits) -> String {
    if !value.is_finite() {
        return String::from("undefined");
    }
    match digits {
        Digits::Decimals(n) => unsigned_zero(format!("{value:.*}", usize::from(n))),
        Digits::Shortest => {
            let size = libm::fabs(value);
            if size != 0.0 && !(1e-5..1e16).contains(&size) {
                format!("{value:e}")
            } else {
                format!("{value}")
            }
        }
        Digits::Significant(n) => {
            let n = i32::from(n.max(1));
            let text = format!("{value:.*e}", usize::try_from(n - 1).unwrap_or(0));
            let exponent = match text.split_once('e').and_then(|(_, e)| e.parse::<i32>().ok()) {
                Some(e) if (-6..15).contains(&e) => e,
                _ => return text,
            };
            rounded(value, exponent + 1 - n)
        }
    }
}

/// `-0.0` prints as `0.0`.
fn unsigned_zero(text: String) -> String {
    match text.strip_prefix('-') {
        Some(rest) if !rest.contains(|c: char| ('1'..='9').contains(&c)) => String::from(rest),
        _ => text,
    }
}

fn localised(text: String, sign: Sign) -> String {
    match sign {
        Sign::Point => text,
        Sign::Comma => text.replace('.', ","),
    }
}

fn with_unit(text: String, unit: &Unit) -> String {
    match unit.symbol() {
        "1" => text,
        "°" => format!("{text}°"),
        symbol => format!("{text} {symbol}"),
    }
}
