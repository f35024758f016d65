//! Simulated speed logs with known truth: times, peak power and coverage of the intervals.
#![allow(clippy::panic, clippy::unwrap_used)]

use fairpull_road::*;
use fairpull_uncertainty::Random;

/// Standard uncertainties of mass (kg), mass factor, f0 (N), drag (relative) and slope (%).
const U: [f64; 5] = [15.0, 0.01, 15.0, 0.03, 0.1];

fn setup() -> LogSetup {
    LogSetup {
        mass_kg: 1600.0,
        mass_u_kg: U[0],
        mass_factors: vec![1.04],
        mass_factor_u: U[1],
        load: RoadLoad { f0_n: 172.6, f1_n_per_mps: 0.0, f2_n_per_mps2: 0.408, density_kg_per_m3: 1.2 },
        f0_u_n: U[2],
        drag_u_relative: U[3],
        conditions: Conditions::still(1.2),
        slope_u_percent: U[4],
        headwind_u_mps: 0.0,
        speed_scale_u_relative: 0.0,
        curve_step_kmh: 10.0,
    }
}

struct Truth {
    car: Car,
    on: Conditions,
    curve: Vec<SpeedPower>,
}

/// An invented car: rounded power curve with a ripple of up to 1.5 %, true mass, drag and slope off by their
/// uncertainties.
fn draw(random: &mut Random, systematic: bool) -> Truth {
    let (peak, at) = (150.0 + 100.0 * random.uniform(), 160.0 + 30.0 * random.uniform());
    let (width, ripple) = (120.0 + 60.0 * random.uniform(), 0.015 * random.uniform());
    let curve: Vec<SpeedPower> = (30..=125)
        .map(|i| {
            let speed_kmh = 2.0 * f64::from(i);
            let s = (speed_kmh - at) / width;
            let shape = 1.0 - s * s + ripple * libm::sin(speed_kmh / 8.0);
            SpeedPower { speed_kmh, wheel_power_kw: (peak * shape).max(20.0) }
        })
        .collect();
    let mut off = |u: f64| if systematic { u * random.normal() } else { 0.0 };
    let mut load = setup().load;
    load.f0_n += off(U[2]);
    load.f2_n_per_mps2 *= 1.0 + off(U[3]);
    let car = Car {
        mass_kg: 1600.0 + off(U[0]),
        rotating: Rotating::MassFactor(1.04 + off(U[1])),
        load,
        traction: None,
        drive: Drive::BySpeed { points: curve.clone(), shifts: vec![] },
    };
    let on = Conditions { slope_percent: off(U[4]), ..Conditions::still(1.2) };
    Truth { car, on, curve }
}

/// The log of a pull: noise of 0.1 km/h, correlated from sample to sample as stated.
fn log(truth: &Truth, rate_hz: f64, correlation: f64, random: &mut Random) -> SpeedLog {
    let clean = trace(&truth.car, truth.on, 80.0, 225.0, 1.0 / rate_hz).unwrap();
    let fresh = 0.1 * libm::sqrt(1.0 - correlation * correlation);
    let mut noise = 0.1 * random.normal();
    let mut out = SpeedLog::default();
    for [t, v] in clean {
        out.time_s.push(t);
        out.speed_kmh.push(v + noise);
        noise = correlation * noise + fresh * random.normal();
    }
    out
}

struct Outcome {
    time_error_95_s: f64,
    time_cover: f64,
    peak_bias: f64,
    peak_cover: f64,
    curve_cover: f64,
    noise_kmh: f64,
}

fn experiment(seed: u64, logs: usize, rate_hz: f64, correlation: f64, systematic: bool) -> Outcome {
    let mut random = Random::new(seed);
    let m = Measure::kmh(100.0, 200.0);
    let (mut errors, mut times, mut peaks, mut bias) = (vec![], 0, 0, 0.0);
    let (mut points, mut inside, mut noise) = (0, 0, 0.0);
    // Without errors of mass and drag the interval of the noise alone is on trial.
    let covers = |p: &PowerAt, truth: f64| {
        let noise_only = Interval::normal(p.wheel_power_kw.value, p.run_u_kw);
        if systematic { p.wheel_power_kw.contains(truth) } else { noise_only.contains(truth) }
    };
    for _ in 0..logs {
        let truth = draw(&mut random, systematic);
        let log = log(&truth, rate_hz, correlation, &mut random);
        let read = analyse(&log, &setup(), &[m]).unwrap();
        let exact = time(&truth.car, truth.on, m).unwrap().time_s;
        errors.push((read.times[0].time_s.value - exact).abs());
        times += usize::from(read.times[0].time_s.contains(exact));
        let peak = truth.curve.iter().map(|p| p.wheel_power_kw).fold(0.0, f64::max);
        let found = read.peak.unwrap();
        assert!(found.interior);
        bias += found.at.wheel_power_kw.value / peak - 1.0;
        peaks += usize::from(covers(&found.at, peak));
        for p in &read.power {
            let at = truth.curve.iter().find(|c| (c.speed_kmh - p.speed_kmh).abs() < 1e-6).unwrap();
            points += 1;
            inside += usize::from(covers(p, at.wheel_power_kw));
        }
        noise += read.noise_kmh;
    }
    errors.sort_by(f64::total_cmp);
    let n = logs as f64;
    let out = Outcome {
        time_error_95_s: errors[(0.95 * n) as usize],
        time_cover: times as f64 / n,
        peak_bias: bias / n,
        peak_cover: peaks as f64 / n,
        curve_cover: inside as f64 / points as f64,
        noise_kmh: noise / n,
    };
    println!(
        "{rate_hz} Hz, correlation {correlation}, {logs} logs: 95 % of times within {:.1} ms, cover {:.1} %; peak power bias {:.2} %, cover {:.1} %; curve cover {:.1} %; noise found {:.3} km/h",
        1000.0 * out.time_error_95_s,
        100.0 * out.time_cover,
        100.0 * out.peak_bias,
        100.0 * out.peak_cover,
        100.0 * out.curve_cover,
        out.noise_kmh
    );
    out
}

