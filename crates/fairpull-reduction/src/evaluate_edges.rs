//! Small parts of the evaluation by closed forms: masses, logarithms of ratios, places on a series, what differs.
use super::*;
use crate::common;

const JOB: &str = r#"schema = "fairpull-job-1"
[vehicle]
name = "Invented"
ignition = "spark"
charging = "none"
driven_wheels = 4
tyre_radius = "310mm"
ratio = 5.5
engine_inertia = "0.17kg.m2"
gearbox_inertia = "0.03kg.m2"
wheel_inertia = "1.3kg.m2"
[rig]
kind = "braked-roller"
roller_inertia = "9kg.m2"
roller_radius = "160mm"
[basis]
standard = "iso-1585"
[grid]
step = "10rpm"
[columns.time]
name = "Time"
unit = "s"
[columns.roller_speed]
name = "Roller"
unit = "km/h"
[columns.brake_force]
name = "Force"
unit = "N"
[[state]]
name = "before"
air = { pressure = "985hPa", temperature = "24C", humidity = "55%" }
[[state.log]]
file = "a.csv"
"#;

fn job(text: &str) -> Job {
    Job::parse(text, "job.toml").unwrap()
}

fn near(got: f64, expected: f64, by: f64) {
    assert!((got - expected).abs() <= by * expected.abs(), "{got} {expected}");
}

/// J i²/r² of what turns with the engine, J/r² of what turns with the wheels and the roller.
#[test]
fn mass_of_rig_and_car() {
    let car = (4.0 * 1.3 + 0.2 * 5.5 * 5.5) / (0.31 * 0.31);
    near(moving_mass(&job(JOB)), car + 9.0 / (0.16 * 0.16), 1e-14);
    let hub = JOB
        .replace("braked-roller", "hub")
        .replace("roller_radius = \"160mm\"\n", "")
        .replace("[columns.brake_force]", "[columns.hub_torque]")
        .replace("unit = \"N\"", "unit = \"Nm\"");
    near(moving_mass(&job(&hub)), car, 1e-14);
}

#[test]
fn logarithm_of_a_ratio() {
    for i in -300..=300 {
        let x = 1.0 + 0.001 * f64::from(i);
        assert!((ratio(x) - libm::log(x)).abs() <= 4e-16 + 2e-15 * libm::log(x).abs(), "{x}");
    }
    // on both sides of where the series ends
    let end = 1.02 / 0.98;
    for x in [end - 1e-9, end + 1e-9, 1.0 / end - 1e-9, 1.0 / end + 1e-9, 0.01, 50.0] {
        near(ratio(x), libm::log(x), 1e-14);
    }
    assert_eq!((ratio(0.0), ratio(-0.25), ratio(1.0)), (-1.0, -1.25, 0.0));
}

#[test]
fn places_on_a_series() {
    let x = [1.0, 2.0, 4.0, 4.0, 7.0];
    let y = [10.0, 20.0, 40.0, 41.0, 70.0];
    let read = |at: f64| Place::of(&x, at).map(|p| p.read(&y));
    for (at, expected) in
        [(1.0, 10.0), (1.5, 15.0), (2.0, 20.0), (3.0, 30.0), (4.0, 41.0), (5.5, 55.5), (7.0, 70.0)]
    {
        assert_eq!(read(at), Some(expected), "{at}");
    }
    assert_eq!((read(0.999), read(7.001), read(f64::NAN)), (None, None, None));
    assert!(Place::of(&x[..1], 1.0).is_none() && Place::of(&x[..2], 1.5).is_some());
    // a place on a flat piece is its beginning
    let flat = Place::of(&[2.0, 2.0], 2.0).unwrap();
    assert_eq!(flat.read(&[5.0, 9.0]), 5.0);
}

#[test]
fn what_differs() {
    let d = Deviation::default();
    let air = [
        Deviation { pressure: 50.0, ..d },
        Deviation { temperature: 0.5, ..d },
        Deviation { humidity: 0.02, ..d },
    ];
    for a in air {
        assert!(a.of_air() && a.of_air_alone() && !a.of_losses_alone());
        let more = Deviation { inertia: 0.01, ..a };
        assert!(more.of_air() && !more.of_air_alone());
    }
    let losses = [
        Deviation { share: 0.003, ..d },
        Deviation { loss: [1.0, 0.0], ..d },
        Deviation { drag: [0.0, 0.1], ..d },
    ];
    for l in losses {
        assert!(l.of_losses_alone() && !l.of_air() && !l.of_air_alone());
        assert!(!Deviation { slip: 1e-6, ..l }.of_losses_alone());
    }
    assert!(!d.of_air() && d.of_air_alone() && d.of_losses_alone());
}

/// From step to step inside the reach of all pulls; at least three points and no more than five thousand.
#[test]
fn grids() {
    let job = job(JOB);
    let count = |low: f64, high: f64| common::make_grid(&job, &[(low, high)]).map(|g| g.len()).unwrap_or(0);
    assert_eq!((count(2000.0, 2020.0), count(2000.0, 2019.9), count(2000.1, 2020.0)), (3, 0, 0));
    assert_eq!((count(10.0, 50_009.0), count(10.0, 50_010.0)), (5000, 0));
    // what is a whole step but for rounding counts as one
    assert_eq!(count(2000.0 + 5e-9, 2100.0 - 5e-9), 11);
    let grid = common::make_grid(&job, &[(2003.0, 2061.0), (1988.0, 2049.0)]).unwrap();
    let expected = [1990.0, 2000.0, 2010.0, 2020.0, 2030.0, 2040.0, 2050.0, 2060.0];
    assert_eq!(grid.len(), expected.len());
    grid.iter().zip(expected).for_each(|(got, expected)| near(*got, expected, 1e-12));
    let grid = expected;
    assert_eq!(common::common_band(&grid, &[(2000.0, 2060.0), (1988.0, 2040.0)], &[]), Ok(1..6));
    assert_eq!(common::common_band(&grid, &[(2000.0, 2060.0), (1988.0, 2020.0)], &[]), Ok(1..4));
    assert!(common::common_band(&grid, &[(2000.1, 2060.0), (1988.0, 2029.9)], &[]).is_err());
}

/// Within 5 % of a mistake of units it is named.
#[test]
fn guesses_at_a_unit() {
    for (factor, word) in [
        (1.0 / 1.609_344, "mph read as km/h"),
        (1.609_344, "km/h read as mph"),
        (3.6, "m/s taken"),
        (1.0 / 3.6, "m/s taken"),
        (2.0, "half or twice"),
        (0.5, "half or twice"),
    ] {
        for (by, said) in [(0.9505, true), (1.0495, true), (0.9495, false), (1.0505, false)] {
            assert_eq!(common::unit_guess(factor * by).contains(word), said, "{factor} {by}");
        }
    }
}
