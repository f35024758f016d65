//! Every printed constant: value, unit, source, grade of reading.

use fairpull_core::PressureBasis::Dry;
use fairpull_core::family::{DieselRule, EngineFactor, Exponents};
use fairpull_core::{Cite, Reading, ReferenceAir, Source, TestWindow};

/// The edition whose formulas are given.
pub(crate) const TEXT: &str = "ISO 1585:1992";
/// The current edition.
pub(crate) const TEXT_2020: &str = "ISO 1585:2020";

/// 99 kPa dry, 1 kPa vapour, 298 K printed beside 25 °C: exact as printed.
pub(crate) const REFERENCE: ReferenceAir = ReferenceAir {
    basis: Dry,
    pressure_kpa: 99.0,
    vapour_kpa: 1.0,
    temperature_c: 25.0,
    kelvin_offset: 273.0,
};

/// Exponents of α_a, both exact as printed.
pub(crate) const SPARK: Exponents = Exponents::new(1.2, 0.6);

/// Where the exponents of α_a were found.
pub(crate) const SPARK_CITE: Cite = Cite::new(
    TEXT,
    "atmospheric factor α_a, exponents as printed by Mathur & Sharma, Internal Combustion Engine (2010), ch. 27",
    Reading::Corroborated,
);

/// One α_a for naturally aspirated and pressure-charged engines.
pub(crate) const ONE_SPARK_FORMULA: Source = Source {
    what: "one α_a for every kind of charging",
    cite: Cite::new(TEXT, "factor for spark ignition", Reading::Remembered),
};

/// Exponents of f_a with the engine factor that belongs to them (limit 40 mg, 0.3 below).
pub(crate) const DIESEL: DieselRule = DieselRule {
    aspirated: Exponents::new(1.0, 0.7),
    turbocharged: Exponents::new(0.7, 1.5),
    liquid_cooled: Exponents::new(0.7, 1.5),
    engine_factor: EngineFactor::FROM_40,
    cite: ENGINE_FACTOR_CITE,
};

/// Where the exponents of f_a were found.
pub(crate) const DIESEL_CITE: Cite = Cite::new(
    TEXT,
    "atmospheric factor f_a, exponents as printed in an engine maker's service manual and by Mathur & Sharma (2010)",
    Reading::Corroborated,
);

/// f_m = 0.036 q_c − 1.14, read in the UN text that repeats this one.
pub(crate) const ENGINE_FACTOR_CITE: Cite =
    Cite::new("UN R85", "Annex 5, 5.4.2.2 (engine factor f_m, as in ISO 1585:1992)", Reading::Read);

const LIMITS: Cite = Cite::new(TEXT, "test conditions and validity of the factor", Reading::Remembered);
const DIESEL_LIMITS: Cite = Cite::new(
    TEXT,
    "test conditions and validity of α_d, as printed in an engine maker's service manual",
    Reading::Corroborated,
);

/// 288 to 308 K, 80 to 110 kPa dry, 0.93 ≤ α_a ≤ 1.07.
pub(crate) const SPARK_WINDOW: TestWindow =
    TestWindow::new(Dry, Some([288.0, 308.0]), Some([80.0, 110.0]), Some([0.93, 1.07]), LIMITS);

/// 283 to 313 K, 80 to 110 kPa dry, 0.9 ≤ α_d ≤ 1.1.
pub(crate) const DIESEL_WINDOW: TestWindow =
    TestWindow::new(Dry, Some([283.0, 313.0]), Some([80.0, 110.0]), Some([0.9, 1.1]), DIESEL_LIMITS);
