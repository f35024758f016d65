//! What a report must not hide: a pull that stands out, a drag that was hardly measured, a trail that cannot be redone.
#![allow(clippy::panic, clippy::unwrap_used, clippy::expect_used, clippy::missing_panics_doc)]

use fairpull::reduction::Outcome;
use fairpull_simulator::{Gain, Order, RigKind, Run, usual_job};
use fairpull_tests::pipeline;

fn quiet(plateau: f64) -> Run {
    let mut scenario = usual_job(RigKind::InertiaRoller, Gain::NONE, 4, Order::TwoDays);
    scenario.repeatability = 0.002;
    scenario.vehicle.torque.plateau_nm *= plateau;
    scenario.run(11)
}

fn flags(outcome: &Outcome) -> Vec<(String, String)> {
    outcome
        .states
        .iter()
        .flat_map(|s| &s.pulls)
        .flat_map(|p| p.flags.iter().map(|f| (p.name.clone(), f.clone())))
        .filter(|(_, f)| f.starts_with("outlying"))
        .collect()
}

/// One pull 4 % above the others, in a job of four and four with 0.2 % scatter, is named and kept.
#[test]
fn an_outlying_pull_is_named_and_kept() {
    let mut run = quiet(1.0);
    assert_eq!(flags(&pipeline::outcome(&run).unwrap()), Vec::new());
    let strong = quiet(1.04);
    run.logs[1].bytes = strong.logs[1].bytes.clone();
    let outcome = pipeline::outcome(&run).unwrap();
    let found = flags(&outcome);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].0, run.logs[1].file);
    assert!(found[0].1.contains("it is kept"), "{}", found[0].1);
    let pulls: usize = outcome.states.iter().map(|s| s.pulls.len()).sum();
    assert_eq!(pulls, 8);
}

/// A coast-down of 1.5 s leaves the drag at lower speeds to a prior: the interval says so.
#[test]
fn a_short_coast_down_widens_the_interval() {
    let long = usual_job(RigKind::InertiaRoller, Gain::NONE, 4, Order::TwoDays).run(5);
    let short = usual_job(RigKind::InertiaRoller, Gain::NONE, 4, Order::TwoDays).coasting(1.5).run(5);
    let width = |run: &Run| {
        let o = pipeline::outcome(run).unwrap();
        let p = *o.states[0].curve.iter().find(|p| p.rpm == 3000.0).unwrap();
        let drag: f64 = o.states[0]
            .budget
            .iter()
            .filter(|b| b.source.starts_with("drag beyond"))
            .map(|b| b.relative)
            .sum();
        (p.rig, drag)
    };
    let ((wide, open), (narrow, closed)) = (width(&short), width(&long));
    assert!(wide > 1.02 * narrow, "{wide} {narrow}");
    assert!(open > 10.0 * closed, "{open} {closed}");
}

/// Numbers in a text, in order.
fn numbers(text: &str) -> Vec<f64> {
    text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-'))
        .filter_map(|t| t.trim_matches('.').parse().ok())
        .collect()
}

/// The value that stands behind `name = ` in a text.
fn named(text: &str, name: &str) -> f64 {
    let rest = text.split(&format!("{name} = ")).nth(1).unwrap_or_else(|| panic!("no {name} in {text}"));
    numbers(rest)[0]
}

/// The trail of the demo job, redone with nothing but the numbers it prints.
#[test]
fn the_trail_can_be_redone_by_hand() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../fixtures/demo");
    let text = std::fs::read_to_string(format!("{folder}/job.toml")).unwrap();
    let job = fairpull::reduction::Job::parse(&text, "job.toml").unwrap();
    let catalogue = fairpull::builtin();
    let outcome = fairpull::reduction::reduce(
        &job,
        &catalogue,
        &mut |f| std::fs::read(format!("{folder}/{f}")).map_err(|e| e.to_string()),
        &mut |_, _| true,
    )
    .unwrap();
    let trail = fairpull::present(&job, &outcome, &catalogue).trail;
    let step =
        |what: &str| trail.iter().find(|s| s.what.starts_with(what)).unwrap_or_else(|| panic!("no {what}"));
    let close = |got: f64, printed: f64, digits: f64| {
        assert!((got - printed).abs() <= digits, "{got} {printed}");
    };
    let force = step("force at the contact");
    let f = named(&force.inputs, "m_D") * named(&force.inputs, "a") + named(&force.inputs, "F_p");
    close(f, named(&force.output, "F"), 2e-3);
    let wheel = step("observed power");
    close(
        named(&wheel.inputs, "F") * named(&wheel.inputs, "v") * 1e-3,
        named(&wheel.output, "P_wheel"),
        1e-3,
    );
    let rim = step("rim speed");
    let slip = named(&rim.inputs, "κ") / 100.0 * named(&rim.inputs, "F") / 1000.0;
    close(named(&rim.inputs, "v") / (1.0 - slip), named(&rim.output, "v_rim"), 2e-3);
    let crank = step("crankshaft power");
    let (i, v) = (&crank.inputs, named(&crank.inputs, "v_rim"));
    let p = (named(i, "F") * v * 1e-3 + named(i, "P_acc") + named(i, "F_drag") * v * 1e-3)
        / (1.0 - named(i, "λ"));
    close(p, named(&crank.output, "P_crank"), 3e-3);
    let factor = step("correction factor");
    let a = libm::pow(99.0 / numbers(&factor.inputs)[2], 1.2)
        * libm::pow(named(&factor.inputs, "T = t + 273").max(289.0) / 298.0, 0.6);
    close(a, named(&factor.output, "factor"), 2e-6);
    let last = step("corrected power");
    let both = numbers(&last.inputs);
    close(both[0] * both[1], named(&last.output, "P"), 2e-3);
}
