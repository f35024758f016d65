//! Every printed constant: value, unit, source, grade of reading.

use fairpull_core::PressureBasis::Dry;
use fairpull_core::{Cite, Reading, ReferenceAir, Source};

/// The designation.
pub(crate) const TEXT: &str = "ISO 3046-1:2002";

/// 100 kPa total at 30 % of 3.2 kPa, 298 K printed beside 25 °C. Cases with a = 0 read the total pressure.
pub(crate) const REFERENCE: ReferenceAir = ReferenceAir {
    basis: Dry,
    pressure_kpa: 99.04,
    vapour_kpa: 0.96,
    temperature_c: 25.0,
    kelvin_offset: 273.0,
};
/// Share of k that friction takes in α = k − 0.7·(1 − k)·(1/η_m − 1).
pub(crate) const FRICTION: f64 = 0.7;
/// Mechanical efficiency where none is stated.
pub(crate) const EFFICIENCY: f64 = 0.80;
/// Where it was found.
pub(crate) const EFFICIENCY_CITE: Cite =
    Cite::new(TEXT, "mechanical efficiency where the manufacturer states none", Reading::Remembered);
/// Where the method was found.
pub(crate) const METHOD: Source = Source {
    what: "k, α and β",
    cite: Cite::new(
        TEXT,
        "power adjustment, as printed by Mathur & Sharma, Internal Combustion Engine (2010), ch. 27",
        Reading::Corroborated,
    ),
};

/// Which limit and which engine: the exponents of k, and how far they were read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Case {
    /// Letter of the case and the engines it is for.
    pub name: &'static str,
    /// a: 1 where the vapour is taken off the pressure, 0 where not.
    pub a: f64,
    /// Exponent of the pressure ratio.
    pub m: f64,
    /// Exponent of the ratio of ambient temperatures.
    pub n: f64,
    /// Exponent of the ratio of charge-coolant temperatures.
    pub s: f64,
    /// Where the exponents stand.
    pub cite: Cite,
}

impl Case {
    const fn new(name: &'static str, [a, m, n, s]: [f64; 4], reading: Reading) -> Self {
        Self { name, a, m, n, s, cite: Cite::new(TEXT, name, reading) }
    }

    /// Aspirated compression ignition limited by excess air.
    pub const A: Self = Self::new(
        "case A: aspirated compression ignition, limited by excess air",
        [1.0, 1.0, 0.75, 0.0],
        Reading::Corroborated,
    );
    /// Aspirated compression ignition limited by thermal load.
    pub const B: Self = Self::new(
        "case B: aspirated compression ignition, limited by thermal load",
        [0.0, 1.0, 1.0, 0.0],
        Reading::Remembered,
    );
    /// Turbocharged compression ignition without charge cooling, low and medium speed, four-stroke.
    pub const C: Self = Self::new(
        "case C: turbocharged compression ignition without charge cooling",
        [0.0, 0.7, 2.0, 0.0],
        Reading::Corroborated,
    );
    /// Turbocharged and charge-cooled compression ignition, low and medium speed, four-stroke.
    pub const D: Self = Self::new(
        "case D: turbocharged and charge-cooled compression ignition",
        [0.0, 0.7, 1.2, 1.0],
        Reading::Corroborated,
    );
    /// Aspirated spark ignition on gas.
    pub const F: Self =
        Self::new("case F: aspirated spark ignition on gas", [1.0, 0.86, 0.55, 0.0], Reading::Doubtful);
    /// Turbocharged and charge-cooled spark ignition on gas.
    pub const G: Self = Self::new(
        "case G: turbocharged and charge-cooled spark ignition on gas",
        [0.0, 0.57, 0.55, 1.75],
        Reading::Doubtful,
    );
    /// Aspirated spark ignition on liquid fuel.
    pub const SPARK_LIQUID: Self =
        Self::new("aspirated spark ignition on liquid fuel", [1.0, 1.0, 0.5, 0.0], Reading::Doubtful);
}