#[test]
fn ten_hertz_with_a_tenth_of_a_kilometre_per_hour() {
    let got = experiment(20, 400, 10.0, 0.0, true);
    assert!(got.time_error_95_s < 0.020, "{} s", got.time_error_95_s);
    assert!(got.peak_bias.abs() < 0.005, "{}", got.peak_bias);
    assert!((0.93..=0.985).contains(&got.time_cover), "{}", got.time_cover);
    // 400 logs share their systematic errors along the curve: coverage scatters by 1.2 %.
    assert!((0.915..=0.985).contains(&got.peak_cover), "{}", got.peak_cover);
    assert!((0.915..=0.985).contains(&got.curve_cover), "{}", got.curve_cover);
    assert!((got.noise_kmh - 0.1).abs() < 0.003, "{}", got.noise_kmh);
}

#[test]
fn noise_alone_is_covered_too() {
    let got = experiment(21, 120, 10.0, 0.0, false);
    assert!(got.peak_bias.abs() < 0.003, "{}", got.peak_bias);
    assert!(got.time_cover > 0.93, "{}", got.time_cover);
    assert!(got.curve_cover > 0.90, "{}", got.curve_cover);
}

#[test]
fn a_filtered_receiver_widens_the_interval() {
    let got = experiment(22, 80, 10.0, 0.6, true);
    assert!(got.time_cover > 0.91, "{}", got.time_cover);
    assert!(got.curve_cover > 0.90, "{}", got.curve_cover);
    assert!(got.peak_bias.abs() < 0.006, "{}", got.peak_bias);
}

#[test]
fn five_and_fifty_hertz() {
    for rate in [5.0, 50.0] {
        let got = experiment(23, 24, rate, 0.0, true);
        assert!(got.time_error_95_s < 0.025, "{} s", got.time_error_95_s);
        assert!(got.time_cover > 0.88, "{}", got.time_cover);
    }
}

#[test]
fn a_pull_with_shifts_and_a_slope() {
    let mut random = Random::new(24);
    let m = Measure::kmh(60.0, 180.0);
    let (mut inside, mut slope_inside) = (0, 0);
    for _ in 0..40 {
        let mut truth = draw(&mut random, false);
        truth.car.drive = Drive::BySpeed {
            points: vec![
                SpeedPower { speed_kmh: 40.0, wheel_power_kw: 150.0 },
                SpeedPower { speed_kmh: 230.0, wheel_power_kw: 190.0 },
            ],
            shifts: vec![
                ShiftAt { speed_kmh: 97.0, seconds: 0.4 },
                ShiftAt { speed_kmh: 151.0, seconds: 0.4 },
            ],
        };
        truth.on.slope_percent = 0.8;
        let clean = trace(&truth.car, truth.on, 50.0, 190.0, 0.1).unwrap();
        let mut log = SpeedLog::default();
        let (mut x, mut last) = (0.0, clean[0][1]);
        for [t, v] in clean {
            x += 0.1 * 0.5 * (v + last) / 3.6;
            last = v;
            log.time_s.push(t);
            log.speed_kmh.push(v + 0.1 * random.normal());
            log.height_m.push(200.0 + 0.008 * x + 0.5 * random.normal());
        }
        let read = analyse(&log, &setup(), &[m]).unwrap();
        let exact = time(&truth.car, truth.on, m).unwrap().time_s;
        assert!(
            (read.times[0].time_s.value - exact).abs() < 0.08,
            "{} for {exact}",
            read.times[0].time_s.value
        );
        inside += usize::from(read.times[0].time_s.contains(exact));
        assert_eq!(read.shifts.len(), 2, "{:?}", read.shifts);
        let slope = read.slope.unwrap().slope_percent;
        slope_inside += usize::from(slope.contains(0.8));
        for p in &read.power {
            let want = 150.0 + 40.0 * (p.speed_kmh - 40.0) / 190.0;
            assert!((p.wheel_power_kw.value / want - 1.0).abs() < 0.12, "{p:?} instead of {want}");
        }
    }
    assert!(inside >= 34 && slope_inside >= 35, "{inside} and {slope_inside} of 40");
}

