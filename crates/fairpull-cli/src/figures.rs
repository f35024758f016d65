//! Numbers with their 95 % half width.

use crate::brief::short;

/// Half width of a 95 % interval over its standard uncertainty, normal distribution.
pub const K95: f64 = 1.959_963_984_540_054;

/// `221.3 ± 4.1`: the half width with two significant digits, the value to the same place; without a half width four
/// significant digits.
pub fn with_half(value: f64, half: f64) -> String {
    if !(half.is_finite() && half > 0.0) {
        return alone(value);
    }
    let d = decimals(half, 2);
    if long(value) || d > decimals(value, DIGITS) {
        // nothing was stated: what is left is rounding
        return format!("{} ± {half:.1e}", short(value));
    }
    format!("{value:.d$} ± {half:.d$}")
}

/// A number with four significant digits, or as many as a whole number has.
pub fn alone(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    if long(value) {
        return format!("{value:.3e}");
    }
    let d = decimals(value, 4);
    format!("{value:.d$}")
}

/// A number with at most five significant digits, without trailing zeros.
pub fn at_most_five(value: f64) -> String {
    if long(value) {
        return short(value);
    }
    let text = format!("{value:.*}", decimals(value, 5));
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// Digits that a figure can have; more are rounding.
const DIGITS: i32 = 12;

/// Whether a number is better written in powers of ten.
fn long(value: f64) -> bool {
    value != 0.0 && value.is_finite() && !(1e-6..1e15).contains(&value.abs())
}

/// Decimals that show so many significant digits.
fn decimals(x: f64, significant: i32) -> usize {
    // the exponent as the decimal notation itself has it
    let text = format!("{:e}", x.abs());
    let exponent = text.rsplit_once('e').and_then(|(_, e)| e.parse::<i32>().ok()).unwrap_or(0);
    usize::try_from((significant - 1 - exponent).max(0)).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::{alone, at_most_five, with_half};

    #[test]
    fn digits_follow_the_half_width() {
        assert_eq!(with_half(221.34, 4.12), "221.3 ± 4.1");
        assert_eq!(with_half(0.012345, 0.00021), "0.01235 ± 0.00021");
        assert_eq!(with_half(5120.0, 130.0), "5120 ± 130");
        assert_eq!(with_half(3.0, 0.0), "3.000");
        assert_eq!(with_half(390.064_193_962_639_3, 1.7e-13), "390.064193963 ± 1.7e-13");
        assert_eq!(with_half(1e308, 2.5e300), "1e308 ± 2.5e300");
        assert_eq!((alone(1e300), alone(5e-324)), ("1.000e300".into(), "4.941e-324".into()));
        assert_eq!((at_most_five(1e300), at_most_five(1e-300)), ("1e300".into(), "1e-300".into()));
        assert_eq!(alone(0.0), "0");
        assert_eq!(alone(12345.6), "12346");
        assert_eq!(at_most_five(367.96080229), "367.96");
        assert_eq!(at_most_five(95.0), "95");
        assert_eq!(at_most_five(100.0), "100");
        assert_eq!(at_most_five(0.1), "0.1");
    }
}
