//! Scores of many jobs to the figures of a table.

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
    }
}
