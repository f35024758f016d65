//! Decimal digits to the nearest number, ties to the even one (IEEE 754, 5.12): what the standard library gives, without
//! its table.
//!
//! That table of powers of five is 10 kB that no compression makes smaller, which weighs in the browser modules. Digits
//! that fit in 53 bits with a power of ten that is exact (Clinger, PLDI 1990) take one product or quotient; all
//! others are divided as whole numbers of any length.

use alloc::vec;
use alloc::vec::Vec;
use core::cmp::Ordering;

/// Powers of ten that a number holds exactly.
const EXACT: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18,
    1e19, 1e20, 1e21, 1e22,
];

/// No point midway between two numbers has more digits than 767; what follows only says on which side it lies.
const DIGITS: usize = 780;

/// Sign, digits with at most one point, exponent, and nothing else; `None` for any other text. Words such as `inf` are no
/// digits. A value that is too large is infinite.
///
/// ```
/// assert_eq!(fairpull_units::decimal(b"-12.5e-1"), Some(-1.25));
/// assert_eq!(fairpull_units::decimal(b".5"), Some(0.5));
/// assert_eq!(fairpull_units::decimal(b"1,5"), None);
/// ```
#[must_use]
pub fn decimal(text: &[u8]) -> Option<f64> {
    let (negative, body) = match text {
        [b'-', rest @ ..] => (true, rest),
        [b'+', rest @ ..] => (false, rest),
        _ => (false, text),
    };
    let written = Written::read(body)?;
    let size = written.fast().unwrap_or_else(|| written.exact(body));
    Some(if negative { -size } else { size })
}

/// The digits of a text as they stand in it.
struct Written {
    /// The first nineteen significant digits at most.
    mantissa: u64,
    /// Power of ten of the last digit in `mantissa`.
    power: i64,
    /// True when there are more digits.
    longer: bool,
    /// Power of ten of the last digit of all.
    last: i64,
    /// Bytes before the exponent.
    end: usize,
}

impl Written {
    fn read(body: &[u8]) -> Option<Self> {
        let mut w = Self { mantissa: 0, power: 0, longer: false, last: 0, end: 0 };
        let (mut taken, mut any, mut after) = (0, false, false);
        for b in body {
            match b {
                b'0'..=b'9' => {
                    any = true;
                    w.last -= i64::from(after);
                    if taken < 19 {
                        w.mantissa = w.mantissa * 10 + u64::from(b - b'0');
                        taken += i32::from(w.mantissa > 0);
                        w.power -= i64::from(after);
                    } else {
                        w.longer = true;
                        w.power += i64::from(!after);
                    }
                }
                b'.' if !after => after = true,
                _ => break,
            }
            w.end += 1;
        }
        let exponent = match body.get(w.end..)? {
            [] => 0,
            [b'e' | b'E', rest @ ..] => exponent(rest)?,
            _ => return None,
        };
        w.power += exponent;
        w.last += exponent;
        any.then_some(w)
    }

    fn fast(&self) -> Option<f64> {
        let power = EXACT.get(usize::try_from(self.power.unsigned_abs()).ok()?);
        if self.mantissa == 0 && !self.longer {
            return Some(0.0);
        }
        if self.longer || self.mantissa > 1 << 53 {
            return None;
        }
        let whole = self.mantissa as f64;
        power.map(|p| if self.power < 0 { whole / p } else { whole * p })
    }

    #[cold]
    fn exact(&self, body: &[u8]) -> f64 {
        let digits = body.iter().take(self.end).filter(|b| b.is_ascii_digit()).map(|b| u32::from(b - b'0'));
        let mut whole = Whole(vec![]);
        let (mut kept, mut left_out, mut beyond) = (0, 0_i64, false);
        for d in digits.skip_while(|d| *d == 0) {
            if kept < DIGITS {
                kept += 1;
                whole.times_plus(10, d);
            } else {
                left_out += 1;
                beyond |= d > 0;
            }
        }
        let mut power = self.last + left_out;
        if beyond {
            whole.times_plus(10, 1);
            power -= 1;
        }
        // as many digits as there are before the point
        let before = power + kept as i64;
        if before < -330 {
            return 0.0;
        }
        if before > 310 {
            return f64::INFINITY;
        }
        let mut under = Whole(vec![1]);
        let scaled = if power < 0 { &mut under } else { &mut whole };
        for _ in 0..power.unsigned_abs() {
            scaled.times_plus(10, 0);
        }
        quotient(whole, under)
    }
}

fn exponent(text: &[u8]) -> Option<i64> {
    let (negative, digits) = match text {
        [b'-', rest @ ..] => (true, rest),
        [b'+', rest @ ..] => (false, rest),
        _ => (false, text),
    };
    if digits.is_empty() || !digits.iter().all(u8::is_ascii_digit) {
        return None;
    }
    // beyond this no text that fits in memory comes back into range
    let size = digits.iter().fold(0_i64, |e, d| (e * 10 + i64::from(d - b'0')).min(1 << 40));
    Some(if negative { -size } else { size })
}

