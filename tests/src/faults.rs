//! Faulty recordings against the same recordings without the fault.

use fairpull_simulator::{Fault, Gain, Order, RigKind, usual_job};

use crate::pipeline;
use crate::score::Answer;

/// What became of a faulty job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    /// Refused with a reason.
    Refused,
    /// Something is said that is not said of the clean recording; no figure moved by more than its interval.
    Said,
    /// Something is said, and a figure moved by more than its interval.
    SaidAndMoved,
    /// Nothing is said, and no figure moved by more than its interval.
    Unmoved,
    /// Nothing is said, and a figure moved by more than its interval.
    SilentlyMoved,
}

/// Largest change of a figure between two answers, in half widths of the clean interval.
fn moved(clean: &Answer, faulty: &Answer) -> f64 {
    let mut most: f64 = 0.0;
    for (a, b) in clean.states.iter().zip(&faulty.states) {
        for x in a {
            if let Some(y) = b.iter().find(|y| (y.rpm - x.rpm).abs() < 1e-6) {
                let half = 0.5 * (x.interval.1 - x.interval.0);
                most = most.max((y.value - x.value).abs() / half);
            }
        }
    }
    for ((a, i), (b, _)) in clean.peaks.iter().zip(&faulty.peaks) {
        most = most.max((a - b).abs() / (0.5 * (i.1 - i.0)));
    }
    if let (Some(a), Some(b)) = (&clean.change, &faulty.change) {
        most = most.max((a.mean - b.mean).abs() / (0.5 * (a.interval.1 - a.interval.0)));
    }
    most
}

/// One job with a fault in every log, or in the first alone, and without.
#[must_use]
pub fn fate(kind: RigKind, faults: &[Fault], every: bool, seed: u64) -> (Fate, f64, Vec<String>) {
    let job = usual_job(kind, Gain::flat(0.02), 4, Order::TwoDays).randomised(seed);
    let clean = pipeline::outcome(&job.run(seed)).map(|o| pipeline::answer(&o));
    let mut bad = job.clone();
    for log in bad.logs.iter_mut().take(if every { usize::MAX } else { 1 }) {
        log.faults.extend_from_slice(faults);
    }
    let faulty = pipeline::outcome(&bad.run(seed)).map(|o| pipeline::answer(&o));
    match (clean, faulty) {
        (Ok(c), Ok(f)) => {
            let by = moved(&c, &f);
            let new: Vec<String> = f.said.iter().filter(|s| !c.said.contains(s)).cloned().collect();
            let fate = match (new.is_empty(), by > 1.0) {
                (true, false) => Fate::Unmoved,
                (true, true) => Fate::SilentlyMoved,
                (false, false) => Fate::Said,
                (false, true) => Fate::SaidAndMoved,
            };
            (fate, by, new)
        }
        (_, Err(why)) => (Fate::Refused, 0.0, vec![why]),
        (Err(why), Ok(_)) => (Fate::SilentlyMoved, f64::INFINITY, vec![why]),
    }
}
