//! Many jobs, each with its own seed, on all cores; the result does not depend on how many there are.

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use fairpull_simulator::{Gain, Order, RigKind, Run, Scenario, usual_job};

use crate::score::{self, Answer, ChangeScore, CurveScore, PointScore};
use crate::{pipeline, textbook};

/// Scores of one job by one pipeline.
#[derive(Clone, Debug, Default)]
pub struct JobScore {
    /// Curve of each state.
    pub curves: Vec<CurveScore>,
    /// Comparison.
    pub change: Option<ChangeScore>,
    /// Why there is no answer.
    pub refused: Option<String>,
    /// Every point of the curves.
    pub profile: Vec<PointScore>,
    /// Notices, flags and repairs.
    pub said: Vec<String>,
}

/// One job scored by the product and by the textbook.
#[derive(Clone, Debug, Default)]
pub struct Pair {
    /// The product.
    pub ours: JobScore,
    /// The textbook pipeline.
    pub textbook: JobScore,
}

fn scored(run: &Run, answer: Result<Answer, String>) -> JobScore {
    match answer {
        Err(why) => JobScore { refused: Some(why), ..JobScore::default() },
        Ok(a) => JobScore {
            curves: (0..a.states.len()).filter_map(|s| score::curve(run, s, &a)).collect(),
            change: score::change(run, &a),
            profile: (0..a.states.len()).flat_map(|s| score::profile(run, s, &a)).collect(),
            refused: None,
            said: a.said,
        },
    }
}

/// Simulates a scenario with a seed and scores it.
#[must_use]
pub fn pair(scenario: &Scenario, seed: u64) -> Pair {
    let run = scenario.run(seed);
    let ours = scored(&run, pipeline::outcome(&run).map(|o| pipeline::answer(&o)));
    let textbook = scored(&run, textbook::answer(&run).ok_or_else(|| "no pull".to_string()));
    Pair { ours, textbook }
}

/// `work(0..count)` on all cores, in order.
pub fn spread<T: Send>(count: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let done = Mutex::new(Vec::with_capacity(count));
    let cores = std::thread::available_parallelism().map_or(1, core::num::NonZero::get);
    std::thread::scope(|scope| {
        for _ in 0..cores {
            scope.spawn(|| {
                loop {
                    let i = next.fetch_add(1, Ordering::Relaxed);
                    if i >= count {
                        return;
                    }
                    let result = work(i);
                    if let Ok(mut all) = done.lock() {
                        all.push((i, result));
                    }
                }
            });
        }
    });
    let mut all = done.into_inner().unwrap_or_default();
    all.sort_by_key(|(i, _)| *i);
    all.into_iter().map(|(_, t)| t).collect()
}

/// The true gains of a campaign: word and gain.
pub const GAINS: [(&str, Gain); 7] = [
    ("0", Gain::flat(0.0)),
    ("0.7 %", Gain::flat(0.007)),
    ("1 %", Gain::flat(0.01)),
    ("1.5 %", Gain::flat(0.015)),
    ("2 %", Gain::flat(0.02)),
    ("5 %", Gain::flat(0.05)),
    ("5 % from 5000 1/min", Gain::top_end(0.05, 5000.0)),
];

/// The rig kinds of a campaign, with their names.
pub const KINDS: [(RigKind, &str); 3] = [
    (RigKind::InertiaRoller, "inertia roller"),
    (RigKind::BrakedRoller, "braked roller"),
    (RigKind::Hub, "hub"),
];

/// First seed for a rig kind: no two kinds share a seed, so that their draws are independent.
#[must_use]
pub const fn first_seed(kind: RigKind, seed: u64) -> u64 {
    seed + match kind {
        RigKind::InertiaRoller => 0,
        RigKind::BrakedRoller => 1_000_000,
        RigKind::Hub => 2_000_000,
    }
}

/// Randomised jobs of one rig kind: `count` for each of [`GAINS`], seeds from `first_seed(kind, seed)`.
pub fn randomised(kind: RigKind, count: usize, seed: u64, exact: bool, order: Order) -> Vec<(usize, Pair)> {
    spread(count * GAINS.len(), |i| {
        let g = i % GAINS.len();
        let seed = first_seed(kind, seed) + i as u64;
        let job = usual_job(kind, GAINS[g].1, 4, order).randomised(seed);
        let job = if exact { job.calibrated() } else { job };
        (g, pair(&job, seed))
    })
}
