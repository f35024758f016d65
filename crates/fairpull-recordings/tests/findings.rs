//! Spikes, standstills and impossible values: found where they are planted, and nothing real eaten. Seeded, invented.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests

use fairpull_recordings::{Column, Layout, Recording, RepairKind, Role, read};

/// A small linear congruential generator (constants of Numerical Recipes, 2nd ed., 7.1, from memory); twelve sums
/// make a near-normal number.
struct Noise(u32);

impl Noise {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(self.0 >> 8) / f64::from(1_u32 << 24)
    }
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}

/// `engine` in rpm, `force` in N and `roller` in km/h at 100 Hz.
fn log(
    rows: usize,
    engine: impl Fn(usize) -> f64,
    force: impl Fn(usize) -> f64,
    roller: impl Fn(usize) -> f64,
) -> Recording {
    let rows: String = (0..rows)
        .map(|i| format!("{:.2},{:.1},{:.1},{:.3}\n", i as f64 / 100.0, engine(i), force(i), roller(i)))
        .collect();
    let layout = Layout::of(vec![
        Column::new(Role::Time, "t").unit("s"),
        Column::new(Role::EngineSpeed, "n").unit("rpm"),
        Column::new(Role::BrakeForce, "F").unit("N"),
        Column::new(Role::RollerSpeed, "v").unit("km/h"),
    ]);
    read(format!("t,n,F,v\n{rows}").as_bytes(), "log.csv", &layout).expect("reads")
}

fn ramp(i: usize) -> f64 {
    1500.0 + 5.0 * i as f64
}

#[test]
fn planted_spikes_are_found_and_only_they() {
    let mut noise = Noise(7);
    let rough: Vec<f64> = (0..1000).map(|_| 10.0 * noise.normal()).collect();
    let at = [100, 350, 351, 600, 990];
    let engine = |i: usize| ramp(i) + rough[i] + if at.contains(&i) { 900.0 } else { 0.0 };
    let r = log(1000, engine, |_| 800.0, |i| 20.0 + 0.15 * i as f64);
    let n = r.channel(Role::EngineSpeed).expect("mapped");
    let missing: Vec<usize> = (0..1000).filter(|i| n.values[*i].is_nan()).collect();
    assert_eq!(missing, at);
    let note = r.repairs.iter().find(|x| x.kind == RepairKind::Spike).expect("noted");
    assert_eq!((note.count, note.first_line, note.role), (5, 102, Some(Role::EngineSpeed)));
    assert!(note.example.starts_with("29") && note.example.ends_with("rpm"), "{}", note.example);
}

#[test]
fn normal_noise_of_any_size_is_no_spike() {
    for (seed, size) in [(1, 2.0), (2, 60.0), (3, 400.0), (4, 2000.0)] {
        let mut noise = Noise(seed);
        let rough: Vec<f64> = (0..20_000).map(|_| size * noise.normal()).collect();
        let r = log(20_000, |i| 3000.0 + 0.05 * i as f64, |i| 3000.0 + rough[i], |i| 20.0 + 0.005 * i as f64);
        assert_eq!(r.repairs.count(RepairKind::Spike), 0, "noise of {size} N");
    }
}

#[test]
fn real_transients_stay() {
    // A gear change: speed falls by 1500 rpm in 0.08 s and goes on; clutch judder rings down; a blip of the throttle.
    let engine = |i: usize| match i {
        0..300 => ramp(i) + 0.0,
        300..308 => 3000.0 - 187.5 * (i - 300) as f64,
        308..500 => 1500.0 + 8.0 * (i - 308) as f64,
        500..503 => 3036.0 + 600.0,
        _ => 3036.0,
    };
    // Driveline snatch: 8 Hz, decaying, 1500 N; the brake switched on as a step; a single-row overshoot on the step.
    let force = |i: usize| match i {
        0..300 => 500.0,
        300..500 => {
            let t = (i - 300) as f64 / 100.0;
            500.0 + 1500.0 * libm::exp(-6.0 * t) * libm::sin(core::f64::consts::TAU * 8.0 * t)
        }
        500 => 3300.0,
        _ => 2500.0,
    };
    let r = log(800, engine, force, |i| 30.0 + 0.05 * i as f64);
    assert_eq!(r.repairs.count(RepairKind::Spike), 0, "{:?}", r.repairs);
    assert!(r.channels.iter().all(|c| c.missing() == 0));
}

