//! Numbers for reading: as many digits as the uncertainty carries, and no more.

use crate::model::Interval;

/// How a number is written in a language and on a medium.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Style {
    /// Decimal mark.
    pub decimal: char,
    /// Minus sign.
    pub minus: char,
    /// Stands between groups of three digits before the decimal mark, in numbers of five digits and more.
    pub group: Option<char>,
}

/// A value and its interval as text, with equal decimals.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// The value.
    pub value: String,
    /// Lower end of the interval.
    pub low: String,
    /// Upper end of the interval.
    pub high: String,
    /// Half width, or both half widths as `+a/−b`; empty when the interval has no width.
    pub spread: String,
}

/// Stands in for a number that is not finite.
pub const ABSENT: &str = "–";

/// Decimals that a half width calls for: two significant digits when it begins with 1 or 2, else one.
/// A negative answer means rounding to tens, hundreds and so on.
///
/// Convention: JCGM 100:2008, 7.2.6 (at most two significant digits of an uncertainty), from memory.
#[must_use]
pub fn decimals_for(half_width: f64) -> Option<i32> {
    if !half_width.is_finite() || half_width <= 0.0 {
        return None;
    }
    let exponent = libm::floor(libm::log10(half_width));
    let lead = half_width / libm::pow(10.0, exponent);
    let significant = if lead < 2.95 { 2 } else { 1 };
    Some((significant - 1 - exponent as i32).clamp(-6, 9))
}

/// `value` with the given decimals, or rounded to a power of ten where they are negative.
#[must_use]
pub fn number(value: f64, decimals: i32, style: Style) -> String {
    if !value.is_finite() {
        return ABSENT.to_owned();
    }
    let magnitude = value.abs();
    let digits = if decimals < 0 {
        let step = libm::pow(10.0, f64::from(-decimals));
        format!("{:.0}", (magnitude / step).round() * step)
    } else {
        format!("{magnitude:.*}", decimals.unsigned_abs() as usize)
    };
    let negative = value < 0.0 && digits.bytes().any(|b| (b'1'..=b'9').contains(&b));
    let mut text = String::with_capacity(digits.len() + 3);
    if negative {
        text.push(style.minus);
    }
    push_digits(&mut text, &digits, style);
    text
}

/// Digits with a decimal point, in the writing of a style.
fn push_digits(text: &mut String, digits: &str, style: Style) {
    let (whole, part) = digits.split_once('.').map_or((digits, None), |(w, p)| (w, Some(p)));
    for (i, c) in whole.chars().enumerate() {
        let left = whole.len() - i;
        if let Some(group) = style.group
            && whole.len() > 4
            && i > 0
            && left.is_multiple_of(3)
        {
            text.push(group);
        }
        text.push(c);
    }
    if let Some(part) = part {
        text.push(style.decimal);
        text.push_str(part);
    }
}

/// A number as messages write it (`-0.25`, `+7`, `12000`), in the writing of a style.
#[must_use]
pub(crate) fn rewritten(number: &str, style: Style) -> String {
    let digits = number.trim_start_matches(['+', '-', '−']);
    let mut text = String::with_capacity(number.len() + 4);
    match number.chars().next() {
        Some('-' | '−') => text.push(style.minus),
        Some('+') => text.push('+'),
        _ => {}
    }
    push_digits(&mut text, digits, style);
    text
}

/// The same with a plus sign before a positive number: for changes.
#[must_use]
pub fn signed(value: f64, decimals: i32, style: Style) -> String {
    let text = number(value, decimals, style);
    if value > 0.0 && text.bytes().any(|b| (b'1'..=b'9').contains(&b)) { format!("+{text}") } else { text }
}

/// Four significant digits, for a number that comes without an interval.
#[must_use]
pub fn plain(value: f64, style: Style) -> String {
    if value == 0.0 || !value.is_finite() {
        return number(value, 0, style);
    }
    let exponent = libm::floor(libm::log10(value.abs())) as i32;
    number(value, (3 - exponent).clamp(0, 9), style)
}

/// Decimals for an interval: its half width decides; without width, four significant digits of the value.
#[must_use]
pub fn decimals_of(i: Interval) -> i32 {
    let half = (i.hi95 - i.value).max(i.value - i.lo95);
    decimals_for(half).unwrap_or_else(|| {
        if i.value == 0.0 || !i.value.is_finite() {
            return 0;
        }
        (3 - libm::floor(libm::log10(i.value.abs())) as i32).clamp(0, 9)
    })
}

/// The interval as text; `change` asks for a plus sign before positive numbers.
#[must_use]
pub fn interval(i: Interval, change: bool, style: Style) -> Shown {
    let decimals = decimals_of(i);
    let write = |v: f64| if change { signed(v, decimals, style) } else { number(v, decimals, style) };
    let up = number(i.hi95 - i.value, decimals, style);
    let down = number(i.value - i.lo95, decimals, style);
    let spread = if !(i.hi95 - i.lo95).is_finite() || i.hi95 <= i.lo95 {
        String::new()
    } else if up == down {
        format!("± {up}")
    } else {
        format!("+{up}/{}{down}", style.minus)
    };
    Shown { value: write(i.value), low: write(i.lo95), high: write(i.hi95), spread }
}

#[cfg(test)]
mod tests {
    use super::*;

    const STYLE: Style = Style { decimal: '.', minus: '-', group: None };

    fn around(value: f64, half: f64) -> Interval {
        Interval { value, lo95: value - half, hi95: value + half }
    }

    // Worked by hand from the rule in the doc comment.
    #[test]
    fn digits_follow_the_uncertainty() {
        let cases = [
            (373.16, 4.4, "373 ± 4"),
            (373.16, 1.24, "373.2 ± 1.2"),
            (0.3517, 0.049, "0.35 ± 0.05"),
            (-2.0, 0.0996, "-2.00 ± 0.10"),
            (51_234.0, 340.0, "51200 ± 300"),
            (-0.001, 0.4, "0.0 ± 0.4"),
        ];
        for (value, half, expected) in cases {
            let shown = interval(around(value, half), false, STYLE);
            assert_eq!(format!("{} {}", shown.value, shown.spread), expected);
        }
    }

    #[test]
    fn lopsided_and_missing_intervals_say_so() {
        let shown = interval(Interval { value: 10.0, lo95: 7.0, hi95: 15.0 }, true, STYLE);
        assert_eq!((shown.value.as_str(), shown.spread.as_str()), ("+10", "+5/-3"));
        assert_eq!(interval(around(10.0, 0.0), false, STYLE).spread, "");
        assert_eq!(interval(around(f64::NAN, 1.0), false, STYLE).value, ABSENT);
        assert_eq!(plain(0.012_345_6, STYLE), "0.01235");
    }

    // ISO 80000-1:2022, 7.3 (groups of three, a small space) and DIN 1333 (decimal comma), both from memory; four digits
    // stay together, as engine speeds are written.
    #[test]
    fn another_style_writes_the_same_digits() {
        let style = Style { decimal: ',', minus: '−', group: Some('\u{202f}') };
        assert_eq!(number(1.5, 1, style), "1,5");
        assert_eq!(number(-6200.0, 0, style), "−6200");
        assert_eq!(number(1_234_567.25, 2, style), "1\u{202f}234\u{202f}567,25");
        assert_eq!(rewritten("-12000.5", style), "−12\u{202f}000,5");
        assert_eq!(rewritten("+7.2", style), "+7,2");
    }
}
