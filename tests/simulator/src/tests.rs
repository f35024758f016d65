//! Checks of the simulator against closed forms and against itself. None of the product's code takes part.

use crate::*;

fn program() -> Program {
    Program { lead_s: 1.0, open_s: 0.3, end_rpm: 6600.0, coast_to: 15.0, coast_s: 8.0, brake_after: false }
}

fn path(vehicle: &Vehicle, rig: &Rig, step: f64) -> Vec<Instant> {
    let torque = |_: usize, n: f64| vehicle.torque.at(n);
    Plant { vehicle, rig, warmer: 0.0, torque: &torque, step }.run(&[program()])
}

fn rigs() -> [Rig; 3] {
    let braked = Rig { kind: RigKind::BrakedRoller, inertia: 14.0, ramp: 2.5, ..demo_rig() };
    let hub = Rig { kind: RigKind::Hub, inertia: 4.0, radius_m: 0.316, ramp: 2.5, ..demo_rig() };
    [demo_rig(), braked, hub]
}

/// Nearest instant to a time.
fn at(path: &[Instant], time: f64) -> &Instant {
    path.iter().min_by(|a, b| (a.time - time).abs().total_cmp(&(b.time - time).abs())).unwrap()
}

/// Energy from the crank equals kinetic energy gained plus every loss, over the full-load part.
#[test]
fn energy_balances_on_every_rig() {
    let car = demo_vehicle();
    for rig in rigs() {
        let run = path(&car, &rig, 0.001);
        let pull: Vec<&Instant> = run.iter().filter(|i| i.phase == Phase::Pull).collect();
        let spin = car.rotating_mass(true) * car.tyre_radius_m * car.tyre_radius_m;
        let kinetic = |i: &Instant| 0.5 * (rig.mass() * i.speed * i.speed + spin * i.wheel * i.wheel);
        let net = |i: &Instant| {
            let rim = i.wheel * car.tyre_radius_m;
            let crank = power_w(i.torque, i.rpm) * (1.0 - car.load_share);
            let slip = i.contact * (rim - i.speed);
            crank - slip - car.drag.at(i.speed, 0.0) * rim - (i.brake + rig.drag(i.speed)) * i.speed
        };
        let (first, last) = (pull[0], pull[pull.len() - 1]);
        let work: f64 = pull.windows(2).map(|w| 0.5e-3 * (net(w[0]) + net(w[1]))).sum();
        let gained = kinetic(last) - kinetic(first);
        assert!(((work - gained) / gained).abs() < 1e-6, "{:?}: {work} J against {gained} J", rig.kind);
    }
}

/// Halving the step moves no speed by more than 1e-6 of itself.
#[test]
fn halving_the_step_changes_nothing() {
    let car = demo_vehicle();
    for rig in rigs() {
        let (coarse, fine) = (path(&car, &rig, 0.001), path(&car, &rig, 0.0005));
        for time in [1.2, 2.0, 3.0, 4.0] {
            let (a, b) = (at(&coarse, time).speed, at(&fine, time).speed);
            assert!(((a - b) / b).abs() < 1e-6, "{:?} at {time} s: {a} against {b}", rig.kind);
        }
    }
}

/// Constant torque, rigid contact, no losses: v rises by F/(m + m_rot) · t exactly.
#[test]
fn rigid_roller_follows_the_closed_form() {
    let car = Vehicle {
        slip_per_newton: 0.0,
        load_share: 0.0,
        drag: Drag { a: 0.0, b: 0.0, c: 0.0, per_kelvin: 0.0 },
        ..demo_vehicle()
    };
    let rig = Rig { parasitic: [0.0; 3], ..demo_rig() };
    let torque = |_: usize, _: f64| 250.0;
    let run = Plant { vehicle: &car, rig: &rig, warmer: 0.0, torque: &torque, step: 0.001 }.run(&[program()]);
    let (a, b) = (at(&run, 2.0), at(&run, 3.5));
    let force = 250.0 * 5.62 / 0.316;
    let mass = 21.5 / (0.159 * 0.159) + (2.0 * 1.1 + 0.18 * 5.62 * 5.62) / (0.316 * 0.316);
    let rise = force / mass * (b.time - a.time);
    assert!((b.speed - a.speed - rise).abs() < 1e-9);
    assert!((b.contact - rig.mass() * b.acceleration).abs() < 1e-9);
}