#[test]
fn standing_start_and_quarter_mile_from_a_log() {
    let mut random = Random::new(25);
    let mut truth = draw(&mut random, false);
    truth.car.drive = Drive::Constant { wheel_power_kw: 200.0 };
    truth.car.traction = Some(Traction { friction: 0.9, driven_share: 0.55 });
    let measures = [Measure::kmh(0.0, 100.0), Measure::mph(0.0, 60.0, true), Measure::quarter_mile(false)];
    let clean = trace(&truth.car, truth.on, 0.0, 200.0, 0.1).unwrap();
    let mut log = SpeedLog::default();
    for i in 0..20 {
        log.time_s.push(0.1 * f64::from(i));
        log.speed_kmh.push(0.0);
    }
    for [t, v] in clean {
        log.time_s.push(2.03 + t);
        log.speed_kmh.push((v + 0.1 * random.normal()).max(0.0));
    }
    let read = analyse(&log, &setup(), &measures).unwrap();
    for (got, m) in read.times.iter().zip(measures) {
        let want = time(&truth.car, truth.on, m).unwrap();
        assert!(
            (got.time_s.value - want.time_s).abs() < 0.05,
            "{}: {:?} instead of {}",
            got.name,
            got.time_s,
            want.time_s
        );
    }
}

#[test]
fn two_directions_free_the_power_of_slope() {
    let mut random = Random::new(26);
    let mut both = vec![];
    let truth = draw(&mut random, false);
    for slope_percent in [0.7, -0.7] {
        let run =
            Truth { car: truth.car.clone(), on: Conditions { slope_percent, ..truth.on }, curve: vec![] };
        both.push(
            analyse(&log(&run, 10.0, 0.0, &mut random), &setup(), &[Measure::kmh(100.0, 200.0)]).unwrap(),
        );
    }
    let mean = both_directions(&both[0], &both[1]).unwrap();
    let level = time(&truth.car, truth.on, Measure::kmh(100.0, 200.0)).unwrap().time_s;
    assert!((mean.times[0].1.value - level).abs() < 0.03, "{:?} for {level}", mean.times);
    for p in &mean.power {
        let want =
            truth.curve.iter().find(|c| (c.speed_kmh - p.speed_kmh).abs() < 1e-6).unwrap().wheel_power_kw;
        assert!((p.wheel_power_kw.value / want - 1.0).abs() < 0.02, "{p:?} instead of {want}");
    }
}

#[test]
fn the_same_log_gives_the_same_bits() {
    let one = || {
        let mut random = Random::new(27);
        let truth = draw(&mut random, false);
        analyse(&log(&truth, 10.0, 0.0, &mut random), &setup(), &[Measure::kmh(100.0, 200.0)]).unwrap()
    };
    assert_eq!(one(), one());
}

#[test]
fn a_recorded_file_is_read_by_its_roles() {
    use fairpull_recordings::{Channel, Recording, Role};
    let mut random = Random::new(28);
    let truth = draw(&mut random, false);
    let plain = log(&truth, 10.0, 0.0, &mut random);
    let mut speed: Vec<f64> = plain.speed_kmh.iter().map(|v| v / 3.6).collect();
    speed[40] = f64::NAN;
    let unit = fairpull_units::Unit::find("m/s").unwrap();
    let channel = Channel::new(Role::RoadSpeed, "speed", unit, None, speed);
    let recording = Recording::new("pull.csv", plain.time_s.clone(), vec![channel]);
    let (read, remarks) = SpeedLog::from_recording(&recording).unwrap();
    assert_eq!(read.time_s.len(), plain.time_s.len() - 1);
    assert_eq!(remarks, ["pull.csv: 1 rows without speed were left out"]);
    let m = Measure::kmh(100.0, 200.0);
    let gap = analyse(&read, &setup(), &[m]).unwrap().times[0].time_s.value
        - time(&truth.car, truth.on, m).unwrap().time_s;
    assert!(gap.abs() < 0.03, "{gap}");
    let none = Recording::new("other.csv", plain.time_s, vec![]);
    insta::assert_snapshot!(SpeedLog::from_recording(&none).unwrap_err(), @"other.csv: no column is mapped to road speed: map the column of satellite or wheel speed to road_speed");
}
