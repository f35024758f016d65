//! Deterministic draws: Halton points with a seeded shift, and a coverage interval that allows for their number.

use fairpull_uncertainty::{Random, normal_quantile, nth};

/// Radical inverses of 1, 2, 3 … in a prime base (Halton, Numer. Math. 2, 1960): counting up carries digits, so that
/// nothing needs dividing.
struct RadicalInverses {
    base: f64,
    /// Digits of the last number, lowest first, each with its place behind the point.
    digits: Vec<(f64, f64)>,
}

impl RadicalInverses {
    fn new(base: u32) -> Self {
        Self { base: f64::from(base), digits: Vec::new() }
    }

    fn next(&mut self) -> f64 {
        let mut carry = true;
        for (digit, _) in &mut self.digits {
            *digit += 1.0;
            carry = *digit == self.base;
            if !carry {
                break;
            }
            *digit = 0.0;
        }
        if carry {
            let place = self.digits.last().map_or(1.0, |(_, place)| *place) / self.base;
            self.digits.push((1.0, place));
        }
        let mut inverse = 0.0;
        for (digit, place) in &self.digits {
            inverse += digit * place;
        }
        inverse
    }
}

/// Dimensions that are drawn: pressure, temperature, humidity, loss, tyre, stated interval.
pub(crate) const DIMENSIONS: usize = 6;
const BASES: [u32; DIMENSIONS] = [2, 3, 5, 7, 11, 13];

/// A point of the unit cube, each coordinate in (0, 1).
pub(crate) type Point = [f64; DIMENSIONS];

/// The middle of everything.
pub(crate) const MIDDLE: Point = [0.5; DIMENSIONS];

/// One coordinate of `count` points; the shift modulo 1 comes from the seed (Cranley and Patterson, SIAM J. Numer.
/// Anal. 13, 1976).
pub(crate) fn column(seed: u64, count: usize, dimension: usize) -> Vec<f64> {
    let mut random = Random::new(seed);
    let shift: Point = std::array::from_fn(|_| random.uniform());
    let (Some(shift), Some(base)) = (shift.get(dimension), BASES.get(dimension)) else { return Vec::new() };
    let mut inverses = RadicalInverses::new(*base);
    let one = |_| {
        let y = inverses.next() + shift;
        (if y >= 1.0 { y - 1.0 } else { y }).clamp(1e-12, 1.0 - 1e-12)
    };
    (0..count).map(one).collect()
}

/// Standard normal deviate of a coordinate.
pub(crate) fn normal(share: f64) -> f64 {
    if share == 0.5 { 0.0 } else { normal_quantile(share) }
}

/// How many draws lie beyond each end of an interval that holds 95 % of what the draws stand for: equal tails (JCGM
/// 101:2008, 7.7), the interval widened so that a limited number of draws still covers 95 % with high confidence (three
/// standard deviations of the binomial share).
pub(crate) fn tail95(draws: usize) -> usize {
    let n = draws as f64;
    let share = 0.95 + 3.0 * libm::sqrt(0.95 * 0.05 / n);
    if share < 1.0 { (0.5 * (1.0 - share) * n) as usize } else { 0 }
}

/// Ends of that interval.
pub(crate) fn interval95(draws: &mut [f64]) -> Option<(f64, f64)> {
    let tail = tail95(draws.len());
    let high = draws.len().checked_sub(1 + tail)?;
    Some((nth(draws, tail), nth(draws, high)))
}