/// Coast-down with a quadratic drag against its closed form t(v1 → v2) = M·(2/√D)·[atan((2c·v + b)/√D)],
/// D = 4ac − b² (elementary integral of M dv/(a + b v + c v²)).
#[test]
fn coast_down_follows_the_closed_form() {
    let car = Vehicle { slip_per_newton: 0.0, ..demo_vehicle() };
    let rig = Rig { parasitic: [0.0; 3], ..demo_rig() };
    let run = path(&car, &rig, 0.001);
    let coast: Vec<&Instant> = run.iter().filter(|i| i.phase == Phase::Coast).collect();
    let (first, last) = (coast[0], coast[coast.len() - 1]);
    let (a, b, c) = (240.0, 4.5, 0.05);
    let root = libm::sqrt(4.0 * a * c - b * b);
    let mass = rig.mass() + (2.0 * 1.1 + 0.02 * 5.62 * 5.62) / (0.316 * 0.316);
    let phi = |v: f64| libm::atan((2.0 * c * v + b) / root);
    let time = mass * 2.0 / root * (phi(first.speed) - phi(last.speed));
    assert!((time - (last.time - first.time)).abs() < 1e-7);
}

/// At full load the crank power as run, times the correction, is the true curve; a held engine needs factor 1.
#[test]
fn correction_gives_back_the_truth() {
    let mut scenario = demo_scenario();
    scenario.repeatability = 0.0;
    scenario.soak.charge_k = 0.0;
    scenario.logs.truncate(1);
    for response in [Response::Density, Response::Held] {
        scenario.vehicle.response = response;
        let run = scenario.run(7);
        let factor = match response {
            Response::Density => run.truth.states[0].air.spark_factor(),
            Response::Held => 1.0,
        };
        for p in run.truth.states[0].pulls[0].points.iter().step_by(500) {
            let ratio = p.crank_w * factor / run.truth.crank_power_w(0, p.rpm);
            assert!((ratio - 1.0).abs() < 1e-12, "{ratio} at {} 1/min", p.rpm);
        }
    }
    // (99/95)^1.2·(308/298)^0.6 by hand with logarithms: 1.2·0.0412430… + 0.6·0.0330063… = 0.0692954….
    let dry = Weather { pressure_kpa: 95.0, temperature_c: 35.0, humidity: 0.0 };
    assert!((dry.spark_factor() - 1.071_752_75).abs() < 1e-6, "{}", dry.spark_factor());
}

/// Hyland and Wexler's formula: 25 °C gives 3169.2 Pa; the ASHRAE table of 2017 prints 3169.7 Pa, 5 °C 872.6 Pa.
#[test]
fn saturation_agrees_with_the_table() {
    for (celsius, printed) in [(5.0, 0.8726), (25.0, 3.1697), (50.0, 12.3513)] {
        assert!((saturation_kpa(celsius) / printed - 1.0).abs() < 3e-4, "{celsius} °C");
    }
}

/// PCG32 against the demonstration output of its author (seed 42, stream 54), quoted from memory.
#[test]
fn random_bits_are_those_of_pcg32() {
    let mut random = Random::new(42, 54);
    let drawn: Vec<u32> = (0..6).map(|_| random.bits()).collect();
    assert_eq!(drawn, [0xa15c02b7, 0x7b47f409, 0xba1d3330, 0x83d2f293, 0xbfa4784b, 0xcbed606e]);
    let mut random = Random::new(1, 1);
    let draws: Vec<f64> = (0..20_000).map(|_| random.normal()).collect();
    let mean = draws.iter().sum::<f64>() / 20_000.0;
    let variance = draws.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / 19_999.0;
    // Four standard errors of each.
    assert!(mean.abs() < 4.0 / libm::sqrt(20_000.0) && (variance - 1.0).abs() < 4.0 * 0.01);
}

