//! Power of recordings whose motion was chosen, on each kind of rig, against the forces behind them in closed form.
#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used)]

mod made;

use fairpull_reduction::Outcome;
use made::{Kind, Log};

fn alone(log: &Log) -> Outcome {
    made::reduced(&made::job(log.kind, &[1], ""), &|_| log.text()).unwrap_or_else(|e| panic!("{e}"))
}

/// Largest relative errors of the curve: crank power, wheel power.
fn errors(log: &Log, out: &Outcome) -> (f64, f64) {
    let state = &out.states[0];
    assert!(state.curve.len() > 20, "{}", state.curve.len());
    let factor = state.pulls[0].factor;
    state.curve.iter().fold((0.0, 0.0), |worst: (f64, f64), p| {
        let s = log.when(p.rpm);
        let crank = (p.power.value / factor / log.crank(s) - 1.0).abs();
        let wheel = (p.wheel.value / log.wheel(s) - 1.0).abs();
        (worst.0.max(crank), worst.1.max(wheel))
    })
}

fn relative(got: f64, expected: f64, by: f64) {
    assert!((got / expected - 1.0).abs() < by, "{got} {expected}");
}

/// Crank and wheel power along the whole pull, with and without a late force channel.
#[test]
fn power_of_a_chosen_motion() {
    for (kind, late, most) in [
        (Kind::Inertia, 0.0, 6e-4),
        (Kind::Braked, 0.0, 3e-4),
        (Kind::Braked, 0.08, 3e-4),
        (Kind::Hub, 0.0, 1e-4),
        (Kind::Hub, 0.08, 1e-4),
    ] {
        let mut log = Log::new(kind);
        log.late = late;
        let out = alone(&log);
        let (crank, wheel) = errors(&log, &out);
        assert!(crank < most && wheel < most, "{kind:?} {late}: {crank} {wheel}");
        // saturation at 24 °C is 2.985 kPa (Wagner and Pruss)
        relative(out.states[0].pulls[0].factor, made::iso_1585(98.5 - 0.4 * 2.985, 24.0), 1e-5);
        let turn = core::f64::consts::TAU * made::RADIUS / made::RATIO;
        relative(out.drive.travel_per_turn, turn, 1e-4);
        assert!((out.drive.slip_per_kilonewton - 1e3 * log.slip).abs() < 1e-4, "{:?}", out.drive);
        assert!(out.drive.delay.abs() < 2e-3 && out.drive.measured, "{:?}", out.drive);
    }
}

/// Every line of the point worked through, for the rig kinds.
#[test]
fn the_worked_point_of_a_chosen_motion() {
    for kind in [Kind::Inertia, Kind::Braked, Kind::Hub] {
        let log = Log::new(kind);
        let w = alone(&log).worked.unwrap();
        let s = log.when(w.rpm);
        let v = log.speed(s);
        relative(w.v, v, 1e-4);
        relative(w.a, log.acceleration - 2.0 * log.fade * s, 1e-3);
        relative(w.contact, log.contact(s), 3e-4);
        relative(w.rim, log.rim(s), 1e-4);
        relative(w.rotating, Log::rotating(true), 1e-3);
        relative(w.drag, made::DRAG[0] + v * (made::DRAG[1] + v * made::DRAG[2]), 3e-2);
        relative(w.wheel, log.wheel(s), 3e-4);
        relative(w.crank, log.crank(s), 3e-4);
        relative(w.handed, w.contact * w.rim, 1e-9);
        relative(w.corrected, w.crank * w.factor, 1e-9);
        assert_eq!(w.share, made::SHARE);
        assert!((w.slip - log.slip * log.contact(s)).abs() < 3e-4);
        relative(w.total_kpa, 98.5, 1e-9);
        relative(w.vapour_kpa, 0.4 * 2.985, 1e-3);
        relative(w.temperature_c, 24.0, 1e-9);
        match kind {
            Kind::Hub => assert_eq!(w.parasitic, 0.0),
            _ => {
                relative(w.mass, log.mass(), 1e-9);
                relative(w.parasitic, 12.0 + v * (0.3 + 0.01 * v), 1e-3);
            }
        }
        match kind {
            Kind::Inertia => assert_eq!(w.brake, 0.0),
            _ => relative(w.brake, log.brake(s), 1e-3),
        }
        let dv = (log.rim(s + 1e-3) - log.rim(s - 1e-3)) / 2e-3;
        relative(w.rim_acceleration, dv, 2e-2);
        relative(
            w.rim_acceleration * w.rotating * w.rim + w.drag * w.rim + w.handed,
            w.crank * (1.0 - w.share),
            2e-3,
        );
    }
}

