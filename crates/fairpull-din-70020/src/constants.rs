//! Every printed constant: value, unit, source, grade of reading.

use fairpull_core::PressureBasis::{Dry, Total};
use fairpull_core::family::Exponents;
use fairpull_core::{Cite, Reading, ReferenceAir, Source};

/// The designation.
pub(crate) const TEXT: &str = "DIN 70020";

/// 1013 mbar as the barometer shows it, 293 K printed beside 20 °C: exact as printed.
pub(crate) const REFERENCE: ReferenceAir = ReferenceAir {
    basis: Total,
    pressure_kpa: 101.3,
    vapour_kpa: 0.0,
    temperature_c: 20.0,
    kelvin_offset: 273.0,
};
/// The same numbers read as dry pressure.
pub(crate) const REFERENCE_DRY: ReferenceAir = ReferenceAir { basis: Dry, ..REFERENCE };

/// K = (1013/p)·√((273 + t)/293).
pub(crate) const EXPONENTS: Exponents = Exponents::new(1.0, 0.5);

/// The reference and the formula.
pub(crate) const FORMULA: Source = Source {
    what: "reference of 1013 mbar and 20 °C, K = (1013/p)·√((273 + t)/293)",
    cite: Cite::new(
        TEXT,
        "part 6 (1976; earlier part 3): a dictionary entry gives 760 mmHg, 20 °C",
        Reading::Corroborated,
    ),
};
/// That the pressure is the barometer's.
pub(crate) const BASIS: Source = Source {
    what: "pressure not reduced by the vapour pressure",
    cite: Cite::new(TEXT, "as handbook tables print it", Reading::Remembered),
};
/// That the pressure is dry.
pub(crate) const BASIS_DRY: Source = Source {
    what: "pressure reduced by the vapour pressure",
    cite: Cite::new(TEXT, "as some later reprints claim", Reading::Doubtful),
};
/// No correction for turbocharged compression ignition.
pub(crate) const TURBO_DIESEL: Source = Source {
    what: "factor 1 for turbocharged compression ignition",
    cite: Cite::new(TEXT, "turbocharged diesel engines", Reading::Doubtful),
};
/// Charged spark ignition.
pub(crate) const CHARGED: Source = Source {
    what: "the same K for pressure-charged engines",
    cite: Cite::new(TEXT, "pressure-charged engines", Reading::Doubtful),
};
/// Aspirated compression ignition.
pub(crate) const DIESEL: Source = Source {
    what: "the same K for compression ignition",
    cite: Cite::new(TEXT, "diesel engines", Reading::Remembered),
};