/// The committed files are what the generator writes today, byte for byte.
#[test]
fn demo_is_bit_identical() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../fixtures/demo/");
    for (name, bytes) in demo_files(DEMO_SEED) {
        let kept = std::fs::read(format!("{folder}{name}")).unwrap_or_default();
        assert!(kept == bytes, "{name} differs: run the demo generator on fixtures/demo");
        assert!(bytes.len() < 250_000, "{name} has {} bytes", bytes.len());
    }
}

/// The brake holds the ramp it is told, within what its answer time allows.
#[test]
fn brakes_follow_the_ramp() {
    let car = demo_vehicle();
    for kind in [RigKind::BrakedRoller, RigKind::Hub] {
        let rig = usual_rig(kind);
        let run = path(&car, &rig, 0.001);
        let pull: Vec<&Instant> = run.iter().filter(|i| i.phase == Phase::Pull && i.rpm > 3000.0).collect();
        let (a, b) = (pull[0], pull[pull.len() - 1]);
        let slope = (b.speed - a.speed) / (b.time - a.time);
        assert!((slope / rig.ramp - 1.0).abs() < 0.03, "{kind:?}: {slope} m/s2");
        let share = b.brake * b.speed / power_w(b.torque, b.rpm);
        assert!(share > 0.2 && share < 0.9, "{kind:?}: brake takes {share} of the power");
    }
}

/// Perfect sensors say the truth; a delay says the truth of a moment ago; counted pulses lose less than one pulse.
#[test]
fn sensors_say_what_they_should() {
    let (car, rig) = (demo_vehicle(), demo_rig());
    let run = path(&car, &rig, 0.001);
    let read = Reading { force: 1.0, radius: 1.0 };
    let record = |i: &Instrument| i.record(&run, &|_, _| 0.0, &car, &rig, read, 98.5, &mut Random::new(5, 5));
    let mut plain = perfect_instrument(50.0);
    plain.stress.clear();
    let exact = record(&plain);
    let time = |t: &Table| t.column(Role::Time).unwrap().values.clone();
    for (t, v) in time(&exact).iter().zip(&exact.column(Role::RollerSpeed).unwrap().values) {
        assert!((v - at(&run, *t).speed * 3.6).abs() < 1e-3, "{v} km/h at {t} s");
    }
    let mut late = plain.clone();
    late.engine.delay_s = 0.1;
    let late = record(&late);
    for (t, n) in time(&late).iter().zip(&late.column(Role::EngineSpeed).unwrap().values).skip(10) {
        assert!((n - at(&run, t - 0.1).rpm).abs() < 0.5, "{n} 1/min at {t} s");
    }
    let mut counting = plain.clone();
    counting.speed.resolution = Resolution::Pulses(60.0);
    let counted = record(&counting);
    let times = time(&counted);
    let pulse = core::f64::consts::TAU * rig.radius_m / 60.0;
    for (k, v) in counted.column(Role::RollerSpeed).unwrap().values.iter().enumerate().skip(1) {
        let travelled = (at(&run, times[k]).angle - at(&run, times[k - 1]).angle) * rig.radius_m;
        assert!((v / 3.6 * (times[k] - times[k - 1]) - travelled).abs() < pulse * 1.001);
    }
}

