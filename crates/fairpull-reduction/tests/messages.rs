//! What a wrong job file gets: place, field, value, what was expected, how to mend it.
#![allow(clippy::panic, clippy::unwrap_used)]

use fairpull_core::Catalogue;
use fairpull_reduction::{Job, reduce};

const JOB: &str = r#"schema = "fairpull-job-1"
title = "Invented"

[vehicle]
name = "Invented"
ignition = "spark"
charging = "none"
tyre_radius = "316mm"
ratio = 5.62
engine_inertia = "0.16kg.m2"

[rig]
kind = "inertia-roller"
roller_inertia = "21.5kg.m2"
roller_radius = "159mm"

[basis]
standard = "iso-1585"

[columns.time]
name = "Time"
unit = "s"

[columns.roller_speed]
name = "Roller"
unit = "km/h"

[[state]]
name = "before"
air = { pressure = "985hPa", temperature = "24C", humidity = "55%" }

[[state.log]]
file = "a.csv"
start = "2026-05-11T10:02:00"
"#;

fn message(old: &str, new: &str) -> String {
    assert!(JOB.contains(old), "{old}");
    match Job::parse(&JOB.replacen(old, new, 1), "job.toml") {
        Ok(_) => "accepted".into(),
        Err(e) => e.to_string(),
    }
}

#[test]
fn the_job_itself_is_accepted() {
    let job = Job::parse(JOB, "job.toml").unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(job.states.len(), 1);
    assert!(job.assumed.iter().any(|a| a.contains("rig.roller_inertia")));
}