/// The number nearest to a quotient of positive whole numbers.
fn quotient(mut over: Whole, mut under: Whole) -> f64 {
    // 64 or 65 bits of the quotient, over 2^shift
    let shift = 64 - (over.bits() - under.bits());
    if shift > 0 {
        over.shift(shift)
    } else {
        under.shift(-shift)
    }
    under.shift(64);
    let mut q = 0_u128;
    for _ in 0..=64 {
        q <<= 1;
        if over.at_least(&under) {
            over.less(&under);
            q |= 1;
        }
        over.shift(1);
    }
    let rest = over.bits() > 0;
    let bits = 128 - i64::from(q.leading_zeros());
    let top = bits - 1 - shift;
    let keep = if top >= -1022 { 53 } else { 53 - (-1022 - top) };
    if keep < 0 {
        return 0.0;
    }
    let drop = bits - keep;
    let (mantissa, tail) = (q >> drop, q & ((1 << drop) - 1));
    let up = match tail.cmp(&(1 << (drop - 1))) {
        Ordering::Less => false,
        Ordering::Greater => true,
        Ordering::Equal => rest || mantissa & 1 == 1,
    };
    let mantissa = mantissa as u64 + u64::from(up);
    // adding the whole mantissa carries its leading bit, and a round-up, into the exponent
    let exponent = if top >= -1022 { ((top + 1022) as u64) << 52 } else { 0 };
    f64::from_bits((exponent + mantissa).min(f64::INFINITY.to_bits()))
}

/// A whole number of any length, lowest word first, no zero word at the top.
struct Whole(Vec<u32>);

impl Whole {
    fn times_plus(&mut self, factor: u32, add: u32) {
        let mut carry = u64::from(add);
        for word in &mut self.0 {
            carry += u64::from(*word) * u64::from(factor);
            *word = carry as u32;
            carry >>= 32;
        }
        if carry > 0 {
            self.0.push(carry as u32);
        }
    }

    fn bits(&self) -> i64 {
        self.0.last().map_or(0, |top| 32 * self.0.len() as i64 - i64::from(top.leading_zeros()))
    }

    /// Times a power of two.
    fn shift(&mut self, by: i64) {
        if by >= 32 {
            let words = vec![0; (by / 32) as usize];
            self.0.splice(0..0, words);
        }
        self.times_plus(1 << (by % 32), 0);
    }

    fn at_least(&self, other: &Self) -> bool {
        let (a, b) = (&self.0, &other.0);
        a.len().cmp(&b.len()).then_with(|| a.iter().rev().cmp(b.iter().rev())).is_ge()
    }

    /// Takes away what is not larger.
    fn less(&mut self, other: &Self) {
        let mut borrow = false;
        for (i, word) in self.0.iter_mut().enumerate() {
            let (x, first) = word.overflowing_sub(other.0.get(i).copied().unwrap_or(0));
            let (x, second) = x.overflowing_sub(u32::from(borrow));
            (*word, borrow) = (x, first || second);
        }
        while self.0.last() == Some(&0) {
            self.0.pop();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::format;
    use alloc::string::{String, ToString};
    use proptest::prelude::*;

    /// The standard library's reader is the reference (correctly rounded since Rust 1.55).
    fn same(text: &str) -> Result<(), TestCaseError> {
        let theirs = text.parse::<f64>().ok().map(f64::to_bits);
        prop_assert_eq!(decimal(text.as_bytes()).map(f64::to_bits), theirs, "{}", text);
        Ok(())
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn any_number_comes_back(bits in any::<u64>(), digits in 0_usize..40) {
            let x = f64::from_bits(bits);
            if x.is_finite() {
                same(&x.to_string())?;
                same(&format!("{x:e}"))?;
                same(&format!("{x:.digits$e}"))?;
                same(&format!("{x:.800}"))?;
            }
        }

        #[test]
        fn any_digits_are_read_alike(text in "[+-]?[0-9]{0,30}[.]?[0-9]{0,30}(e[+-]?[0-9]{0,4})?") {
            same(&text)?;
        }

        #[test]
        fn points_midway_go_to_the_even_number(m in 1_u64 << 52..1 << 53, shift in 0_u32..74, beside in 0_u8..3) {
            let midway = ((u128::from(m) << 1) | 1) << shift;
            let text = midway.to_string();
            same(&text)?;
            same(&format!("{text}.000{}", if beside > 0 { "1" } else { "0" }))?;
            same(&(midway - u128::from(beside)).to_string())?;
        }

        #[test]
        fn the_smallest_numbers_are_right(m in 0_u64..1 << 20, e in -345_i32..-290) {
            same(&format!("{m}e{e}"))?;
            same(&format!("{m}5e{e}"))?;
        }

        #[test]
        fn other_texts_are_none(text in "[0-9.eE+ ,x-]{0,12}") {
            same(&text)?;
        }
    }

    #[test]
    fn the_known_hard_ones() {
        let long = |digits: usize| "1".to_string() + &"0".repeat(digits) + "1";
        let many: [String; 14] = [
            "2.2250738585072011e-308".into(),
            "2.2250738585072014e-308".into(),
            "4.9406564584124654e-324".into(),
            "2.4703282292062327208299439634110764e-324".into(),
            "2.4703282292062327208e-324".into(),
            "1.7976931348623157e308".into(),
            "1.7976931348623158e308".into(),
            "1.7976931348623159e308".into(),
            "9007199254740993".into(),
            "9007199254740993.00000000000000000000000000000000001".into(),
            "0.1e99999999999999999999".into(),
            "1e-99999999999999999999".into(),
            "0".repeat(900) + ".5",
            long(900),
        ];
        for text in many {
            assert_eq!(
                decimal(text.as_bytes()).map(f64::to_bits),
                text.parse::<f64>().ok().map(f64::to_bits),
                "{text}"
            );
        }
        assert_eq!(decimal(b"-0").map(f64::to_bits), Some((-0.0_f64).to_bits()));
        for word in ["inf", "nan", "", "-", ".", "+.e1", "1e", "1e+", "1_0", " 1", "0x1"] {
            assert_eq!(decimal(word.as_bytes()), None, "{word}");
        }
    }
}
