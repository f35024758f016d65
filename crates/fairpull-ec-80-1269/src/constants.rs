//! Every printed constant: value, unit, source, grade of reading.

use fairpull_core::PressureBasis::{Dry, Total};
use fairpull_core::family::{DieselRule, EngineFactor, Exponents};
use fairpull_core::{Cite, Reading, ReferenceAir, Source, TestWindow};

/// The directive as amended.
pub(crate) const TEXT: &str = "80/1269/EEC as amended by 88/195/EEC";
/// The original.
pub(crate) const ORIGINAL: &str = "80/1269/EEC (1980)";

/// 99 kPa dry, 1 kPa vapour, 298 K printed beside 25 °C: exact as printed.
pub(crate) const REFERENCE: ReferenceAir = ReferenceAir {
    basis: Dry,
    pressure_kpa: 99.0,
    vapour_kpa: 1.0,
    temperature_c: 25.0,
    kelvin_offset: 273.0,
};
/// 99 kPa read as total pressure.
pub(crate) const REFERENCE_TOTAL: ReferenceAir = ReferenceAir { basis: Total, vapour_kpa: 0.0, ..REFERENCE };

/// Exponents of α_a, amended text.
pub(crate) const SPARK: Exponents = Exponents::new(1.2, 0.6);
/// Where they were found.
pub(crate) const SPARK_SOURCE: Source = Source {
    what: "exponents of α_a and α_d, those of UN R85 and ISO 1585",
    cite: Cite::new("88/195/EEC", "recitals: aligned with UN-ECE and ISO", Reading::Corroborated),
};
/// One α_a for naturally aspirated and pressure-charged engines.
pub(crate) const CHARGED: Source = Source {
    what: "one formula for every kind of charging",
    cite: Cite::new(TEXT, "factor for spark ignition", Reading::Remembered),
};
/// Exponents of f_a with the engine factor that belongs to them (limit 40 mg, 0.3 below).
pub(crate) const DIESEL: DieselRule = DieselRule {
    aspirated: Exponents::new(1.0, 0.7),
    turbocharged: Exponents::new(0.7, 1.5),
    liquid_cooled: Exponents::new(0.7, 1.5),
    engine_factor: EngineFactor::FROM_40,
    cite: Cite::new("UN R85", "Annex 5, 5.4.2.2 (engine factor f_m, aligned)", Reading::Read),
};

/// K = (99/p)·√(T/298), original text.
pub(crate) const ORIGINAL_SPARK: Exponents = Exponents::new(1.0, 0.5);
/// Where it was found.
pub(crate) const ORIGINAL_SPARK_SOURCE: Source = Source {
    what: "K = (99/p)·√(T/298)",
    cite: Cite::new(
        ORIGINAL,
        "factor K as tabulated in a vehicle maker's workshop information sheet (correction table, 110 cells)",
        Reading::Corroborated,
    ),
};
/// That the original means dry pressure.
pub(crate) const ORIGINAL_BASIS: Source = Source {
    what: "pressure reduced by the vapour pressure",
    cite: Cite::new(ORIGINAL, "definition of the pressure in K", Reading::Remembered),
};
/// Aspirated compression ignition, original text: (99/p)^0.65·(T/298)^0.5.
pub(crate) const ORIGINAL_DIESEL: Exponents = Exponents::new(0.65, 0.5);
/// Where it was found.
pub(crate) const ORIGINAL_DIESEL_SOURCE: Source = Source {
    what: "(99/p)^0.65·(T/298)^0.5 for aspirated and 1 for turbocharged compression ignition",
    cite: Cite::new(ORIGINAL, "factor for compression ignition", Reading::Doubtful),
};
/// Charged spark ignition, original text.
pub(crate) const ORIGINAL_CHARGED: Source = Source {
    what: "the same K for pressure-charged spark ignition",
    cite: Cite::new(ORIGINAL, "factor for spark ignition", Reading::Doubtful),
};

/// The rule of a later text of the same family: factor 1 for a charged engine that compensates for the ambient.
pub(crate) const RULE: Cite = Cite::new(
    "(EU) 136/2014 and (EU) 2017/1151",
    "Annex XX, 2.3 (derogation from UN R85, Annex 5, 5.1), at the manufacturer's request",
    Reading::Read,
);
/// Where the ranges of the amended text were found.
pub(crate) const LIMITS: Cite = Cite::new(TEXT, "test conditions, as in UN R85", Reading::Remembered);
/// 288 to 308 K, 80 to 110 kPa dry, 0.93 ≤ α_a ≤ 1.07.
pub(crate) const SPARK_WINDOW: TestWindow =
    TestWindow::new(Dry, Some([288.0, 308.0]), Some([80.0, 110.0]), Some([0.93, 1.07]), LIMITS);
/// 283 to 313 K, 80 to 110 kPa dry, 0.9 ≤ α_d ≤ 1.1.
pub(crate) const DIESEL_WINDOW: TestWindow =
    TestWindow::new(Dry, Some([283.0, 313.0]), Some([80.0, 110.0]), Some([0.9, 1.1]), LIMITS);
/// 0.96 ≤ K ≤ 1.06, original text; other ranges are not known.
pub(crate) const ORIGINAL_WINDOW: TestWindow = TestWindow::new(
    Dry,
    None,
    None,
    Some([0.96, 1.06]),
    Cite::new(ORIGINAL, "range of K", Reading::Doubtful),
);
