//! Smallest detectable change of a comparison of two groups of repeats.

use crate::propagate::effective_dof;
use crate::student::{coverage_factor, noncentral_t_cdf};

/// The change, in units of its own standard error, that a two-sided 5 % t test finds with the given power.
///
/// Solves P(|T'| > t_.975) = `power` for the non-centrality of the t distribution with `dof` degrees of freedom.
fn noncentrality(dof: f64, power: f64) -> f64 {
    let t = coverage_factor(dof);
    let found = |delta: f64| 1.0 - noncentral_t_cdf(t, dof, delta) + noncentral_t_cdf(-t, dof, delta);
    let (mut low, mut high) = (0.0, 1.0);
    while found(high) < power && high < 1e3 {
        low = high;
        high *= 2.0;
    }
    // false position, the kept end halved when it stays (Illinois)
    let (mut at_low, mut at_high) = (found(low) - power, found(high) - power);
    for _ in 0..60 {
        if high - low < 1e-10 * high || at_high <= at_low {
            break;
        }
        let mid = high - at_high * (high - low) / (at_high - at_low);
        let at_mid = found(mid) - power;
        if libm::fabs(at_mid) < 1e-13 {
            return mid;
        }
        if at_mid < 0.0 {
            low = mid;
            at_low = at_mid;
            at_high *= 0.5;
        } else {
            high = mid;
            at_high = at_mid;
            at_low *= 0.5;
        }
    }
    0.5 * (low + high)
}

/// Smallest change that a two-sided test at 5 % finds with probability 80 %, for a change known with standard
/// error `error` (same unit as the result) on `dof` degrees of freedom.
#[must_use]
pub fn smallest_detectable(error: f64, dof: f64) -> f64 {
    noncentrality(if dof >= 1.0 { dof } else { 1.0 }, 0.8) * error
}

/// How many repeats a group in all (up to 50) let two equal groups with repeat deviation `deviation` find
/// `change` with probability 80 %, where `other` is the part of the standard error that repeats do not shrink; `None`
/// when even 50 do not.
#[must_use]
pub fn more_repeats(change: f64, deviation: f64, other: f64) -> Option<usize> {
    let settles = |n: usize| {
        let n = n as f64;
        let run = deviation * libm::sqrt(2.0 / n);
        let dof = effective_dof(&[(run, 2.0 * n - 2.0), (other, f64::INFINITY)]);
        smallest_detectable(libm::hypot(run, other), dof) <= libm::fabs(change)
    };
    // more repeats never see less, so the least number is found by halving
    let (mut low, mut high) = (2, 50);
    if !settles(high) {
        return None;
    }
    while low < high {
        let mid = usize::midpoint(low, high);
        if settles(mid) {
            high = mid;
        } else {
            low = mid + 1;
        }
    }
    Some(low)
}
