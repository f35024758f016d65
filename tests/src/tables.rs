//! Lines of the tables of `docs/truth.md`.

use crate::campaign::JobScore;
use crate::score::PointScore;
use crate::tally::{self, ChangeTally, CurveTally};

/// Head of a table of [`curve_line`].
pub const CURVE_HEAD: &str = "| rig | calibration | pipeline | answered | bias % | RMS % | RMS % to the pulls | peak RMS % | peak bias % | points covered % | curves in band % | peaks covered % | half width % |\n|---|---|---|---|---|---|---|---|---|---|---|---|---|";

/// Head of a table of [`gain_line`].
pub const GAIN_HEAD: &str = "| true gain | pipeline | jobs | called a change % | limit % | limit, scatter known % | wrong way % | covered % | bias % | RMS % | RMS % to the pulls | half width % | gain points covered % | gain curves in band % | smallest detectable % |\n|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|";

/// Curves of one pipeline.
#[must_use]
pub fn curve_line(rig: &str, how: &str, who: &str, t: CurveTally) -> String {
    format!(
        "| {rig} | {how} | {who} | {}/{} | {:+.3} | {:.3} | {:.3} | {:.3} | {:+.3} | {:.1} | {:.1} | {:.1} | {:.2} |",
        t.answered.0,
        t.answered.1,
        100.0 * t.bias,
        100.0 * t.rms.0,
        100.0 * t.rms.1,
        100.0 * t.peak.0,
        100.0 * t.peak.1,
        100.0 * t.pointwise,
        100.0 * t.whole,
        100.0 * t.peak.2,
        100.0 * t.half
    )
}

/// Comparisons of one pipeline.
#[must_use]
pub fn gain_line(gain: &str, who: &str, t: ChangeTally) -> String {
    let ours = who == "fairpull";
    let or_dash = |x: f64| if ours { format!("{:.1}", 100.0 * x) } else { "-".into() };
    format!(
        "| {gain} | {who} | {} | {:.1} | {} | {} | {:.1} | {:.1} | {:+.3} | {:.3} | {:.3} | {:.2} | {} | {} | {} |",
        t.count,
        100.0 * t.called,
        or_dash(t.limit.0),
        or_dash(t.limit.1),
        100.0 * t.wrong,
        100.0 * t.covered,
        100.0 * t.bias,
        100.0 * t.rms.0,
        100.0 * t.rms.1,
        100.0 * t.half,
        or_dash(t.curve.0),
        or_dash(t.curve.1),
        or_dash(t.detectable)
    )
}

/// One hard case.
#[must_use]
pub fn hard_line(name: &str, done: &[JobScore]) -> String {
    let (c, g) = (tally::curves(done.iter()), tally::changes(done.iter()));
    let remarks = done.iter().map(|j| j.said.len()).sum::<usize>() as f64 / done.len().max(1) as f64;
    format!(
        "| {name} | {}/{} | {:+.2} | {:.2} | {:.1} | {:.1} | {:.2} | {:.2} | {:.1} | {:.1} | {remarks:.1} |",
        c.answered.0,
        c.answered.1,
        100.0 * c.bias,
        100.0 * c.rms.0,
        100.0 * c.pointwise,
        100.0 * c.whole,
        100.0 * c.half,
        100.0 * g.rms.0,
        100.0 * g.covered,
        100.0 * g.called
    )
}

/// Error along the engine speed, in bins of 500 1/min: with exact calibration, and how often intervals hold with hidden
/// errors.
#[must_use]
pub fn profile_lines(rig: &str, exact: &[&JobScore], hidden: &[&JobScore]) -> Vec<String> {
    let mut out = Vec::new();
    for bin in 3..14 {
        let low = 500.0 * f64::from(bin);
        let inside = |jobs: &[&JobScore]| -> Vec<PointScore> {
            let all = jobs.iter().flat_map(|j| j.profile.iter().copied());
            all.filter(|p| p.rpm >= low && p.rpm < low + 500.0).collect()
        };
        let (own, held) = (inside(exact), inside(hidden));
        if own.is_empty() || held.is_empty() {
            continue;
        }
        let mean = |of: &[PointScore], f: &dyn Fn(&PointScore) -> f64| {
            of.iter().map(f).sum::<f64>() / of.len() as f64
        };
        out.push(format!(
            "| {rig} | {low:.0} to {:.0} | {} | {:+.3} | {:.3} | {:.2} | {:.1} |",
            low + 500.0,
            own.len(),
            100.0 * mean(&own, &|p| p.error),
            100.0 * libm::sqrt(mean(&own, &|p| p.error * p.error)),
            100.0 * mean(&held, &|p| p.half),
            100.0 * mean(&held, &|p| f64::from(u8::from(p.covered)))
        ));
    }
    out
}
