//! Every printed constant: value, unit, source, grade of reading.

use fairpull_core::PressureBasis::Dry;
use fairpull_core::family::Exponents;
use fairpull_core::{Cite, Reading, ReferenceAir, Source};

/// The designation.
pub(crate) const TEXT: &str = "SAE J607a";

/// Conventional inch of mercury, kPa: 25.4 mm of 13 595.1 kg/m³ at 9.806 65 m/s², exact.
const INCH_OF_MERCURY: f64 = 3.386388640341;
/// 29.92 inHg dry and 60 °F, printed beside 520: F + 460 = 1.8·(t + 492/1.8).
pub(crate) const REFERENCE: ReferenceAir = ReferenceAir {
    basis: Dry,
    pressure_kpa: 29.92 * INCH_OF_MERCURY,
    vapour_kpa: 0.0,
    temperature_c: (60.0 - 32.0) / 1.8,
    kelvin_offset: 492.0 / 1.8,
};
/// (29.92/p_d)·√((F + 460)/520).
pub(crate) const EXPONENTS: Exponents = Exponents::new(1.0, 0.5);

/// The whole text is remembered.
pub(crate) const FORMULA: Source = Source {
    what: "reference of 29.92 inHg dry and 60 °F, (29.92/p_d)·√((F + 460)/520)",
    cite: Cite::new(TEXT, "correction factor", Reading::Remembered),
};
