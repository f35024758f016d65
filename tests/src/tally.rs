//! Scores of many jobs to the figures of a table.

use fairpull_uncertainty::{coverage_factor, noncentral_t_cdf};

use crate::campaign::JobScore;
use crate::score::{ChangeScore, CurveScore};

/// Figures of the curves of many jobs. Shares are 0 to 1, errors relative.
#[derive(Clone, Copy, Debug, Default)]
pub struct CurveTally {
    /// Jobs that gave an answer, and all.
    pub answered: (usize, usize),
    /// Mean signed error.
    pub bias: f64,
    /// Root mean square error against the truth of the state, and against what the pulls did.
    pub rms: (f64, f64),
    /// Root mean square error of the peak, its mean, and the share of peak intervals that hold.
    pub peak: (f64, f64, f64),
    /// Share of points whose interval holds.
    pub pointwise: f64,
    /// Share of whole curves inside their band.
    pub whole: f64,
    /// Mean half width of the interval.
    pub half: f64,
}

/// Tallies the curves of all states.
pub fn curves<'a>(jobs: impl Iterator<Item = &'a JobScore>) -> CurveTally {
    let mut t = CurveTally::default();
    let mut all: Vec<CurveScore> = Vec::new();
    for j in jobs {
        t.answered.1 += 1;
        if j.refused.is_none() {
            t.answered.0 += 1;
        }
        all.extend(&j.curves);
    }
    let n = all.len() as f64;
    let mean = |f: &dyn Fn(&CurveScore) -> f64| all.iter().map(f).sum::<f64>() / n;
    t.bias = mean(&|c| c.bias);
    t.rms = (libm::sqrt(mean(&|c| c.square)), libm::sqrt(mean(&|c| c.square_realised)));
    t.peak = (
        libm::sqrt(mean(&|c| c.peak.0 * c.peak.0)),
        mean(&|c| c.peak.0),
        mean(&|c| f64::from(u8::from(c.peak.1))),
    );
    t.pointwise = mean(&|c| c.covered);
    t.whole = mean(&|c| f64::from(u8::from(c.whole)));
    t.half = mean(&|c| c.half);
    t
}

/// Figures of the comparisons of many jobs.
#[derive(Clone, Copy, Debug, Default)]
pub struct ChangeTally {
    /// Comparisons.
    pub count: usize,
    /// Share called a change in either direction.
    pub called: f64,
    /// Share called a change in the wrong direction.
    pub wrong: f64,
    /// Share of intervals that hold the truth.
    pub covered: f64,
    /// Mean error and mean half width.
    pub bias: f64,
    /// Root mean square error, and what remains of it once the levels of the very pulls are taken out.
    pub rms: (f64, f64),
    /// Mean half width.
    pub half: f64,
    /// Share of gain-curve points and of whole gain curves that hold.
    pub curve: (f64, f64),
    /// Mean smallest detectable change.
    pub detectable: f64,
    /// Share that the best test could call a change at 5 %, four pulls each at 0.7 %: with the scatter taken from the
    /// pulls, and with the scatter known beforehand.
    pub limit: (f64, f64),
}

/// Power of the two-sided 5 % test of a gain between two groups of `pulls` with relative scatter `deviation`. Student's
/// test is the uniformly most powerful unbiased one when the scatter must come from the pulls, the normal test when it
/// is known (Lehmann and Romano, Testing Statistical Hypotheses, chapter 5; from memory).
fn power(gain: f64, deviation: f64, pulls: f64, known: bool) -> f64 {
    let dof = if known { f64::INFINITY } else { 2.0 * pulls - 2.0 };
    let t = coverage_factor(dof);
    let delta = libm::log1p(gain) / (deviation * libm::sqrt(2.0 / pulls));
    1.0 - noncentral_t_cdf(t, dof, delta) + noncentral_t_cdf(-t, dof, delta)
}

/// Tallies comparisons.
pub fn changes<'a>(jobs: impl Iterator<Item = &'a JobScore>) -> ChangeTally {
    let all: Vec<ChangeScore> = jobs.filter_map(|j| j.change).collect();
    let n = all.len() as f64;
    let mean = |f: &dyn Fn(&ChangeScore) -> f64| all.iter().map(f).sum::<f64>() / n;
    let share = |f: &dyn Fn(&ChangeScore) -> bool| all.iter().filter(|c| f(c)).count() as f64 / n;
    ChangeTally {
        count: all.len(),
        called: share(&|c| c.verdict != 0),
        wrong: share(&|c| f64::from(c.verdict) * c.truth < 0.0),
        covered: share(&|c| c.covered),
        bias: mean(&|c| c.estimate - c.truth),
        rms: (
            libm::sqrt(mean(&|c| (c.estimate - c.truth) * (c.estimate - c.truth))),
            libm::sqrt(mean(&|c| c.realised * c.realised)),
        ),
        half: mean(&|c| c.half),
        curve: (mean(&|c| c.curve_covered), share(&|c| c.curve_whole)),
        detectable: mean(&|c| c.detectable),
        limit: (mean(&|c| power(c.truth, 0.007, 4.0, false)), mean(&|c| power(c.truth, 0.007, 4.0, true))),
    }
}
