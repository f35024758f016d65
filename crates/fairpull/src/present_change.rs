//! A comparison of two states for reading.

use fairpull_reduction::{Outcome, Verdict};
use fairpull_report::model::{ChannelChange, Comparison, GainPoint};

use crate::reading_unit::{by, reading_unit};

pub(crate) fn comparison(c: &fairpull_reduction::ComparisonOutcome, outcome: &Outcome) -> Comparison {
    let name = |i: usize| outcome.states.get(i).map_or_else(String::new, |s| s.name.clone());
    let verdict = match c.verdict {
        Verdict::Gain => "gain",
        Verdict::Loss => "loss",
        Verdict::NoDetectableChange => "no-detectable-change",
    };
    Comparison {
        from: name(c.from),
        to: name(c.to),
        curve: c
            .curve
            .iter()
            .map(|(rpm, g, b)| GainPoint {
                engine_speed_rpm: *rpm,
                gain_percent: by(g, 100.0),
                gain_band_percent: by(b, 100.0),
            })
            .collect(),
        band_rpm: [outcome.band.0, outcome.band.1],
        mean_gain_percent: by(&c.mean, 100.0),
        mean_gain_kw: by(&c.mean_watts, 1e-3),
        peak_gain_percent: by(&c.peak, 100.0),
        peak_gain_kw: by(&c.peak_watts, 1e-3),
        smallest_detectable_percent: 100.0 * c.smallest_detectable,
        verdict: verdict.into(),
        statement: statement(c, outcome),
        within_percent: 100.0 * c.within,
        more_pulls: c.more_pulls,
        remarks: c.remarks.clone(),
        channels: c
            .channels
            .iter()
            .map(|(role, from, to, change)| {
                let u = reading_unit(*role);
                let i = u.difference(change);
                ChannelChange {
                    role: role.id().into(),
                    name: role.words().into(),
                    unit: u.word.into(),
                    from: u.one(*from),
                    to: u.one(*to),
                    detectable: i.lo95 > 0.0 || i.hi95 < 0.0,
                    change: i,
                }
            })
            .collect(),
        stress: Vec::new(),
        cost: String::new(),
    }
}

fn statement(c: &fairpull_reduction::ComparisonOutcome, outcome: &Outcome) -> String {
    let mean = &c.mean;
    let half = 50.0 * (mean.high - mean.low);
    let range = format!("{:.0} to {:.0} 1/min", outcome.band.0, outcome.band.1);
    // what the job leaves open stands in the same sentence as the figure
    let open = c.if_compensated.map_or(String::new(), |g| {
        format!(", provided that the factor applies; {:+.1} % if the engine's control compensates for the ambient by itself", 100.0 * g)
    });
    match c.verdict {
        Verdict::Gain => format!(
            "A gain of {:.1} ± {half:.1} % on average from {range} (95 % interval {:.1} to {:.1} %){open}.",
            100.0 * mean.value,
            100.0 * mean.low,
            100.0 * mean.high
        ),
        Verdict::Loss => format!(
            "A loss of {:.1} ± {half:.1} % on average from {range} (95 % interval {:.1} to {:.1} %){open}.",
            -100.0 * mean.value,
            -100.0 * mean.high,
            -100.0 * mean.low
        ),
        Verdict::NoDetectableChange => {
            let more = c.more_pulls.map_or(String::new(), |n| {
                format!(" If the change is as large as it looks, about {n} more pulls a state would show it.")
            });
            format!(
                "No detectable change: {:+.1} ± {half:.1} % on average from {range}; this job would detect {:.1} % or more. With 95 % confidence the change lies within ± {:.1} %.{more}",
                100.0 * mean.value,
                100.0 * c.smallest_detectable,
                100.0 * c.within
            )
        }
    }
}