/// Each fault does what its name says, and nothing else.
#[test]
fn faults_do_what_they_say() {
    let clean = usual_job(RigKind::InertiaRoller, Gain::NONE, 1, Order::TwoDays).run(9);
    let table = &clean.logs[0].table;
    let planted = |fault: Fault| {
        let mut t = table.clone();
        fault.plant(&mut t);
        t
    };
    let interval = |t: &Table| {
        let times = &t.column(Role::Time).unwrap().values;
        times.windows(2).map(|w| w[1] - w[0]).fold((f64::MAX, f64::MIN), |(a, b), d| (a.min(d), b.max(d)))
    };
    let speed = |t: &Table| t.column(Role::RollerSpeed).unwrap().values.clone();
    assert!(interval(table).0 > 0.0);
    assert!(interval(&planted(Fault::Gap { from_s: 4.0, length_s: 0.5 })).1 > 0.5);
    assert!(interval(&planted(Fault::BackwardStamp { at_s: 4.0 })).0 < -0.02);
    let twice = planted(Fault::RepeatedStamp { at_s: 4.0 });
    assert_eq!(twice.rows(), table.rows() + 1);
    assert_eq!(interval(&twice).0, 0.0);
    let spiked = speed(&planted(Fault::Spike { role: Role::RollerSpeed, at_s: 4.0, by: 25.0 }));
    let moved: Vec<f64> =
        spiked.iter().zip(speed(table)).map(|(a, b)| a - b).filter(|d| d.abs() > 1e-9).collect();
    assert_eq!(moved.len(), 1);
    assert!((moved[0] - 25.0).abs() < 1e-9);
    let stuck = speed(&planted(Fault::Stuck { role: Role::RollerSpeed, from_s: 4.0, length_s: 0.6 }));
    assert!(stuck.windows(2).filter(|w| w[0] == w[1]).count() >= 27);
    let cut = planted(Fault::CutOff { at_s: 5.0 });
    assert!(cut.column(Role::Time).unwrap().values.iter().all(|t| *t < 5.0));
}

/// Every hard case and every randomised job runs, reaches the end of its pull, and has the same bits again.
#[test]
fn cases_run_and_repeat() {
    for mut case in hard_cases(&|s| s) {
        // One pull a state is enough here: the pulls of a state differ by level and soak only.
        let logs = &case.scenario.logs;
        assert!(matches!(logs.len(), 2 | 8), "{}", case.name);
        case.scenario.logs = vec![logs[0].clone(), logs[logs.len() - 1].clone()];
        let run = case.scenario.run(1);
        for p in run.truth.states.iter().flat_map(|s| &s.pulls) {
            let end = p.points[p.points.len() - 1];
            assert!((end.rpm / 6600.0 - 1.0).abs() < 0.01, "{}: ends at {} 1/min", case.name, end.rpm);
            assert!(p.points.iter().all(|q| q.wheel_w.is_finite() && q.crank_w > 0.0), "{}", case.name);
        }
    }
    for kind in [RigKind::InertiaRoller, RigKind::BrakedRoller, RigKind::Hub] {
        for seed in 0..2 {
            let make = || usual_job(kind, Gain::flat(0.02), 1, Order::Alternating).randomised(seed).run(seed);
            let (a, b) = (make(), make());
            assert!(a.logs.iter().zip(&b.logs).all(|(x, y)| x.bytes == y.bytes));
            assert_eq!(a.job.to_toml(), b.job.to_toml());
            let (rpm, peak) = a.truth.peak_power(0, 2000.0, 6500.0);
            assert!((40e3..260e3).contains(&peak) && rpm < 6500.0, "{peak} W at {rpm} 1/min");
        }
    }
}

/// Hidden errors scatter as declared, and are none when calibration is exact.
#[test]
fn hidden_errors_follow_what_is_declared() {
    let mut job = usual_job(RigKind::InertiaRoller, Gain::NONE, 0, Order::TwoDays);
    let n = 400;
    let squares: f64 =
        (0..n).map(|s| job.run(s).truth.hidden.roller_inertia).map(|e| e * e).sum::<f64>() / n as f64;
    // The standard error of a standard deviation from 400 draws is 3.5 %.
    assert!((libm::sqrt(squares) / 0.005 - 1.0).abs() < 0.14, "{squares}");
    job = job.calibrated();
    assert_eq!(job.run(1).truth.hidden, Hidden::default());
}
