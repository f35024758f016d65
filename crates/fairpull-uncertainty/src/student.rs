//! Student's t distribution, central and non-central.

use crate::special::{incomplete, incomplete_beta, log_beta, normal_cdf, normal_quantile};

/// Degrees of freedom from which the beta function has lost more digits than a series about the normal distribution.
const MANY: f64 = 1e6;

/// Distribution function of Student's t with `dof` > 0 degrees of freedom (fractional and infinite allowed).
#[must_use]
pub fn t_cdf(t: f64, dof: f64) -> f64 {
    if dof > MANY {
        // Abramowitz and Stegun 26.7.8; without bound it is the normal distribution
        return normal_cdf(t * (1.0 - 0.25 / dof) / libm::sqrt(1.0 + 0.5 * t * t / dof));
    }
    let tail = 0.5 * incomplete_beta(0.5 * dof, 0.5, dof / (dof + t * t));
    if t > 0.0 { 1.0 - tail } else { tail }
}

/// Quantile of Student's t, 0 < p < 1, `dof` > 0; NaN outside. To 2e-8 at least near the median.
#[must_use]
pub fn t_quantile(p: f64, dof: f64) -> f64 {
    if !(p > 0.0 && p < 1.0 && dof > 0.0) {
        return f64::NAN;
    }
    if p < 0.5 {
        return -t_quantile(1.0 - p, dof);
    }
    if dof > MANY {
        return about(normal_quantile(p), dof);
    }
    let log_beta = log_beta(0.5 * dof, 0.5);
    let beyond = |t: f64| 0.5 * incomplete(0.5 * dof, 0.5, dof / (dof + t * t), log_beta) - (1.0 - p);
    let density =
        |t: f64| libm::exp(-log_beta - 0.5 * libm::log(dof) - 0.5 * (dof + 1.0) * libm::log1p(t * t / dof));
    let mut t = about(roughly_normal(1.0 - p), dof);
    // Halley's steps, kept between ends that close in: the third power of a small step is nothing
    let (mut low, mut high) = (0.0, f64::INFINITY);
    if !(t > low && t < high) {
        t = 1.0;
    }
    for _ in 0..200 {
        let off = beyond(t);
        if off > 0.0 {
            low = t;
        } else {
            high = t;
        }
        let newton = off / density(t);
        let mut next = t + newton / (1.0 - 0.5 * newton * t * (dof + 1.0) / (dof + t * t));
        let inside = next >= low && next <= high;
        if !inside {
            next = if high.is_finite() { 0.5 * (low + high) } else { 2.0 * t };
        }
        let step = libm::fabs(next - t);
        t = next;
        if step <= if inside { 1e-6 } else { 4e-16 } * t || !t.is_finite() {
            break;
        }
    }
    t
}

/// Student's quantile from the normal one by Fisher's expansion (Abramowitz and Stegun 26.7.5), two terms of it.
fn about(z: f64, dof: f64) -> f64 {
    let z2 = z * z;
    z * (1.0 + (z2 + 1.0) / (4.0 * dof) + (3.0 + z2 * (16.0 + z2 * 5.0)) / (96.0 * dof * dof))
}

/// The normal quantile beyond which `beyond` <= 0.5 is left, to 0.00045 (Abramowitz and Stegun 26.2.23).
fn roughly_normal(beyond: f64) -> f64 {
    let r = libm::sqrt(-2.0 * libm::log(beyond));
    r - (2.515_517 + r * (0.802_853 + r * 0.010_328))
        / (1.0 + r * (1.432_788 + r * (0.189_269 + r * 0.001_308)))
}

/// Coverage factor of a two-sided 95 % interval: t at 0.975 (JCGM 100:2008, G.3.2). Degrees of freedom below 1
/// count as 1.
#[must_use]
pub fn coverage_factor(dof: f64) -> f64 {
    t_quantile(0.975, if dof >= 1.0 { dof } else { 1.0 })
}

/// Distribution function of the non-central t with non-centrality `delta`, by numerical integration over the logarithm of
/// the chi distribution, where the trapezoidal rule converges faster than any power of the step (Trefethen and Weideman,
/// SIAM Rev. 56, 2014; from memory): absolute error below 1e-9 for 1 <= dof <= 1000, |delta| <= 30.
#[must_use]
pub fn noncentral_t_cdf(t: f64, dof: f64, delta: f64) -> f64 {
    if dof > 1e6 {
        return normal_cdf(t - delta);
    }
    // P(T < t) = integral over v = ln sqrt(chi2/dof) of Phi(t e^v - delta) times the density of v, which is highest at 0
    let log_norm = core::f64::consts::LN_2 + 0.5 * dof * libm::log(0.5 * dof) - libm::lgamma(0.5 * dof);
    // the second: no wider than the strip of the complex plane in which the density falls asks for
    let step = (0.7 / libm::sqrt(2.0 * dof + delta * delta + t * t)).min(0.14);
    let mut sum = 0.0;
    for side in [-1.0, 1.0] {
        let ratio = libm::exp(side * step);
        let (mut v, mut s) = (0.0, 1.0);
        loop {
            let below_top = dof * (v - 0.5 * (s * s - 1.0));
            if !(below_top > -27.0) {
                break;
            }
            // the top is met from both sides
            let share = if v == 0.0 { 0.5 } else { 1.0 };
            sum += share * libm::exp(log_norm - 0.5 * dof + below_top) * normal_cdf(t * s - delta);
            v += side * step;
            s *= ratio;
        }
    }
    sum * step
}

#[cfg(test)]
mod tests {
    use super::*;

    /// As printed in Abramowitz and Stegun, and within the error printed there.
    #[test]
    fn starts_as_printed() {
        for q in [0.5, 0.3, 0.1, 0.025, 1e-3, 1e-5, 1e-9] {
            let t = libm::sqrt(libm::log(1.0 / (q * q)));
            let above = 2.515517 + 0.802853 * t + 0.010328 * t * t;
            let below = 1.0 + 1.432788 * t + 0.189269 * t * t + 0.001308 * t * t * t;
            let x = roughly_normal(q);
            assert!(libm::fabs(x - (t - above / below)) < 1e-13, "{q}");
            assert!(libm::fabs(x + normal_quantile(q)) < 4.5e-4, "{q}");
        }
        for (z, nu) in [(0.3, 2.0), (1.2, 5.0), (1.96, 11.0), (3.0, 40.0)] {
            let g1 = (libm::pow(z, 3.0) + z) / 4.0;
            let g2 = (5.0 * libm::pow(z, 5.0) + 16.0 * libm::pow(z, 3.0) + 3.0 * z) / 96.0;
            assert!(libm::fabs(about(z, nu) - (z + g1 / nu + g2 / (nu * nu))) < 1e-14, "{z} {nu}");
        }
    }

    /// The quantile is where the distribution function has the probability.
    #[test]
    fn quantile_and_distribution_agree() {
        for dof in [0.3, 1.0, 1.7, 2.0, 5.3, 30.0, 1e3] {
            for p in [0.6, 0.9, 0.975, 0.999, 1.0 - 1e-9] {
                let t = t_quantile(p, dof);
                assert!(libm::fabs(t_cdf(t, dof) - p) < 1e-12, "{p} {dof}: {t}");
                assert!(libm::fabs(t_quantile(1.0 - p, dof) + t) < 1e-6 * t, "{p} {dof}");
            }
        }
        assert!(libm::fabs(t_quantile(0.5, 4.0)) < 1e-7);
    }
}
