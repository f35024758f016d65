//! What a report must not hide: a pull that stands out, a drag that was hardly measured, a trail that cannot be redone.
#![allow(clippy::panic, clippy::unwrap_used, clippy::expect_used, clippy::missing_panics_doc)]

use std::collections::BTreeMap;

use fairpull::reduction::{Job, Outcome, reduce};
use fairpull::report::model::Step;
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

/// What a step prints: `name = number` of its inputs and of its output, and the last place of the latter.
fn printed(step: &Step) -> (BTreeMap<String, f64>, f64, f64) {
    let number = |t: &str| -> String {
        t.chars()
            .take_while(|c| c.is_ascii_digit() || ".-".contains(*c))
            .collect::<String>()
            .trim_end_matches('.')
            .into()
    };
    let mut given = BTreeMap::new();
    for part in step.inputs.split(", ") {
        if let Some((name, value)) = part.rsplit_once(" = ")
            && let (Some(name), Ok(value)) = (name.split(' ').next_back(), number(value).parse())
        {
            given.insert(name.to_owned(), value);
        }
    }
    let value = number(step.output.rsplit_once("= ").unwrap_or_else(|| panic!("{}", step.output)).1);
    let places = value.split_once('.').map_or(0, |(_, d)| d.len());
    let last = (0..places).fold(1.0, |x, _| x / 10.0);
    (given, value.parse().unwrap_or_else(|e| panic!("{}: {e}", step.output)), last)
}

/// Every figure of the trail from what stands before it, as somebody with a pocket calculator would: within two of the
/// last place printed.
fn redone(trail: &[Step], rig: RigKind) {
    let find = |words: &str| {
        trail.iter().find(|s| s.what.starts_with(words)).unwrap_or_else(|| panic!("no step {words:?}"))
    };
    let check = |words: &str, by_hand: &dyn Fn(&dyn Fn(&str) -> f64) -> f64| {
        let step = find(words);
        let (given, value, last) = printed(step);
        let of = |name: &str| *given.get(name).unwrap_or_else(|| panic!("no {name} in {:?}", step.inputs));
        let got = by_hand(&of);
        assert!((got - value).abs() <= 2.0 * last, "{words}: {got} by hand, {}", step.output);
        value
    };
    let first = find("speed and acceleration");
    let v = printed(&Step { inputs: first.output.clone(), ..first.clone() }).0["v"];
    let squared = |x: f64| x * x;
    let force = check("force at the contact", &|of| match rig {
        RigKind::Hub => of("T/r"),
        _ => {
            let braked = if rig == RigKind::BrakedRoller { of("F_b") } else { 0.0 };
            let own = of("A") + of("B") * v + of("C") * v * v;
            assert!((own - of("F_p")).abs() < 2e-3);
            of("J") / squared(of("R")) * of("a") + braked + own
        }
    });
    check("observed power", &|of| of("F") * of("v") * 1e-3);
    let rim = if rig == RigKind::Hub {
        v
    } else {
        check("rim speed", &|of| of("v") / (1.0 - of("κ") * 1e-5 * of("F")))
    };
    let wheels = |of: &dyn Fn(&str) -> f64| of("n") * of("J_w") / squared(of("r"));
    let turning = check("rotating mass", &|of| wheels(of) + (of("J_g") + of("J_e")) / squared(of("ρ")));
    let (stated, _, _) = printed(find("rotating mass"));
    let open = stated["n"] * stated["J_w"] / squared(stated["r"]) + stated["J_g"] / squared(stated["ρ"]);
    let faster = check("acceleration of the rim", &|of| {
        let x = of("x");
        (1.0 - x) * (of("v₃") - of("v₁")) / of("Δ₁") + x * (of("v₄") - of("v₂")) / of("Δ₂")
    });
    let accelerating = check("power that accelerates", &|of| {
        assert_eq!((of("m_rot"), of("a_rim")), (turning, faster));
        of("m_rot") * of("a_rim") * of("v_rim") * 1e-3
    });
    let drag = check("drag of driveline", &|of| {
        assert!((of("m_open") - open).abs() < 2e-4, "{open}");
        let slowing = of("k₀") + of("k₁") * of("v_rim") + of("k₂") * squared(of("v_rim"));
        match rig {
            RigKind::Hub => of("m_open") * slowing - of("F_h"),
            _ => (of("m_D") + of("m_open")) * slowing - of("F_p"),
        }
    });
    let crank = check("crankshaft power", &|of| {
        assert_eq!((of("F"), of("P_acc"), of("F_drag")), (force, accelerating, drag));
        assert!((of("v_rim") - rim).abs() < 2e-5);
        ((of("F") + of("F_drag")) * of("v_rim") * 1e-3 + of("P_acc")) / (1.0 - of("λ"))
    });
    let factor = printed(find("correction factor")).1;
    let last = find("corrected power");
    assert_eq!(last.inputs, format!("{factor:.6} × {crank:.3} kW"));
    assert!((factor * crank - printed(last).1).abs() < 2e-3, "{}", last.output);
}

