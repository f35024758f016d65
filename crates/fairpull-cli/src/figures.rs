//! Numbers with their 95 % half width.

/// Half width of a 95 % interval over its standard uncertainty, normal distribution.
pub const K95: f64 = 1.959_963_984_540_054;

/// `221.3 ± 4.1`: the half width with two significant digits, the value to the same place; without a half width four
/// significant digits.
pub fn with_half(value: f64, half: f64) -> String {
    if !(half.is_finite() && half > 0.0) {
        return alone(value);
    }
    let d = decimals(half, 2);
    format!("{value:.d$} ± {half:.d$}")
}

/// A number with four significant digits, or as many as a whole number has.
pub fn alone(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let d = decimals(value, 4);
    format!("{value:.d$}")
}

/// A number with at most five significant digits, without trailing zeros.
pub fn at_most_five(value: f64) -> String {
    let text = format!("{value:.*}", decimals(value, 5));
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
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
        assert_eq!(alone(0.0), "0");
        assert_eq!(alone(12345.6), "12346");
        assert_eq!(at_most_five(367.96080229), "367.96");
        assert_eq!(at_most_five(95.0), "95");
        assert_eq!(at_most_five(100.0), "100");
        assert_eq!(at_most_five(0.1), "0.1");
    }
}
