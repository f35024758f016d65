//! Every printed constant: value, unit, source, grade of reading.

use fairpull_core::PressureBasis::Dry;
use fairpull_core::family::{DieselRule, EngineFactor, Exponents};
use fairpull_core::{Cite, Reading, ReferenceAir, Source};

/// The designation.
pub(crate) const TEXT: &str = "SAE J1995";

/// 99 kPa dry, 1 kPa vapour, 25 °C; the summary of 2014 prints these, 298 beside 25 °C as in SAE J1349.
pub(crate) const REFERENCE: ReferenceAir = ReferenceAir {
    basis: Dry,
    pressure_kpa: 99.0,
    vapour_kpa: 1.0,
    temperature_c: 25.0,
    kelvin_offset: 273.0,
};
/// Where it was found.
pub(crate) const REFERENCE_SOURCE: Source = Source {
    what: "gross rating; reference of 25 °C, 99 kPa dry, 1 kPa vapour",
    cite: Cite::new(TEXT, "summary of 2014-01", Reading::Corroborated),
};

/// k = (99/B_d)·√((t+273)/298), the factor on indicated power.
pub(crate) const INDICATED: Exponents = Exponents::new(1.0, 0.5);
/// As printed in SAE J1349.
pub(crate) const SCALE: f64 = 1.18;
/// As printed in SAE J1349.
pub(crate) const OFFSET: f64 = 0.18;
/// That J1995 uses it.
pub(crate) const FORMULA: Source = Source {
    what: "correction formulas as in SAE J1349",
    cite: Cite::new(TEXT, "correction factors", Reading::Remembered),
};

/// Exponents of f_a with the engine factor that belongs to them (limit 37.2 mg, 0.2 below).
pub(crate) const DIESEL: DieselRule = DieselRule {
    aspirated: Exponents::new(1.0, 0.7),
    turbocharged: Exponents::new(0.7, 1.2),
    liquid_cooled: Exponents::new(0.7, 0.7),
    engine_factor: EngineFactor::FROM_37_2,
    cite: FORMULA.cite,
};