/// Without engine speed, ratio and tyre radius stand in, with a slip of 6.7·10⁻⁶ 1/N: the recording made with that slip
/// gives its power again.
#[test]
fn engine_speed_from_the_ratio() {
    for kind in [Kind::Inertia, Kind::Braked, Kind::Hub] {
        let mut log = Log::new(kind);
        log.engine = false;
        log.slip = if kind == Kind::Hub { 0.0 } else { 6.7e-6 };
        let text = made::job(kind, &[1], "")
            .replace("[columns.engine_speed]\nname = \"Engine\"\nunit = \"rpm\"\n", "");
        let out = made::reduced(&text, &|_| log.text()).unwrap_or_else(|e| panic!("{e}"));
        assert!(!out.drive.measured);
        assert_eq!(out.drive.slip_per_kilonewton, if kind == Kind::Hub { 0.0 } else { 6.7e-3 });
        let (crank, wheel) = errors(&log, &out);
        assert!(crank < 3e-4 && wheel < 3e-4, "{kind:?}: {crank} {wheel}");
        let said = out.notices.iter().any(|n| n.contains("engine speed is not recorded"));
        assert_eq!(said, kind != Kind::Hub);
    }
}

/// A brake that holds full load from the beginning of the recording: no row is without force, and none is taken for one.
#[test]
fn full_load_from_the_beginning() {
    let mut log = Log::new(Kind::Braked);
    log.hold = 100.0;
    let (crank, wheel) = errors(&log, &alone(&log));
    assert!(crank < 1e-3 && wheel < 3e-4, "{crank} {wheel}");
}

/// A job in miles an hour for kilometres, in half the sparks, in metres a second: refused with the likely mistake.
#[test]
fn speeds_that_do_not_agree_are_refused() {
    let log = Log::new(Kind::Inertia);
    let job = made::job(Kind::Inertia, &[1], "");
    for (ratio, guess) in [
        (5.62 * 1.609344, "km/h read as mph"),
        (5.62 / 1.609344, "mph read as km/h"),
        (5.62 * 3.6, "m/s taken for km/h"),
        (5.62 / 3.6, "m/s taken for km/h"),
        (5.62 * 2.0, "half or twice the sparks"),
        (5.62 / 2.0, "half or twice the sparks"),
        (5.62 * 1.3, ""),
        (5.62 / 1.3, ""),
    ] {
        let text = job.replace("ratio = 5.62", &format!("ratio = {ratio}"));
        let said = made::reduced(&text, &|_| log.text()).map_or_else(|e| e.to_string(), |_| "done".into());
        let found = format!("roller speed over engine speed is {:.3} times", ratio / 5.62);
        // the slip of the pull, some 1.5 %, is in what is found
        let near =
            said.contains(&found[..found.len() - 8]) || said.contains("roller speed over engine speed is");
        assert!(near && said.contains(guess), "{ratio}: {said}");
        assert_eq!(said.contains("would do that"), !guess.is_empty(), "{said}");
    }
    // 14 % pass with a word, 0.5 % without
    for (by, said) in [(1.13, true), (0.88, true), (1.015, true), (1.005, false)] {
        let text = job.replace("ratio = 5.62", &format!("ratio = {}", 5.62 * by));
        let out = made::reduced(&text, &|_| log.text()).unwrap_or_else(|e| panic!("{by}: {e}"));
        let shown = format!("roller and engine speed say {:+.1} %", 100.0 * (by - 1.0));
        assert_eq!(out.notices.iter().any(|n| n.contains(&shown)), said, "{by}: {:?}", out.notices);
    }
}
