//! Helpers shared by the tests: reading fixtures; campaigns against the known truth of the simulator.
#![allow(clippy::panic, clippy::missing_panics_doc)]

pub mod campaign;
pub mod faults;
pub mod pipeline;
pub mod score;
pub mod tables;
pub mod tally;
pub mod textbook;

/// A TOML file under `fixtures/`, e.g. `moist-air/density`.
#[must_use]
pub fn fixture(name: &str) -> toml::Table {
    let path = format!("{}/../fixtures/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}"));
    text.parse().unwrap_or_else(|e| panic!("{path}: {e}"))
}

/// The tables of an array, in order.
#[must_use]
pub fn rows<'a>(table: &'a toml::Table, key: &str) -> Vec<&'a toml::Table> {
    let array = table.get(key).and_then(|v| v.as_array()).unwrap_or_else(|| panic!("no array {key}"));
    array
        .iter()
        .map(|v| v.as_table().unwrap_or_else(|| panic!("{key} holds something else than tables")))
        .collect()
}

/// A number, or a text that is one (values kept as printed).
#[must_use]
pub fn number(table: &toml::Table, key: &str) -> f64 {
    maybe(table, key).unwrap_or_else(|| panic!("no number {key} in {table:?}"))
}

/// As [`number`], where the key may be absent.
#[must_use]
pub fn maybe(table: &toml::Table, key: &str) -> Option<f64> {
    let value = table.get(key)?;
    value.as_float().or_else(|| value.as_str()?.parse().ok())
}

/// A text.
#[must_use]
pub fn text<'a>(table: &'a toml::Table, key: &str) -> &'a str {
    table.get(key).and_then(|v| v.as_str()).unwrap_or_else(|| panic!("no text {key} in {table:?}"))
}

/// Half a unit of the last digit of a printed number: 0.0005 for `1.023`, 0.0005 for `1.23E-01`.
#[must_use]
pub fn half_digit(printed: &str) -> f64 {
    let (mantissa, exponent) = printed.split_once(['e', 'E']).unwrap_or((printed, "0"));
    let decimals = mantissa.split_once('.').map_or(0, |(_, d)| d.len());
    let decimals = i32::try_from(decimals).unwrap_or_else(|e| panic!("{printed}: {e}"));
    let exponent: i32 = exponent.parse().unwrap_or_else(|e| panic!("{printed}: {e}"));
    format!("0.5e{}", exponent - decimals).parse().unwrap_or_else(|e| panic!("{printed}: {e}"))
}

/// The README's Rust, compiled and run.
#[cfg(doctest)]
#[doc = include_str!("../../README.md")]
pub struct Readme;
