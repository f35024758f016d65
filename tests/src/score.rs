//! What a figure is worth: errors, coverage and verdicts against the known truth.

use fairpull_simulator::Run;

/// Lowest engine speed that counts, 1/min: below it some pulls have not begun.
pub const FROM_RPM: f64 = 2500.0;

/// One point of an estimated curve: engine speed, value, 95 % interval, interval for the whole curve.
#[derive(Clone, Copy, Debug)]
pub struct Estimate {
    /// 1/min.
    pub rpm: f64,
    /// W, or a gain.
    pub value: f64,
    /// 95 % at this point.
    pub interval: (f64, f64),
    /// 95 % for the whole curve at once.
    pub band: (f64, f64),
}

/// What a pipeline says about a comparison.
#[derive(Clone, Debug)]
pub struct Change {
    /// Mean gain over the band.
    pub mean: f64,
    /// Its 95 % interval.
    pub interval: (f64, f64),
    /// Band, 1/min.
    pub band: (f64, f64),
    /// Gain along the curve; empty when the pipeline gives none.
    pub curve: Vec<Estimate>,
    /// The pipeline's own smallest detectable change; NaN when it gives none.
    pub detectable: f64,
}

/// What a pipeline says about a job.
#[derive(Clone, Debug)]
pub struct Answer {
    /// Curve of each state.
    pub states: Vec<Vec<Estimate>>,
    /// Peak of each state, W.
    pub peaks: Vec<(f64, (f64, f64))>,
    /// First state against the second.
    pub change: Option<Change>,
    /// Everything said beside the figures: notices, flags, repairs.
    pub said: Vec<String>,
}

/// Sums over the points of one curve.
#[derive(Clone, Copy, Debug, Default)]
pub struct CurveScore {
    /// Points from [`FROM_RPM`].
    pub points: f64,
    /// Mean relative error against what these pulls did (their own levels in it).
    pub bias: f64,
    /// Mean square relative error against the state's truth.
    pub square: f64,
    /// Mean square relative error against what these pulls did (their own levels in it).
    pub square_realised: f64,
    /// Share of points whose interval holds the truth.
    pub covered: f64,
    /// Mean relative half width of the interval.
    pub half: f64,
    /// The band holds the truth at every point.
    pub whole: bool,
    /// Relative error of the peak, whether its interval holds the truth, and its half width.
    pub peak: (f64, bool, f64),
}

/// Score of one comparison.
#[derive(Clone, Copy, Debug, Default)]
pub struct ChangeScore {
    /// True mean gain over the pipeline's band.
    pub truth: f64,
    /// Estimate.
    pub estimate: f64,
    /// Error of the estimate once the levels of the very pulls are taken out.
    pub realised: f64,
    /// Half width.
    pub half: f64,
    /// The interval holds the truth.
    pub covered: bool,
    /// 1 gain, -1 loss, 0 no detectable change.
    pub verdict: i8,
    /// Share of points of the gain curve whose interval holds the truth.
    pub curve_covered: f64,
    /// The gain band holds the truth at every point.
    pub curve_whole: bool,
    /// Smallest detectable change as stated.
    pub detectable: f64,
}

/// Score of one state of one job; `None` when no point lies from [`FROM_RPM`] up.
#[must_use]
pub fn curve(run: &Run, state: usize, answer: &Answer) -> Option<CurveScore> {
    let pulls = &run.truth.states[state].pulls;
    let level = pulls.iter().map(|p| p.level).sum::<f64>() / pulls.len() as f64;
    let points: Vec<&Estimate> = answer.states[state].iter().filter(|e| e.rpm >= FROM_RPM).collect();
    let (first, last) = (points.first()?, points.last()?);
    let n = points.len() as f64;
    let mut s = CurveScore { points: n, whole: true, ..CurveScore::default() };
    for e in &points {
        let truth = run.truth.soaked_power_w(state, e.rpm);
        let error = e.value / truth - 1.0;
        let realised = e.value / (truth * level) - 1.0;
        s.bias += realised / n;
        s.square += error * error / n;
        s.square_realised += realised * realised / n;
        s.covered += f64::from(e.interval.0 <= truth && truth <= e.interval.1) / n;
        s.half += 0.5 * (e.interval.1 - e.interval.0) / e.value / n;
        s.whole &= e.band.0 <= truth && truth <= e.band.1;
    }
    let share = run.truth.soak_share(state);
    let (_, top) = run.truth.peak_power(state, first.rpm, last.rpm);
    let (value, interval) = answer.peaks[state];
    let top = top * share;
    s.peak =
        (value / top - 1.0, interval.0 <= top && top <= interval.1, 0.5 * (interval.1 - interval.0) / value);
    Some(s)
}

/// Score of the comparison of a job.
#[must_use]
pub fn change(run: &Run, answer: &Answer) -> Option<ChangeScore> {
    let c = answer.change.as_ref()?;
    let level = |s: usize| {
        let pulls = &run.truth.states[s].pulls;
        pulls.iter().map(|p| p.level).sum::<f64>() / pulls.len() as f64
    };
    let steps = 200;
    let mean = (0..=steps)
        .map(|i| c.band.0 + (c.band.1 - c.band.0) * f64::from(i) / f64::from(steps))
        .map(|n| libm::log1p(run.truth.gain(0, 1, n)))
        .sum::<f64>()
        / f64::from(steps + 1);
    let truth = libm::expm1(mean);
    let mut s = ChangeScore {
        truth,
        estimate: c.mean,
        realised: (1.0 + c.mean) / ((1.0 + truth) * level(1) / level(0)) - 1.0,
        half: 0.5 * (c.interval.1 - c.interval.0),
        covered: c.interval.0 <= truth && truth <= c.interval.1,
        verdict: i8::from(c.interval.0 > 0.0) - i8::from(c.interval.1 < 0.0),
        curve_whole: true,
        detectable: c.detectable,
        ..ChangeScore::default()
    };
    let points: Vec<&Estimate> = c.curve.iter().filter(|e| e.rpm >= FROM_RPM).collect();
    for e in &points {
        let g = run.truth.gain(0, 1, e.rpm);
        s.curve_covered += f64::from(e.interval.0 <= g && g <= e.interval.1) / points.len() as f64;
        s.curve_whole &= e.band.0 <= g && g <= e.band.1;
    }
    Some(s)
}

/// One point of a curve against the truth.
#[derive(Clone, Copy, Debug)]
pub struct PointScore {
    /// 1/min.
    pub rpm: f64,
    /// Relative error against what the pulls did.
    pub error: f64,
    /// Relative half width of the interval.
    pub half: f64,
    /// The interval holds the truth of the state.
    pub covered: bool,
}

/// Every point of a state's curve against the truth.
#[must_use]
pub fn profile(run: &Run, state: usize, answer: &Answer) -> Vec<PointScore> {
    let pulls = &run.truth.states[state].pulls;
    let level = pulls.iter().map(|p| p.level).sum::<f64>() / pulls.len() as f64;
    let point = |e: &Estimate| {
        let truth = run.truth.soaked_power_w(state, e.rpm);
        PointScore {
            rpm: e.rpm,
            error: e.value / (truth * level) - 1.0,
            half: 0.5 * (e.interval.1 - e.interval.0) / e.value,
            covered: e.interval.0 <= truth && truth <= e.interval.1,
        }
    };
    answer.states[state].iter().map(point).collect()
}
