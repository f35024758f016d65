//! Incomplete beta and normal distribution, from `libm` alone.

/// Regularised incomplete beta function I_x(a, b) for a, b > 0 and 0 <= x <= 1, by the continued fraction of
/// DLMF 8.17.22 with the modified Lentz method. NaN for arguments outside.
#[must_use]
pub fn incomplete_beta(a: f64, b: f64, x: f64) -> f64 {
    if !(a > 0.0 && b > 0.0 && (0.0..=1.0).contains(&x)) {
        return f64::NAN;
    }
    incomplete(a, b, x, log_beta(a, b))
}

/// Logarithm of the beta function.
pub(crate) fn log_beta(a: f64, b: f64) -> f64 {
    libm::lgamma(a) + libm::lgamma(b) - libm::lgamma(a + b)
}

/// [`incomplete_beta`] inside its range, for calls with the same a and b.
pub(crate) fn incomplete(a: f64, b: f64, x: f64, log_beta: f64) -> f64 {
    if x == 0.0 || x == 1.0 {
        return x;
    }
    let front = libm::exp(a * libm::log(x) + b * libm::log1p(-x) - log_beta);
    if x < (a + 1.0) / (a + b + 2.0) {
        front * fraction(a, b, x) / a
    } else {
        1.0 - front * fraction(b, a, 1.0 - x) / b
    }
}

fn fraction(a: f64, b: f64, x: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let guard = |v: f64| if libm::fabs(v) < TINY { TINY } else { v };
    let mut c = 1.0;
    let mut d = 1.0 / guard(1.0 - (a + b) * x / (a + 1.0));
    let mut h = d;
    for m in 1..500 {
        let m = f64::from(m);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / guard(1.0 + even * d);
        c = guard(1.0 + even / c);
        h *= d * c;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / guard(1.0 + odd * d);
        c = guard(1.0 + odd / c);
        let step = d * c;
        h *= step;
        if libm::fabs(step - 1.0) < 1e-16 {
            break;
        }
    }
    h
}

/// Standard normal distribution function.
#[must_use]
pub fn normal_cdf(x: f64) -> f64 {
    0.5 * libm::erfc(-x * core::f64::consts::FRAC_1_SQRT_2)
}

/// Standard normal quantile by bisection on [`normal_cdf`], 0 < p < 1; NaN outside.
#[must_use]
pub fn normal_quantile(p: f64) -> f64 {
    if !(p > 0.0 && p < 1.0) {
        return f64::NAN;
    }
    let (mut low, mut high) = (-40.0, 40.0);
    for _ in 0..200 {
        let mid = 0.5 * (low + high);
        if mid <= low || mid >= high {
            break;
        }
        if normal_cdf(mid) < p {
            low = mid;
        } else {
            high = mid;
        }
    }
    0.5 * (low + high)
}
