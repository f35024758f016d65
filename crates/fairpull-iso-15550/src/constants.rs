//! Every printed constant: value, unit, source, grade of reading.

use fairpull_core::PressureBasis::Dry;
use fairpull_core::family::{DieselRule, EngineFactor, Exponents};
use fairpull_core::{Cite, Reading, ReferenceAir, Source, TestWindow};

/// The designation.
pub(crate) const TEXT: &str = "ISO 15550:2016";

/// 100 kPa total at 30 % of 3.2 kPa, 298 K printed beside 25 °C: 99.04 kPa dry, exact as printed.
pub(crate) const REFERENCE: ReferenceAir = ReferenceAir {
    basis: Dry,
    pressure_kpa: 99.04,
    vapour_kpa: 0.96,
    temperature_c: 25.0,
    kelvin_offset: 273.0,
};

/// Exponents of α_a.
pub(crate) const SPARK: Exponents = Exponents::new(1.2, 0.6);
/// Where they were found.
pub(crate) const SPARK_SOURCE: Source = Source {
    what: "reference of 100 kPa, 30 %, 298 K and exponents of α_a",
    cite: Cite::new(
        TEXT,
        "clause 7, as printed by Mathur & Sharma, Internal Combustion Engine (2010), ch. 27",
        Reading::Corroborated,
    ),
};
/// Exponents of f_a with the engine factor that belongs to them (limit 37.2 mg, 0.2 below).
pub(crate) const DIESEL: DieselRule = DieselRule {
    aspirated: Exponents::new(1.0, 0.7),
    turbocharged: Exponents::new(0.7, 1.2),
    liquid_cooled: Exponents::new(0.7, 0.7),
    engine_factor: EngineFactor::FROM_37_2,
    cite: DIESEL_SOURCE.cite,
};
/// Where they were found.
pub(crate) const DIESEL_SOURCE: Source = Source {
    what: "exponents of f_a, engine factor from 37.2 mg, ranges",
    cite: Cite::new(TEXT, "clause 7, as printed in an engine maker's service manuals", Reading::Corroborated),
};
/// The value below the limit; 0.036·37.2 − 1.14 = 0.1992, so there is a tiny step.
pub(crate) const FLOOR: Source = Source {
    what: "engine factor 0.2 below 37.2 mg/(l·cycle)",
    cite: Cite::new(TEXT, "clause 7, engine factor", Reading::Remembered),
};

/// 0.93 ≤ α_a ≤ 1.07; the test ranges for spark ignition are not known.
pub(crate) const SPARK_WINDOW: TestWindow =
    TestWindow::new(Dry, None, None, Some([0.93, 1.07]), SPARK_SOURCE.cite);
/// 283 to 313 K, 80 to 110 kPa dry, 0.9 ≤ α_c ≤ 1.1.
pub(crate) const DIESEL_WINDOW: TestWindow =
    TestWindow::new(Dry, Some([283.0, 313.0]), Some([80.0, 110.0]), Some([0.9, 1.1]), DIESEL_SOURCE.cite);
