//! What the tests of stress figures and of pipes share.
#![allow(clippy::panic, clippy::unwrap_used)]

use fairpull_core::{AbsolutePressure, Temperature};
use fairpull_stress::{AbsoluteReading, Figure, TemperatureReading};
use toml::Table;

/// Closed formulas.
pub const CLOSE: f64 = 1e-9;

pub fn exact(value: f64) -> Figure {
    Figure::exact(value)
}

pub fn pascals(value: f64) -> AbsoluteReading {
    AbsoluteReading::new(AbsolutePressure::from_pascals(value), 0.0).unwrap()
}

pub fn kelvin(value: f64) -> TemperatureReading {
    TemperatureReading::new(Temperature::from_kelvin(value), 0.0)
}

pub fn libraries() -> Table {
    let path = format!("{}/../fixtures/stress/libraries.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}")).parse().unwrap()
}

pub fn tables<'a>(table: &'a Table, key: &str) -> Vec<&'a Table> {
    table[key].as_array().unwrap().iter().map(|c| c.as_table().unwrap()).collect()
}

pub fn number(table: &Table, key: &str) -> f64 {
    table[key].as_float().unwrap()
}
