//! The committed demo job against its truth, and a smoke of the campaign (the full one: `cargo xtask truth`).

#![allow(clippy::panic)]

use fairpull::reduction::{Job, reduce};
use fairpull_simulator::{DEMO_SEED, Gain, Order, RigKind, demo_scenario, usual_job};
use fairpull_tests::{campaign, pipeline, score, tally};

/// Figures to hold: crank power from 2500 1/min to the peak within 0.5 % RMS, the peak within 0.5 %.
#[test]
fn demo_agrees_with_its_truth() {
    let folder = format!("{}/../fixtures/demo", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(format!("{folder}/job.toml")).unwrap();
    let job = Job::parse(&text, "job.toml").unwrap_or_else(|e| panic!("{e}"));
    let mut read = |name: &str| std::fs::read(format!("{folder}/{name}")).map_err(|e| e.to_string());
    let out =
        reduce(&job, &fairpull::builtin(), &mut read, &mut |_, _| true).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(out.states.len(), 2);
    // the generator's closed form at the committed seed
    let run = demo_scenario().run(DEMO_SEED);
    for (s, state) in out.states.iter().enumerate() {
        let (top, peak) = run.truth.peak_power(s, 2500.0, 6600.0);
        let share = run.truth.soak_share(s);
        let error = state.peak_power.value.value / (peak * share) - 1.0;
        assert!(error.abs() <= 0.005, "{}: peak off by {:.3} %", state.name, 100.0 * error);
        let points: Vec<_> = state.curve.iter().filter(|p| p.rpm >= 2500.0 && p.rpm <= top).collect();
        assert!(points.len() > 20);
        let square = points
            .iter()
            .map(|p| p.power.value / run.truth.soaked_power_w(s, p.rpm) - 1.0)
            .map(|e| e * e)
            .sum::<f64>()
            / points.len() as f64;
        assert!(libm::sqrt(square) <= 0.005, "{}: RMS {:.3} %", state.name, 100.0 * libm::sqrt(square));
    }
    // on another standard the same peak by another factor, as well known
    for state in &out.states {
        assert_eq!(state.restated.len(), 2);
        let peak = &state.peak_power.value;
        for (factor, there) in state.restated.iter().filter_map(|r| r.figure.as_ref().ok()) {
            let by = there.value / peak.value;
            let own = state.pulls.iter().map(|p| p.factor).sum::<f64>() / state.pulls.len() as f64;
            assert!((by / (factor / own) - 1.0).abs() < 1e-4, "{by} {factor} {own}");
            assert!((there.low / peak.low / by - 1.0).abs() < 1e-12);
            assert!((there.high / peak.high / by - 1.0).abs() < 1e-12);
        }
    }
    let gain = &out.comparisons[0].mean;
    assert!(gain.low > 0.05 && gain.high < 0.11, "{gain:?}");
}

/// Six seeds of the generator: 95 % intervals hold the true curve at 90 % of grid points or more, in the mean.
#[test]
fn intervals_hold_over_seeds() {
    let shares = campaign::spread(6, |i| {
        let run = demo_scenario().run(100 + i as u64);
        let out = pipeline::outcome(&run).unwrap_or_else(|e| panic!("{e}"));
        let answer = pipeline::answer(&out);
        (0..2).filter_map(|s| score::curve(&run, s, &answer)).map(|c| c.covered).sum::<f64>() / 2.0
    });
    let mean = shares.iter().sum::<f64>() / shares.len() as f64;
    assert!(mean >= 0.9, "{shares:?}");
}

/// Two randomised jobs of each rig kind with exact calibration.
#[test]
fn each_rig_kind_is_near_the_truth() {
    for (kind, most) in
        [(RigKind::InertiaRoller, 0.004), (RigKind::BrakedRoller, 0.006), (RigKind::Hub, 0.004)]
    {
        let done = campaign::spread(2, |i| {
            let seed = 500 + i as u64;
            let job = usual_job(kind, Gain::flat(0.02), 4, Order::TwoDays).randomised(seed).calibrated();
            campaign::pair(&job, seed).ours
        });
        let t = tally::curves(done.iter());
        assert_eq!(t.answered, (2, 2), "{kind:?}");
        assert!(t.rms.1 < most, "{kind:?}: {:.3} % RMS", 100.0 * t.rms.1);
    }
}
