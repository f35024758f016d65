//! Whole-curve bands and the Monte Carlo check of the pointwise intervals, from seeded draws.

use fairpull_uncertainty::{Random, probabilistically_symmetric};

/// Parts of the error of a curve, all relative, along the curve.
pub(crate) struct Parts<'a> {
    /// Error of the level (the same everywhere) and its degrees of freedom.
    pub level: f64,
    pub level_dof: f64,
    /// Errors that decorrelate along the curve: shape scatter of the mean and smoothing bias together.
    pub shape: &'a [f64],
    /// One curve for each rig source: its effect at one standard uncertainty.
    pub rig: &'a [Vec<f64>],
    /// Points over which shape errors decorrelate.
    pub correlation: f64,
}

const DRAWS: usize = 2000;

/// Relative half widths that hold for the whole curve at once with 95 %, given the pointwise half widths; and the
/// Monte Carlo interval of the error at point `at`.
pub(crate) fn whole_curve(
    parts: &Parts<'_>,
    pointwise: &[f64],
    at: usize,
    seed: u64,
) -> (Vec<f64>, (f64, f64)) {
    let n = pointwise.len();
    let mut random = Random::new(seed);
    let rho = libm::exp(-1.0 / parts.correlation.max(0.1));
    let fresh = libm::sqrt(1.0 - rho * rho);
    let mut worst = Vec::with_capacity(DRAWS);
    let mut here = Vec::with_capacity(DRAWS);
    for _ in 0..DRAWS {
        let level = parts.level * random.student(parts.level_dof.max(1.0));
        let z: Vec<f64> = parts.rig.iter().map(|_| random.normal()).collect();
        let mut g = random.normal();
        let mut most: f64 = 0.0;
        for i in 0..n {
            if i > 0 {
                g = rho * g + fresh * random.normal();
            }
            let rig: f64 = parts.rig.iter().zip(&z).map(|(s, z)| s[i] * z).sum();
            let error = level + parts.shape[i] * g + rig;
            if pointwise[i] > 0.0 {
                most = most.max(libm::fabs(error) / pointwise[i]);
            }
            if i == at {
                here.push(error);
            }
        }
        worst.push(most);
    }
    fairpull_uncertainty::ascending(&mut worst);
    let factor = worst[(0.95 * DRAWS as f64) as usize].max(1.0);
    let c = probabilistically_symmetric(&mut here, 0.95);
    let interval = c.map_or((f64::NAN, f64::NAN), |c| (c.low, c.high));
    (pointwise.iter().map(|h| h * factor).collect(), interval)
}
