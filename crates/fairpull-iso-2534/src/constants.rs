//! Every printed constant: value, unit, source, grade of reading.

use fairpull_core::PressureBasis::Dry;
use fairpull_core::family::{DieselRule, EngineFactor, Exponents};
use fairpull_core::{Cite, Reading, ReferenceAir, Source, TestWindow};

/// The edition in force.
pub(crate) const TEXT: &str = "ISO 2534:2020";
/// The edition before it, whose compression-ignition formula is that of ISO 1585:1992.
pub(crate) const TEXT_1998: &str = "ISO 2534:1998";

/// 99 kPa dry, 1 kPa vapour, 298 K printed beside 25 °C: exact as printed.
pub(crate) const REFERENCE: ReferenceAir = ReferenceAir {
    basis: Dry,
    pressure_kpa: 99.0,
    vapour_kpa: 1.0,
    temperature_c: 25.0,
    kelvin_offset: 273.0,
};

/// Exponents of α_a.
pub(crate) const SPARK: Exponents = Exponents::new(1.2, 0.6);
/// Where they were found.
pub(crate) const SPARK_SOURCE: Source = Source {
    what: "formula for spark ignition as in ISO 1585",
    cite: Cite::new(TEXT, "factor for spark ignition", Reading::Remembered),
};
/// The same in the edition before.
pub(crate) const SPARK_SOURCE_1998: Source =
    Source { cite: Cite::new(TEXT_1998, "factor for spark ignition", Reading::Remembered), ..SPARK_SOURCE };
/// One α_a for naturally aspirated and pressure-charged engines.
pub(crate) const CHARGED: Source = Source {
    what: "one α_a for every kind of charging",
    cite: Cite::new(TEXT, "factor for spark ignition", Reading::Remembered),
};
/// The same in the edition before.
pub(crate) const CHARGED_1998: Source = Source { cite: SPARK_SOURCE_1998.cite, ..CHARGED };

/// Exponents of f_a with the engine factor that belongs to them (limit 40 mg, 0.3 below).
pub(crate) const DIESEL: DieselRule = DieselRule {
    aspirated: Exponents::new(1.0, 0.7),
    turbocharged: Exponents::new(0.7, 1.5),
    liquid_cooled: Exponents::new(0.7, 1.5),
    engine_factor: EngineFactor::FROM_40,
    cite: ENGINE_FACTOR,
};
/// Where the exponents of f_a were found.
pub(crate) const DIESEL_SOURCE: Source = Source {
    what: "formula for compression ignition as in ISO 1585:1992",
    cite: Cite::new(TEXT_1998, "factor for compression ignition", Reading::Remembered),
};
/// Where f_m = 0.036 q_c − 1.14 was found.
pub(crate) const ENGINE_FACTOR: Cite =
    Cite::new("UN R85", "Annex 5, 5.4.2.2 (engine factor f_m, as in ISO 1585:1992)", Reading::Read);

/// The rule of a later text of the same family: factor 1 for a charged engine that compensates for the ambient.
pub(crate) const RULE: Cite = Cite::new(
    "(EU) 2017/1151",
    "Annex XX, 2.3 (derogation from UN R85, Annex 5, 5.1), at the manufacturer's request",
    Reading::Read,
);

/// Where the ranges were found.
pub(crate) const LIMITS: Cite =
    Cite::new(TEXT, "test conditions and validity of the factor, as in ISO 1585", Reading::Remembered);
/// The same in the edition before.
pub(crate) const LIMITS_1998: Cite =
    Cite::new(TEXT_1998, "test conditions and validity of the factor, as in ISO 1585", Reading::Remembered);
/// 288 to 308 K, 80 to 110 kPa dry, 0.93 ≤ α_a ≤ 1.07.
pub(crate) const SPARK_WINDOW: TestWindow =
    TestWindow::new(Dry, Some([288.0, 308.0]), Some([80.0, 110.0]), Some([0.93, 1.07]), LIMITS);
/// The same in the edition before.
pub(crate) const SPARK_WINDOW_1998: TestWindow =
    TestWindow::new(Dry, Some([288.0, 308.0]), Some([80.0, 110.0]), Some([0.93, 1.07]), LIMITS_1998);
/// 283 to 313 K, 80 to 110 kPa dry, 0.9 ≤ α_d ≤ 1.1.
pub(crate) const DIESEL_WINDOW: TestWindow =
    TestWindow::new(Dry, Some([283.0, 313.0]), Some([80.0, 110.0]), Some([0.9, 1.1]), LIMITS_1998);
