//! The product's answer to a simulated job, through its public door and from memory.

use fairpull::reduction::{Job, Outcome, reduce};
use fairpull_simulator::Run;

use crate::score::{Answer, Change, Estimate};

/// Reduces a simulated job.
///
/// # Errors
/// What the product says, in words.
pub fn outcome(run: &Run) -> Result<Outcome, String> {
    let job = Job::parse(&run.job.to_toml(), "job.toml").map_err(|e| e.to_string())?;
    let mut read = |name: &str| {
        run.logs
            .iter()
            .find(|l| l.file == name)
            .map(|l| l.bytes.clone())
            .ok_or_else(|| "no such file".to_string())
    };
    reduce(&job, &fairpull::builtin(), &mut read, &mut |_, _| true).map_err(|e| e.to_string())
}

/// The outcome in the terms of the scores.
#[must_use]
pub fn answer(out: &Outcome) -> Answer {
    let mut said = out.notices.clone();
    for p in out.states.iter().flat_map(|s| &s.pulls) {
        said.extend(p.flags.iter().map(|f| format!("{}: {f}", p.name)));
        said.extend(p.repairs.iter().map(|(what, count, _)| format!("{}: {what}, {count}", p.name)));
    }
    let states = out
        .states
        .iter()
        .map(|s| {
            s.curve
                .iter()
                .map(|p| Estimate {
                    rpm: p.rpm,
                    value: p.power.value,
                    interval: (p.power.low, p.power.high),
                    band: (p.band.low, p.band.high),
                })
                .collect()
        })
        .collect();
    let change = out.comparisons.first().map(|c| Change {
        mean: c.mean.value,
        interval: (c.mean.low, c.mean.high),
        band: out.band,
        curve: c
            .curve
            .iter()
            .map(|(rpm, point, whole)| Estimate {
                rpm: *rpm,
                value: point.value,
                interval: (point.low, point.high),
                band: (whole.low, whole.high),
            })
            .collect(),
        detectable: c.smallest_detectable,
    });
    let peak = |p: &fairpull::reduction::PeakOutcome| (p.value.value, (p.value.low, p.value.high));
    Answer { states, peaks: out.states.iter().map(|s| peak(&s.peak_power)).collect(), change, said }
}
