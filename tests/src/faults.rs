//! Faulty recordings against the same recordings without the fault.

use fairpull_simulator::{Dialect, Gain, Order, Random, RigKind, Run, usual_faults, usual_job};

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

/// A fault and what became of the job that carries it.
#[derive(Clone, Debug)]
pub struct Verdict {
    /// The fault in a word.
    pub fault: &'static str,
    /// In every log, or in the first alone.
    pub every: bool,
    /// What became of it.
    pub fate: Fate,
    /// Largest change of a figure, in half widths of the clean interval.
    pub moved: f64,
}

/// Every usual fault planted in one randomised job, in the first log alone and in all of them.
#[must_use]
pub fn fates(kind: RigKind, seed: u64) -> Vec<Verdict> {
    let run = usual_job(kind, Gain::flat(0.02), 4, Order::TwoDays).randomised(seed).run(seed);
    let answer = |run: &Run| pipeline::outcome(run).map(|o| pipeline::answer(&o));
    let clean = answer(&run);
    let mut out = Vec::new();
    for (fault, list) in usual_faults(kind, &mut Random::new(seed, 8)) {
        for every in [false, true] {
            let mut bad = run.clone();
            for log in bad.logs.iter_mut().take(if every { usize::MAX } else { 1 }) {
                list.iter().for_each(|f| f.plant(&mut log.table));
                log.bytes = Dialect::default().write(&log.table);
            }
            let (fate, moved) = judge(&clean, &answer(&bad));
            out.push(Verdict { fault, every, fate, moved });
        }
    }
    out
}

fn judge(clean: &Result<Answer, String>, faulty: &Result<Answer, String>) -> (Fate, f64) {
    match (clean, faulty) {
        (Ok(c), Ok(f)) => {
            let by = moved(c, f);
            let said = f.said.iter().any(|s| !c.said.contains(s));
            let fate = match (said, by > 1.0) {
                (false, false) => Fate::Unmoved,
                (false, true) => Fate::SilentlyMoved,
                (true, false) => Fate::Said,
                (true, true) => Fate::SaidAndMoved,
            };
            (fate, by)
        }
        (_, Err(_)) => (Fate::Refused, 0.0),
        (Err(_), Ok(_)) => (Fate::SilentlyMoved, f64::INFINITY),
    }
}
