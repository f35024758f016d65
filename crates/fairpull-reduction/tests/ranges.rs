//! What a job file may say: each range at its ends and a little beyond, each word, each default, times by Python's calendar.
#![allow(clippy::panic, clippy::unwrap_used)]

use fairpull_core::{ChargeCooling, Charging, Element, Gearbox, Ignition, Rating};
use fairpull_reduction::{Job, RigKind};

const JOB: &str = r#"schema = "fairpull-job-1"
[vehicle]
name = "Invented"
ignition = "spark"
charging = "turbocharged"
#vehicle
[rig]
#rig
[loss]
#loss
[basis]
standard = "iso-1585"
#basis
[air]
#air
[grid]
#grid
[columns.time]
name = "Time"
unit = "s"
[columns.roller_speed]
name = "Roller"
unit = "km/h"
[columns.brake_force]
name = "Force"
unit = "N"
[columns.hub_torque]
name = "Torque"
unit = "Nm"
[columns.hub_rotation]
name = "Hub"
unit = "rpm"
[[state]]
name = "before"
air = { #reading }
[[state.log]]
file = "a.csv"
start = "2026-05-11T10:02:00"
"#;

/// What a job needs, a line each; a line given takes the place of the one for the same field.
const NEEDED: [(&str, &str); 8] = [
    ("vehicle", "tyre_radius = \"316mm\""),
    ("vehicle", "ratio = 5.62"),
    ("vehicle", "engine_inertia = \"0.16kg.m2\""),
    ("rig", "kind = \"braked-roller\""),
    ("rig", "roller_inertia = \"21.5kg.m2\""),
    ("rig", "roller_radius = \"159mm\""),
    ("reading", "pressure = \"985hPa\", temperature = \"24C\""),
    ("reading", "humidity = \"40%\""),
];

fn written(table: &str, line: &str) -> String {
    let field = |l: &str| l.split(' ').next().unwrap_or_default().to_owned();
    let mut out = JOB.to_owned();
    for name in ["vehicle", "rig", "loss", "basis", "air", "grid", "reading"] {
        let mut lines: Vec<String> = NEEDED
            .iter()
            .filter(|(t, l)| *t == name && !(name == table && field(l) == field(line)))
            .map(|(_, l)| (*l).to_owned())
            .collect();
        if name == table {
            lines.push(line.to_owned());
        }
        out = out.replace(&format!("#{name}"), &lines.join(if name == "reading" { ", " } else { "\n" }));
    }
    out
}

fn parsed(table: &str, line: &str) -> Result<Job, String> {
    Job::parse(&written(table, line), "job.toml").map_err(|e| e.to_string())
}

fn good(table: &str, line: &str) -> Job {
    parsed(table, line).unwrap_or_else(|e| panic!("{line}: {e}"))
}

fn near(got: f64, expected: f64) {
    assert!((got - expected).abs() <= 1e-12 * expected.abs(), "{got} {expected}");
}

/// Table, field, unit (none: a plain number), lowest and highest value, SI in one of the unit, what the job holds.
type Range = (&'static str, &'static str, &'static str, f64, f64, f64, fn(&Job) -> f64);

#[test]
fn every_range_at_its_ends() {
    let all: [Range; 28] = [
        ("vehicle", "fuel_per_cycle", "", 1.0, 500.0, 1.0, |j| j.vehicle.engine.fuel_per_cycle.unwrap()),
        ("vehicle", "charge_pressure_ratio", "", 1.0, 10.0, 1.0, |j| {
            j.vehicle.engine.charge_pressure_ratio.unwrap()
        }),
        ("vehicle", "mechanical_efficiency", "%", 0.0, 100.0, 0.01, |j| {
            j.vehicle.engine.mechanical_efficiency.unwrap()
        }),
        ("vehicle", "displacement", "cm3", 20.0, 50_000.0, 1e-6, |j| j.vehicle.displacement.unwrap()),
        ("vehicle", "bore", "mm", 20.0, 300.0, 1e-3, |j| j.vehicle.bore.unwrap()),
        ("vehicle", "stroke", "mm", 20.0, 400.0, 1e-3, |j| j.vehicle.stroke.unwrap()),
        ("vehicle", "gearbox_inertia", "kg.m2", 0.0, 5.0, 1.0, |j| j.vehicle.gearbox_inertia),
        ("vehicle", "wheel_inertia", "kg.m2", 0.0, 50.0, 1.0, |j| j.vehicle.wheel_inertia),
        ("vehicle", "compression_ratio", "", 4.0, 30.0, 1.0, |j| j.vehicle.compression_ratio.unwrap()),
        ("vehicle", "tyre_radius", "mm", 100.0, 1000.0, 1e-3, |j| j.vehicle.tyre_radius.value),
        ("vehicle", "tyre_radius_u", "%", 0.0, 50.0, 0.01, |j| j.vehicle.tyre_radius.relative),
        ("vehicle", "ratio", "", 0.5, 60.0, 1.0, |j| j.vehicle.ratio),
        ("vehicle", "engine_inertia", "kg.m2", 0.001, 10.0, 1.0, |j| j.vehicle.engine_inertia.value),
        ("rig", "roller_inertia", "kg.m2", 0.1, 1e5, 1.0, |j| j.rig.inertia.value),
        ("rig", "roller_radius", "mm", 50.0, 3000.0, 1e-3, |j| j.rig.radius.value),
        ("rig", "parasitic_a", "N", 0.0, 2000.0, 1.0, |j| j.rig.parasitic[0]),
        ("rig", "parasitic_b", "", -50.0, 50.0, 1.0, |j| j.rig.parasitic[1]),
        ("rig", "parasitic_c", "", -2.0, 2.0, 1.0, |j| j.rig.parasitic[2]),
        ("rig", "force_u", "%", 0.0, 50.0, 0.01, |j| j.rig.force),
        ("loss", "load_share", "%", 0.0, 30.0, 0.01, |j| j.loss.share.unwrap().0),
        ("loss", "constant_drag", "kW", 0.0, 200.0, 1e3, |j| j.loss.constant.unwrap().0),
        ("loss", "max_input_torque", "Nm", 1.0, 1e5, 1.0, |j| j.loss.max_input_torque.unwrap()),
        ("air", "pressure_u", "hPa", 0.0, 100.0, 100.0, |j| j.pressure_u),
        ("air", "temperature_u", "K", 0.0, 100.0, 1.0, |j| j.temperature_u),
        ("air", "humidity_u", "%", 0.0, 500.0, 0.01, |j| j.humidity_u),
        ("grid", "from", "rpm", 200.0, 25_000.0, 1.0, |j| j.grid.from.unwrap()),
        ("grid", "step", "rpm", 10.0, 1000.0, 1.0, |j| j.grid.step),
        ("grid", "smoothing", "rpm", 20.0, 3000.0, 1.0, |j| j.grid.smoothing.unwrap()),
    ];
    for (table, field, unit, low, high, si, held) in all {
        let line = |x: f64| {
            if unit.is_empty() { format!("{field} = {x:?}") } else { format!("{field} = \"{x}{unit}\"") }
        };
        // the ends themselves, whatever their unit rounds to
        for x in [low, high] {
            near(held(&good(table, &line(x))), x * si);
        }
        let by = 0.004;
        let below = if low == 0.0 { -1e-6 } else { low - by * low.abs() };
        for x in [below, high * (1.0 + by)] {
            let said = parsed(table, &line(x)).err().unwrap_or_else(|| panic!("{} was accepted", line(x)));
            assert!(said.contains(&format!("{table}.{field}: ")) && said.contains(" is outside "), "{said}");
        }
    }
    // beside another line
    let share = |u: &str| parsed("loss", &format!("load_share = \"2%\"\nload_share_u = \"{u}\""));
    near(share("20%").unwrap().loss.share.unwrap().1, 0.2);
    assert!(share("20.1%").is_err() && share("-1%").is_err());
    let to = |x: &str| parsed("grid", &format!("from = \"2000rpm\"\nto = \"{x}rpm\""));
    near(to("25000").unwrap().grid.to.unwrap(), 25_000.0);
    assert!(to("25100").is_err() && to("2000").is_err() && to("1900").is_err() && to("2001").is_ok());
    let drag = good("loss", "constant_drag = \"2kW\"\nconstant_drag_u = \"150W\"");
    assert_eq!(drag.loss.constant, Some((2000.0, 150.0)));
    for (wheels, ok) in [(0, false), (1, true), (8, true), (9, false)] {
        assert_eq!(parsed("vehicle", &format!("driven_wheels = {wheels}")).is_ok(), ok, "{wheels}");
    }
    for (cylinders, ok) in [(0, false), (1, true), (24, true), (25, false)] {
        let job = parsed("vehicle", &format!("cylinders = {cylinders}"));
        assert_eq!(
            job.ok().map(|j| j.vehicle.cylinders == Some(cylinders)),
            ok.then_some(true),
            "{cylinders}"
        );
    }
}

/// What is assumed where a job is silent, and that it is said.
#[test]
fn what_is_assumed() {
    let job = good("basis", "");
    let v = &job.vehicle;
    assert_eq!((v.tyre_radius.relative, v.engine_inertia.relative), (0.01, 0.1));
    assert_eq!((v.gearbox_inertia, v.wheel_inertia, v.driven_wheels), (0.0, 1.0, 2));
    assert_eq!((job.rig.inertia.relative, job.rig.radius.relative, job.rig.force), (0.01, 0.001, 0.01));
    assert_eq!(job.rig.parasitic, [0.0; 3]);
    assert_eq!((job.pressure_u, job.temperature_u, job.humidity_u), (100.0, 1.0, 0.05));
    assert_eq!((job.grid.step, job.grid.seed, job.grid.from, job.grid.smoothing), (100.0, 1, None, None));
    assert_eq!(
        (job.loss.model.as_str(), job.loss.share, job.title.as_str()),
        ("coast-down", None, "Power and torque")
    );
    assert_eq!(
        (job.power_units.clone(), job.torque_units.clone()),
        (vec!["kW", "PS"], vec!["N·m", "lbf·ft"])
    );
    assert!(job.rating == Rating::Net && v.engine.charge_cooling == ChargeCooling::None);
    assert_eq!(
        job.assumed,
        [
            "vehicle.wheel_inertia: assumed 1 kg·m² a wheel (the job states none)",
            "vehicle.tyre_radius: standard uncertainty assumed 1 % (the job states none)",
            "vehicle.engine_inertia: standard uncertainty assumed 10 % (the job states none)",
            "rig.roller_inertia: standard uncertainty assumed 1 % (the job states none)",
            "rig.roller_radius: standard uncertainty assumed 0.1 % (the job states none)",
            "rig.force: standard uncertainty assumed 1 % (the job states none)",
            "air.pressure_u: standard uncertainty assumed 1 hPa (the job states none)",
            "air.temperature_u: standard uncertainty assumed 1 K (the job states none)",
            "air.humidity_u: standard uncertainty assumed 5 % (the job states none)",
        ]
    );
    assert_eq!(good("loss", "load_share = \"2%\"").loss.share, Some((0.02, 0.01)));
    assert_eq!(good("loss", "constant_drag = \"900W\"").loss.constant, Some((900.0, 0.0)));
    // a brake that is not there has no calibration; a rig without rollers no radius
    let inertia = good("rig", "kind = \"inertia-roller\"");
    assert_eq!(inertia.rig.force, 0.0);
    let hub = written("rig", "kind = \"hub\"")
        .replace("roller_radius = \"159mm\"\n", "")
        .replace("roller_inertia = \"21.5kg.m2\"\n", "");
    let hub = Job::parse(&hub, "job.toml").unwrap_or_else(|e| panic!("{e}"));
    assert_eq!((hub.rig.inertia.value, hub.rig.inertia.relative), (0.0, 0.0));
    assert_eq!((hub.rig.radius.value, hub.rig.radius.relative), (0.316, 0.0));
    for (inertia, ok) in [("0kg.m2", true), ("100000kg.m2", true), ("100400kg.m2", false), ("-1kg.m2", false)]
    {
        let text = written("rig", "kind = \"hub\"")
            .replace("roller_radius = \"159mm\"\n", "")
            .replace("\"21.5kg.m2\"", &format!("\"{inertia}\""));
        assert_eq!(Job::parse(&text, "job.toml").is_ok(), ok, "{inertia}");
    }
}

#[test]
fn every_word() {
    let text = written("basis", "");
    let with = |old: &str, new: &str| {
        assert!(text.contains(old), "{old}");
        Job::parse(&text.replace(old, new), "job.toml").map_err(|e| e.to_string())
    };
    let spark = "ignition = \"spark\"";
    for (word, is) in [("spark", Ignition::Spark), ("compression", Ignition::Compression)] {
        assert_eq!(with(spark, &format!("ignition = \"{word}\"")).unwrap().vehicle.engine.ignition, is);
    }
    let charging = [
        ("none", Charging::None),
        ("supercharged", Charging::Supercharged),
        ("turbocharged", Charging::Turbocharged),
    ];
    for (word, is) in charging {
        let charged = format!("charging = \"{word}\"");
        assert_eq!(with("charging = \"turbocharged\"", &charged).unwrap().vehicle.engine.charging, is);
        // only what charges an engine can hold the charge against the ambient
        let held = with("charging = \"turbocharged\"", &format!("{charged}\nambient_compensated = true"));
        assert_eq!(held.is_ok(), is != Charging::None, "{word}");
        assert!(held.is_ok_and(|j| j.vehicle.engine.ambient_compensated) == (is != Charging::None));
    }
    let cooling =
        [("none", ChargeCooling::None), ("air", ChargeCooling::Air), ("liquid", ChargeCooling::Liquid)];
    for (word, is) in cooling {
        let job = good("vehicle", &format!("charge_cooling = \"{word}\""));
        assert_eq!(job.vehicle.engine.charge_cooling, is);
    }
    for (word, is) in [
        ("manual", Gearbox::ToothClutch),
        ("dual-clutch", Gearbox::ToothClutch),
        ("automated-manual", Gearbox::ToothClutch),
        ("planetary", Gearbox::Planetary),
        ("converter", Gearbox::Converter),
    ] {
        assert_eq!(good("vehicle", &format!("gearbox = \"{word}\"")).vehicle.gearbox, Some(is));
    }
    for (word, is) in [("net", Rating::Net), ("gross", Rating::Gross)] {
        assert_eq!(good("basis", &format!("rating = \"{word}\"")).rating, is);
    }
    let elements = [
        ("spur-gear", Element::SpurGear),
        ("helical-gear", Element::HelicalGear),
        ("bevel-gear", Element::BevelGear),
        ("roller-chain", Element::RollerChain),
        ("silent-chain", Element::SilentChain),
        ("cogged-belt", Element::CoggedBelt),
        ("vee-belt", Element::VeeBelt),
        ("hydraulic-coupling", Element::HydraulicCoupling),
        ("hydraulic-converter", Element::HydraulicConverter),
    ];
    for (word, is) in elements {
        assert_eq!(good("loss", &format!("elements = [\"{word}\"]")).loss.elements, [is]);
    }
    for (word, is) in [("inertia-roller", RigKind::InertiaRoller), ("braked-roller", RigKind::BrakedRoller)] {
        assert_eq!(good("rig", &format!("kind = \"{word}\"")).rig.kind, is);
    }
    for (table, field) in
        [("vehicle", "charge_cooling"), ("vehicle", "gearbox"), ("basis", "rating"), ("rig", "kind")]
    {
        let said = parsed(table, &format!("{field} = \"other\"")).unwrap_err();
        assert!(said.contains("\"other\" is not known; write one of "), "{said}");
    }
    assert!(parsed("loss", "elements = [\"other\"]").unwrap_err().contains("is not known"));
    let knock = with("[grid]", "[knock]\nrequirement = 96\nk = 0.5\n[grid]").unwrap().knock.unwrap();
    assert_eq!((knock.requirement, knock.k), (Some((96.0, 2.0)), Some((0.5, 0.3))));
    let stated = "[knock]\nrequirement = 96\nrequirement_u = 1\n[grid]";
    let knock = with("[grid]", stated).unwrap().knock.unwrap();
    assert_eq!((knock.requirement, knock.k), (Some((96.0, 1.0)), None));
    for (line, ok) in [
        ("requirement = 0", true),
        ("requirement = 150", true),
        ("requirement = -0.1", false),
        ("requirement = 150.1", false),
        ("requirement = 96\nrequirement_u = 50", true),
        ("requirement = 96\nrequirement_u = 50.1", false),
        ("requirement = 96\nrequirement_u = -0.1", false),
        ("k = -3", true),
        ("k = 1", true),
        ("k = -3.1", false),
        ("k = 1.1", false),
        ("k = 0\nk_u = 3", true),
        ("k = 0\nk_u = 3.1", false),
        ("k_u = 0.1", false),
    ] {
        assert_eq!(with("[grid]", &format!("[knock]\n{line}\n[grid]")).is_ok(), ok, "{line}");
    }
}

/// The same air by its humidity, dew point and wet bulb (ISO 2533 for the height, Magnus's formula to a per cent for the
/// dew point); one of each and no more.
#[test]
fn weather_in_other_words() {
    let text = written("basis", "");
    let reading = |words: &str| {
        let plain = "pressure = \"985hPa\", temperature = \"24C\", humidity = \"40%\"";
        assert!(text.contains(plain));
        Job::parse(&text.replace(plain, words), "job.toml")
            .map(|j| j.states[0].logs[0].air)
            .map_err(|e| e.to_string())
    };
    let plain = reading("pressure = \"985hPa\", temperature = \"24C\", humidity = \"40%\"").unwrap();
    near(plain.station.pascals(), 98_500.0);
    near(plain.temperature.kelvin(), 297.15);
    assert!((plain.humidity - 0.4).abs() < 1e-9);
    // dew point 9.6 °C, and a wet bulb that is cooler than the air and warmer than the dew point
    let magnus = |t: f64| 6.112 * libm::exp(17.62 * t / (243.12 + t));
    let by_dew = reading("pressure = \"985hPa\", temperature = \"24C\", dew_point = \"9.6C\"").unwrap();
    assert!((by_dew.humidity / (magnus(9.6) / magnus(24.0)) - 1.0).abs() < 0.01, "{}", by_dew.humidity);
    let by_bulb = reading("pressure = \"985hPa\", temperature = \"24C\", wet_bulb = \"15.4C\"").unwrap();
    // Sprung's formula
    let sprung = (magnus(15.4) - 0.662 * 0.985 * (24.0 - 15.4)) / magnus(24.0);
    assert!((by_bulb.humidity / sprung - 1.0).abs() < 0.02, "{} {sprung}", by_bulb.humidity);
    let by_height =
        reading("qnh = \"1013.25hPa\", elevation = \"500m\", temperature = \"24C\", humidity = \"40%\"")
            .unwrap();
    assert!((by_height.station.pascals() - 95_461.0).abs() < 30.0, "{}", by_height.station.pascals());
    for (words, field, problem) in [
        ("temperature = \"24C\", humidity = \"40%\"", "air.pressure", "no pressure is given"),
        (
            "pressure = \"985hPa\", qnh = \"1000hPa\", temperature = \"24C\", humidity = \"40%\"",
            "air",
            "both pressure and qnh are given",
        ),
        (
            "qnh = \"1000hPa\", temperature = \"24C\", humidity = \"40%\"",
            "air.elevation",
            "qnh needs the elevation",
        ),
        ("pressure = \"985hPa\", temperature = \"24C\"", "air.humidity", "no humidity is given"),
        (
            "pressure = \"985hPa\", temperature = \"24C\", humidity = \"40%\", dew_point = \"9C\"",
            "air",
            "humidity is given more than once",
        ),
        (
            "pressure = \"985hPa\", temperature = \"24C\", wet_bulb = \"15C\", dew_point = \"9C\"",
            "air",
            "humidity is given more than once",
        ),
    ] {
        let said = reading(words).unwrap_err();
        assert!(said.contains(&format!(" {field}: {problem};")), "{words}: {said}");
    }
}

/// The air of a log stands before that of its state, for that log alone.
#[test]
fn air_of_a_log() {
    let own = "air = { pressure = \"990hPa\", temperature = \"20C\", humidity = \"50%\" }";
    let text = written("basis", "");
    let more = format!("{text}[[state.log]]\nfile = \"b.csv\"\n{own}\n[[state.log]]\nfile = \"c.csv\"\n");
    let job = Job::parse(&more, "job.toml").unwrap_or_else(|e| panic!("{e}"));
    let logs = &job.states[0].logs;
    let pascals: Vec<f64> = logs.iter().map(|l| l.air.station.pascals()).collect();
    assert_eq!(pascals, [98_500.0, 99_000.0, 98_500.0]);
    assert_eq!(logs[0].air, logs[2].air);
    near(logs[1].air.temperature.kelvin(), 293.15);
    assert!((logs[1].air.humidity - 0.5).abs() < 1e-9);
}

/// Minutes since 1970 by Python's datetime, leap years and turns of centuries among them.
#[test]
fn start_times() {
    let text = written("basis", "");
    let start = |t: &str| {
        Job::parse(&text.replace("2026-05-11T10:02:00", t), "job.toml")
            .map(|j| j.states[0].logs[0].start_minute.unwrap())
            .map_err(|e| e.to_string())
    };
    for (t, minutes) in [
        ("1999-12-31T23:59:59", 15776640.0 + 1439.9833333333333),
        ("2000-02-29T00:00:00", 15863040.0 + 0.0),
        ("2000-03-01T12:30:00", 15864480.0 + 750.0),
        ("1900-02-28T06:00:00", -36732960.0 + 360.0),
        ("1900-03-01T06:00:00", -36731520.0 + 360.0),
        ("2100-02-28T23:00:00", 68457600.0 + 1380.0),
        ("2100-03-01T01:00:00", 68459040.0 + 60.0),
        ("2024-02-29T10:11:12", 28486080.0 + 611.2),
        ("2026-01-01T00:00:30", 29453760.0 + 0.5),
        ("2026-12-31T18:45:00", 29977920.0 + 1125.0),
        ("1901-07-04T00:00:00", -36025920.0 + 0.0),
        ("9999-12-31T00:00:00", 4223370240.0 + 0.0),
    ] {
        assert_eq!(start(t), Ok(minutes), "{t}");
        assert_eq!(start(&t.replace('T', " ")), Ok(minutes), "{t}");
    }
    near(start("1970-01-01T00:00:59.9").unwrap(), 59.9 / 60.0);
    for ok in ["1970-01-01T23:59", "1970-01-31T00:00:00", "1970-12-01T00:00:00"] {
        assert!(start(ok).is_ok(), "{ok}");
    }
    for wrong in [
        "1970-00-01T00:00",
        "1970-13-01T00:00",
        "1970-01-00T00:00",
        "1970-01-32T00:00",
        "1899-12-31T00:00",
        "10000-01-01T00:00",
        "1970-01-01T24:00",
        "1970-01-01T-1:00",
        "1970-01-01T00:60",
        "1970-01-01T00:-1",
        "1970-01-01T00:00:60",
        "2026-02-29T00:00",
        "2024-02-30T00:00",
        "1900-02-29T00:00",
        "2100-02-29T00:00",
        "2000-02-30T00:00",
        "2026-04-31T00:00",
        "2026-06-31T00:00",
        "2026-09-31T00:00",
        "2026-11-31T00:00",
        "1970-01-01T00:00:-1",
        "1970-01-01T00:00:00:00",
        "1970-01-01-01T00:00",
        "1970-01-01",
        "1970-01T00:00",
        "1970-01-01T00",
    ] {
        assert!(start(wrong).unwrap_err().contains("is not a time"), "{wrong}");
    }
}