#[test]
fn messages() {
    let all = [
        message("fairpull-job-1", "fairpull-job-9"),
        message("\"316mm\"", "\"316kg\""),
        message("\"316mm\"", "\"316\""),
        message("\"316mm\"", "\"31.6m\""),
        message("ratio = 5.62", "ratio = 562"),
        message("\"spark\"", "\"sparks\""),
        message("roller_inertia = \"21.5kg.m2\"\n", ""),
        message("roller_inertia = \"21.5kg.m2\"", "roller_inertia = \"-1kg.m2\""),
        message("\"985hPa\"", "\"34C\""),
        message("\"985hPa\"", "\"985hPa gauge\""),
        message("pressure = \"985hPa\"", "qnh = \"985hPa gauge\", elevation = \"100m\""),
        message("pressure = \"985hPa\"", "qnh = \"985hPa\""),
        message("\"55%\"", "\"155%\""),
        message("\"24C\"", "\"200C\""),
        message("2026-05-11T10:02:00", "yesterday"),
        message("2026-05-11T10:02:00", "2026-02-30T10:02:00"),
        message("2026-05-11T10:02:00", "2023-02-29T10:02:00"),
        message("2026-05-11T10:02:00", "2026-04-31T10:02:00"),
        message("2026-05-11T10:02:00", "2026-13-11T10:02:00"),
        message("2026-05-11T10:02:00", "2026-05-11T10:02:60"),
        message("[[state]]", "[knock]\nrequirement = nan\n\n[[state]]"),
        message("[[state]]", "[knock]\nrequirement = 1e308\n\n[[state]]"),
        message("[[state]]", "[knock]\nrequirement = 96\nrequirement_u = -1\n\n[[state]]"),
        message("[[state]]", "[knock]\nk = -3.5\n\n[[state]]"),
        message("[[state]]", "[knock]\nk = 0.5\nk_u = inf\n\n[[state]]"),
        message("[[state]]", "[knock]\nrequirement_u = 1\n\n[[state]]"),
        message("[[state]]", "[units]\npower = []\n\n[[state]]"),
        message("[columns.time]", "[format]\nsample_rate_hz = 50\n\n[columns.time]"),
        message(
            "[columns.time]\nname = \"Time\"\nunit = \"s\"\n\n[columns.roller_speed]",
            "[format]\nsample_rate_hz = -50\n\n[columns.roller_speed]",
        ),
        message("name = \"before\"", "name = \" \""),
        message(
            "[[state.log]]",
            "[[state.log]]\nfile = \"b.csv\"\nstart = \"2026-05-11 10:02\"\n\n[[state.log]]",
        ),
        message(
            "[[state.log]]",
            "[[state.log]]\nfile = \"b.csv\"\nskip = \"none\"\nstart = \"2026-05-11 10:02\"\n\n[[state.log]]",
        ),
        message("[columns.roller_speed]", "[columns.rollerspeed]"),
        message("kind = \"inertia-roller\"", "kind = \"braked-roller\""),
        message("title = ", "titel = "),
        message("roller_radius =", "parasitic_b = nan\nroller_radius ="),
    ]
    .join("\n");
    insta::assert_snapshot!(all, @r#"
    job.toml:1:10: schema: "fairpull-job-9" is not a schema this program knows; write schema = "fairpull-job-1"
    job.toml:8:15: vehicle.tyre_radius: "316kg": kg is a unit of mass, but a length was expected; units of length: m, mm, cm, km, µm, in, ft, mi
    job.toml:8:15: vehicle.tyre_radius: "316": the unit is missing; units of length: m, mm, cm, km, µm, in, ft, mi
    job.toml:8:15: vehicle.tyre_radius: 31.6m is outside 0.1 to 1 m; check the value and its unit
    job.toml:9:9: vehicle.ratio: 562 is outside 0.5 to 60 engine turns a wheel turn; check the value and its unit
    job.toml:6:12: vehicle.ignition: "sparks" is not known; write one of spark, compression
    job.toml:13:8: rig.roller_inertia: the inertia of the roller set is missing; add roller_inertia = "…kg.m2"
    job.toml:14:18: rig.roller_inertia: -1kg.m2 is outside 0.1 to 100000 kg·m²; check the value and its unit
    job.toml:30:20: air.pressure: "34C": °C is a unit of temperature, but a pressure was expected; units of pressure: kPa, Pa, hPa, MPa, mbar, bar, psi, inHg, mmHg, Torr, inH2O, mmH2O, atm, kgf/cm²; add (a) for absolute, (g) for gauge
    job.toml:30:20: air.pressure: "985hPa gauge": hPa(g) is a gauge pressure, but an absolute pressure was expected; give the absolute pressure, e.g. in kPa(a), or the barometer to add
    job.toml:30:15: air.qnh: "985hPa gauge": hPa(g) is a gauge pressure, but an absolute pressure was expected; give the absolute pressure, e.g. in kPa(a), or the barometer to add
    job.toml:30:7: air.elevation: qnh needs the elevation; add elevation = "…m"
    job.toml:30:62: air: relative humidity is 155 %, outside 0 to 100 %; give percent, e.g. 55%
    job.toml:30:63: air: intake air temperature is 200 °C, outside -60 to 80 °C (fairpull, what a place where engines are tested can be)
    job.toml:34:9: log.start: "yesterday" is not a time; write e.g. start = "2026-05-11T10:02:00"
    job.toml:34:9: log.start: "2026-02-30T10:02:00" is not a time: February 2026 has 28 days, and there is no day 30; write e.g. start = "2026-05-11T10:02:00"
    job.toml:34:9: log.start: "2023-02-29T10:02:00" is not a time: February 2023 has 28 days, and there is no day 29; write e.g. start = "2026-05-11T10:02:00"
    job.toml:34:9: log.start: "2026-04-31T10:02:00" is not a time: April 2026 has 30 days, and there is no day 31; write e.g. start = "2026-05-11T10:02:00"
    job.toml:34:9: log.start: "2026-13-11T10:02:00" is not a time: the month is 13, outside 1 to 12; write e.g. start = "2026-05-11T10:02:00"
    job.toml:34:9: log.start: "2026-05-11T10:02:60" is not a time: the second is 60, outside 0 to 59; write e.g. start = "2026-05-11T10:02:00"
    job.toml:29:15: knock.requirement: NaN is outside 0 to 150 octane numbers; check the value and its unit
    job.toml:29:15: knock.requirement: 1e308 is outside 0 to 150 octane numbers; check the value and its unit
    job.toml:30:17: knock.requirement_u: -1 is outside 0 to 50 octane numbers; check the value and its unit
    job.toml:29:5: knock.k: -3.5 is outside -3 to 1; check the value and its unit
    job.toml:30:7: knock.k_u: inf is outside 0 to 3; check the value and its unit
    job.toml:29:17: knock.requirement_u: the uncertainty of a value that is not stated; add requirement = …, or take the line out
    job.toml:29:9: units.power: the list of units is empty; name one or more, or leave the line out for kW and PS
    job.toml:21:18: format.sample_rate_hz: a rate is stated, and a column is mapped to time; keep one of the two: the rate is for a log without a column of time
    job.toml:21:18: format.sample_rate_hz: -50 is outside 0.001 to 1000000 Hz; check the value and its unit
    job.toml:29:8: state.name: the state has an empty name; write what was done to the car, e.g. name = "before"
    job.toml:38:9: log.start: "2026-05-11T10:02:00" is the start of "b.csv" too, and a car drives one pull at a time; write when each log began, to the second where they are short, or leave start out of all of them
    accepted
    job.toml:24:10: columns: "rollerspeed" is not a role a column can have; roles are: time, roller_speed, roller_rotation, road_speed, engine_speed, brake_force, hub_torque, hub_rotation, intake_temperature, charge_temperature, coolant_temperature, oil_temperature, gearbox_temperature, exhaust_temperature, manifold_pressure, pre_turbine_pressure, exhaust_back_pressure, compressor_inlet_pressure, compressor_outlet_pressure, compressor_outlet_temperature, fuel_pressure, oil_pressure, fuel_flow, fuel_volume_flow, air_flow, lambda, spark_advance, knock_retard, injector_duty, throttle, pedal, gear, ambient_pressure, ambient_temperature, relative_humidity, dew_point, acceleration, distance, height, latitude, longitude, supply_voltage
    job.toml:1:1: columns: no column is mapped to brake_force; add [columns.brake_force], or use kind = "inertia-roller"
    job.toml:2:1: job file: unknown field `titel`, expected one of `schema`, `title`, `note`, `vehicle`, `rig`, `loss`, `basis`, `units`, `air`, `grid`, `format`, `columns`, `fuels`, `knock`, `state`
    job.toml:15:15: rig.parasitic_b: NaN is outside -50 to 50 N per m/s; check the value and its unit
    "#);
}

/// A hub rig has no roller: a radius there would be taken for what the car travels in a turn.
#[test]
fn a_hub_rig_has_no_roller() {
    let hub = JOB
        .replace("inertia-roller", "hub")
        .replace("[columns.roller_speed]\nname = \"Roller\"\nunit = \"km/h\"", "[columns.hub_rotation]\nname = \"Hub\"\nunit = \"rpm\"\n\n[columns.hub_torque]\nname = \"Torque\"\nunit = \"Nm\"")
        .replace("roller_inertia = \"21.5kg.m2\"\n", "");
    let said = |text: &str| match Job::parse(text, "job.toml") {
        Ok(job) => job.assumed.join("; "),
        Err(e) => e.to_string(),
    };
    let stated = |line: &str| said(&hub.replace("roller_radius = \"159mm\"\n", line));
    assert_eq!(
        said(&hub),
        "job.toml:14:17: rig.roller_radius: \"159mm\" is stated, but a hub rig has no roller; take the line out; the travel of a turn is taken from vehicle.tyre_radius"
    );
    assert_eq!(
        stated("roller_radius_u = \"0.1%\"\n"),
        "job.toml:14:19: rig.roller_radius_u: \"0.1%\" is stated, but a hub rig has no roller; take the line out; the travel of a turn is taken from vehicle.tyre_radius"
    );
    // and nothing is assumed of it
    let assumed = stated("");
    assert!(assumed.contains("rig.force") && !assumed.contains("roller"), "{assumed}");
}

#[test]
fn a_log_without_a_pull_is_refused() {
    let job = Job::parse(JOB, "job.toml").unwrap_or_else(|e| panic!("{e}"));
    let mut log = String::from("Time,Roller\ns,km/h\n");
    for i in 0..400 {
        log.push_str(&format!("{:.2},{:.2}\n", 0.02 * f64::from(i), 50.0 + 0.01 * f64::from(i % 3)));
    }
    let mut read = |_: &str| Ok(log.clone().into_bytes());
    let catalogue =
        Catalogue::new(fairpull_iso_1585::ALL, fairpull_losses::ALL, &[]).unwrap_or(Catalogue::EMPTY);
    let e = reduce(&job, &catalogue, &mut read, &mut |_, _| true).unwrap_err();
    insta::assert_snapshot!(
        e.to_string(),
        @r#"a.csv: no full-load pull was found: the speed runs from 50.0 to 50.0 km/h without a lasting rise; check the unit of the speed column, or leave the log out with skip = "reason""#
    );
}

/// A rig that the job says takes more than the whole coast-down took: the message says whose coast-down it was, what it
/// left for the car, and what to do.
#[test]
fn a_drag_no_car_has_is_told_with_its_coast_down() {
    let job = JOB.replace("roller_radius =", "parasitic_a = \"400N\"\nroller_radius =");
    let job = Job::parse(&job, "job.toml").unwrap_or_else(|e| panic!("{e}"));
    let mut log = String::from("Time,Roller\ns,km/h\n");
    let mut v: f64 = 12.0;
    for i in 0..700 {
        log.push_str(&format!("{:.2},{:.3}\n", 0.02 * f64::from(i), v * 3.6));
        v += 0.02
            * match i {
                0..50 => 0.0,
                50..300 => 6.0,
                _ => -0.3,
            };
    }
    let mut read = |_: &str| Ok(log.clone().into_bytes());
    let catalogue =
        Catalogue::new(fairpull_iso_1585::ALL, fairpull_losses::ALL, &[]).unwrap_or(Catalogue::EMPTY);
    let told = reduce(&job, &catalogue, &mut read, &mut |_, _| true)
        .map_or_else(|e| e.to_string(), |_| "done".into());
    insta::assert_snapshot!(told, @r#"a.csv: its coast-down, 6.2 s from 149 to 143 km/h, gives a drag of -139 N at a speed of the pull, outside 0 to 100000 N; let the car coast down longer with the clutch open and the brake of the rig off, check the parasitic drag and the zero of the force the job states, end the log before the car stands, or set loss.model = "prior-band""#);
}
