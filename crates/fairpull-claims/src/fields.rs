//! Everything a claim may hold: section, key, kind and the range that any road vehicle stays in.

use fairpull_units::Dimension;

/// Kind of a field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Kind {
    /// A quantity written with its unit; range in SI.
    Quantity(Dimension, f64, f64),
    /// A bare number with its range.
    Number(f64, f64),
    /// One of some words.
    Word(&'static [&'static str]),
    /// Free text.
    Text,
    /// `true` or `false`.
    Flag,
}

/// A field.
pub(crate) struct Field {
    pub(crate) key: &'static str,
    pub(crate) kind: Kind,
    /// An example, as the mend shows it.
    pub(crate) example: &'static str,
}

const fn q(key: &'static str, d: Dimension, low: f64, high: f64, example: &'static str) -> Field {
    Field { key, kind: Kind::Quantity(d, low, high), example }
}

const fn n(key: &'static str, low: f64, high: f64, example: &'static str) -> Field {
    Field { key, kind: Kind::Number(low, high), example }
}

const fn w(key: &'static str, words: &'static [&'static str], example: &'static str) -> Field {
    Field { key, kind: Kind::Word(words), example }
}

use Dimension as D;

/// 20 000 1/min in rad/s.
const FAST: f64 = 2100.0;
const POWER: f64 = 1.0e7;
const TORQUE: f64 = 1.0e5;

pub(crate) static ENGINE: &[Field] = &[
    q("power", D::Power, 100.0, POWER, "\"221kW\""),
    q("power_speed", D::RotationalSpeed, 10.0, FAST, "\"6500rpm\""),
    q("torque", D::Torque, 1.0, TORQUE, "\"400Nm\""),
    q("torque_speed", D::RotationalSpeed, 10.0, FAST, "\"3000rpm\""),
    q("torque_speed_end", D::RotationalSpeed, 10.0, FAST, "\"5000rpm\""),
    q("displacement", D::Volume, 2.0e-5, 0.1, "\"1950cm3\""),
    q("stroke", D::Length, 0.02, 0.5, "\"90mm\""),
    n("cylinders", 1.0, 24.0, "4"),
    w("ignition", &["spark", "compression"], "\"spark\""),
    w("charging", &["none", "supercharged", "turbocharged"], "\"turbocharged\""),
    w("site", &["crank", "wheel", "hub"], "\"crank\""),
    Field { key: "standard", kind: Kind::Text, example: "\"iso-1585\"" },
    w("rating", &["net", "gross"], "\"net\""),
    q("wheel_power", D::Power, 100.0, POWER, "\"195kW\""),
];

pub(crate) static STOCK: &[Field] = &[
    q("power", D::Power, 100.0, POWER, "\"180kW\""),
    q("gain", D::Power, -POWER, POWER, "\"40kW\""),
    n("gain_percent", -90.0, 500.0, "22"),
    n("repeats", 2.0, 1000.0, "3"),
    n("repeatability_percent", 0.01, 20.0, "0.6"),
];

pub(crate) static FUEL: &[Field] = &[
    Field { key: "grade", kind: Kind::Text, example: "\"RON 98\"" },
    n("required_ron", 50.0, 130.0, "95"),
    q("flow", D::MassFlow, 1e-5, 5.0, "\"75kg/h\""),
    n("flow_percent", 0.0, 50.0, "1"),
    q("consumption", D::SpecificFuel, 4e-8, 4e-7, "\"300g/kWh\""),
    q("air_flow", D::MassFlow, 1e-4, 20.0, "\"0.28kg/s\""),
    n("air_flow_percent", 0.0, 50.0, "2"),
    n("lambda", 0.5, 5.0, "0.86"),
];

pub(crate) static PARTS: &[Field] = &[
    q("compressor_flow", D::MassFlow, 1e-4, 20.0, "\"0.35kg/s\""),
    n("injectors", 1.0, 48.0, "4"),
    q("injector_flow", D::VolumeFlow, 1e-8, 1e-3, "\"550cm3/min\""),
    q("injector_rated_drop", D::Pressure, 1e4, 5e7, "\"300kPa\""),
    q("injector_drop", D::Pressure, 1e4, 5e7, "\"300kPa\""),
    q("manifold_pressure", D::Pressure, 2e4, 1e6, "\"220kPa(a)\""),
    q("charge_temperature", D::Temperature, 220.0, 500.0, "\"45C\""),
];

pub(crate) static CAR: &[Field] = &[
    q("mass", D::Mass, 30.0, 1.0e5, "\"1650kg\""),
    n("mass_percent", 0.0, 30.0, "1"),
    q("drag_area", D::Area, 0.1, 20.0, "\"0.68m2\""),
    n("drag_percent", 0.0, 50.0, "5"),
    n("rolling", 0.001, 0.1, "0.011"),
    n("mass_factor", 1.0, 2.0, "1.04"),
    n("driveline_efficiency", 0.5, 1.0, "0.91"),
    n("driveline_efficiency_percent", 0.0, 20.0, "1"),
    q("air_density", D::Density, 0.3, 2.0, "\"1.18kg/m3\""),
    w("driven", &["front", "rear", "all"], "\"rear\""),
    w("gearbox", &["manual", "dual-clutch", "automatic"], "\"manual\""),
    Field { key: "gears", kind: Kind::Text, example: "[3.6, 2.1, 1.4, 1.0, 0.8]" },
    n("final_drive", 0.2, 50.0, "3.7"),
    q("tyre_radius", D::Length, 0.05, 2.0, "\"316mm\""),
    q("shift_time", D::Time, 0.0, 5.0, "\"0.3s\""),
];

pub(crate) static TIME: &[Field] = &[
    q("from", D::Speed, 0.0, 150.0, "\"100km/h\""),
    q("to", D::Speed, 0.1, 150.0, "\"200km/h\""),
    q("distance", D::Length, 1.0, 50_000.0, "\"402.336m\""),
    q("time", D::Time, 0.1, 3600.0, "\"9.1s\""),
    q("uncertainty", D::Time, 0.0, 100.0, "\"0.1s\""),
    Field { key: "rollout", kind: Kind::Flag, example: "true" },
];

pub(crate) static CURVE: &[Field] = &[
    q("speed", D::RotationalSpeed, 10.0, FAST, "\"4000rpm\""),
    q("torque", D::Torque, 0.1, TORQUE, "\"380Nm\""),
    q("power", D::Power, 10.0, POWER, "\"159kW\""),
];

/// Sections with one table each.
pub(crate) static SECTIONS: &[(&str, &[Field])] =
    &[("engine", ENGINE), ("stock", STOCK), ("fuel", FUEL), ("parts", PARTS), ("car", CAR)];
/// Sections with any number of tables.
pub(crate) static LISTS: &[(&str, &[Field])] = &[("time", TIME), ("curve", CURVE)];