#[test]
fn slow_logs_are_not_searched_for_spikes() {
    let mut text = String::from("t,n\n");
    for i in 0..100 {
        text += &format!("{i},{}\n", if i == 50 { 4000 } else { 900 });
    }
    let layout = Layout::of(vec![
        Column::new(Role::Time, "t").unit("s"),
        Column::new(Role::EngineSpeed, "n").unit("rpm"),
    ]);
    let r = read(text.as_bytes(), "log.csv", &layout).expect("reads");
    assert_eq!(r.repairs.count(RepairKind::Spike), 0);
}

#[test]
fn stuck_channel_is_noted_and_kept() {
    let r = log(
        1000,
        |i| if (400..800).contains(&i) { 3500.0 } else { ramp(i) },
        |_| 800.0,
        |i| 20.0 + 0.15 * i as f64,
    );
    let note = r.repairs.iter().find(|x| x.kind == RepairKind::Stuck).expect("noted");
    assert_eq!((note.role, note.count, note.first_line), (Some(Role::EngineSpeed), 1, 402));
    assert_eq!(note.example, "3500 rpm for 3.99 s");
    assert_eq!(r.channel(Role::EngineSpeed).map(|c| c.missing()), Some(0));
    // Standing still together is no fault: the car stands.
    let r = log(1000, |_| 850.0, |_| 0.0, |_| 0.0);
    assert_eq!(r.repairs.count(RepairKind::Stuck), 0);
}

#[test]
fn channel_that_never_changes_is_noted() {
    let mut text = String::from("t,n,L,g\n");
    for i in 0..200 {
        text += &format!("{},{},1.000,4\n", f64::from(i) / 100.0, 2000 + i);
    }
    let layout = Layout::of(vec![
        Column::new(Role::Time, "t").unit("s"),
        Column::new(Role::EngineSpeed, "n").unit("rpm"),
        Column::new(Role::Lambda, "L"),
        Column::new(Role::Gear, "g"),
    ]);
    let r = read(text.as_bytes(), "log.csv", &layout).expect("reads");
    let notes: Vec<_> = r.repairs.iter().filter(|x| x.kind == RepairKind::NeverChanges).collect();
    assert_eq!(notes.len(), 1);
    assert_eq!((notes[0].role, notes[0].example.as_str()), (Some(Role::Lambda), "1"));
}

#[test]
fn few_impossible_values_are_set_to_missing_and_counted() {
    let mut text = String::from("t,EGT\n");
    for i in 0..100 {
        text += &format!("{},{}\n", f64::from(i) / 100.0, if i % 20 == 3 { 6553 } else { 700 + i });
    }
    let layout = Layout::of(vec![
        Column::new(Role::Time, "t").unit("s"),
        Column::new(Role::ExhaustTemperature, "EGT").unit("C"),
    ]);
    let r = read(text.as_bytes(), "log.csv", &layout).expect("reads");
    let note = r.repairs.iter().find(|x| x.kind == RepairKind::Impossible).expect("noted");
    assert_eq!((note.count, note.first_line, note.example.as_str()), (5, 5, "6553 °C"));
    assert_eq!(r.channels[0].missing(), 5);
    assert!(note.kind.removes_data() && !RepairKind::Gap.removes_data());
}

#[test]
fn repairs_speak_in_sentences() {
    let log = "t,n\n0.0,2500\n0.1,oops\n0.1,2600\n0.2,2700\n";
    let layout = Layout::of(vec![
        Column::new(Role::Time, "t").unit("s"),
        Column::new(Role::EngineSpeed, "n").unit("rpm"),
    ]);
    let r = read(log.as_bytes(), "log.csv", &layout).expect("reads");
    let said: Vec<String> = r.repairs.iter().map(ToString::to_string).collect();
    assert_eq!(
        said,
        [
            "row with a repeated time stamp dropped (the first one kept) (1×, first at line 4: 0.1 s again)",
            "column \"n\": cell that is not a number, read as missing (1×, first at line 3: oops)",
        ]
    );
}