#[test]
fn the_trail_is_redone_by_hand() {
    let folder = format!("{}/../fixtures/demo", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(format!("{folder}/job.toml")).unwrap();
    let job = Job::parse(&text, "job.toml").unwrap_or_else(|e| panic!("{e}"));
    let mut read = |name: &str| std::fs::read(format!("{folder}/{name}")).map_err(|e| e.to_string());
    let catalogue = fairpull::builtin();
    let out = reduce(&job, &catalogue, &mut read, &mut |_, _| true).unwrap_or_else(|e| panic!("{e}"));
    let model = fairpull::present(&job, &out, &catalogue);
    redone(&model.trail, RigKind::InertiaRoller);
    // ISO 1585: (99/p_s)^1.2 (T/298)^0.6; SAE J1349: 1.18 (99/p_s) (T/298)^0.5 − 0.18; DIN 70020: (101.3/p) (T/293)^0.5
    let factor = |what: &str, formula: &dyn Fn(f64, f64, f64) -> f64| {
        let step = model.trail.iter().find(|s| s.what == what).unwrap_or_else(|| panic!("{what}"));
        let after = |words: &str| {
            let rest = step.inputs.rsplit_once(words).unwrap_or_else(|| panic!("{words}")).1;
            rest.split(' ').next().and_then(|n| n.parse::<f64>().ok()).unwrap_or_else(|| panic!("{rest}"))
        };
        let got = formula(after("total "), after("dry "), after(" = "));
        assert!((got - printed(step).1).abs() <= 2e-6, "{what}: {got} by hand, {}", step.output);
        printed(step).1
    };
    let basis =
        factor("correction factor", &|_, dry, t| libm::pow(99.0 / dry, 1.2) * libm::pow(t / 298.0, 0.6));
    let sae = factor("correction factor of SAE J1349 for this pull", &|_, dry, t| {
        1.18 * (99.0 / dry) * libm::sqrt(t / 298.0) - 0.18
    });
    let din = factor("correction factor of DIN 70020 for this pull", &|total, _, t| {
        101.3 / total * libm::sqrt(t / 293.0)
    });
    for (other, designation) in [(sae, "SAE J1349"), (din, "DIN 70020")] {
        let what = format!("peak of state \"after\" on {designation}");
        let step = model.trail.iter().find(|s| s.what == what).unwrap_or_else(|| panic!("{what}"));
        let (given, value, last) = printed(step);
        assert!(step.inputs.ends_with(&format!("for this pull {other:.6}/{basis:.6}")), "{}", step.inputs);
        // all pulls of the state share the air of the job
        let got = given["P"] * other / basis;
        assert!((got - value).abs() <= 2.0 * last, "{what}: {got} by hand, {}", step.output);
        let row = model.states[1].restated.iter().find(|r| r.designation == designation);
        let shown = row.and_then(|r| r.peak_power_kw).map(|i| i.value).unwrap_or_else(|| panic!("{what}"));
        assert!((shown - value).abs() <= last, "{what}: {shown}");
    }
    for kind in [RigKind::BrakedRoller, RigKind::Hub] {
        let run = usual_job(kind, Gain::NONE, 3, Order::Alternating).run(3);
        let job = Job::parse(&run.job.to_toml(), "job.toml").unwrap_or_else(|e| panic!("{e}"));
        let out = pipeline::outcome(&run).unwrap_or_else(|e| panic!("{e}"));
        redone(&fairpull::present(&job, &out, &catalogue).trail, kind);
    }
}
