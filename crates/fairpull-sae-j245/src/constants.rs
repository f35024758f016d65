//! Every printed constant: value, unit, source, grade of reading.

use fairpull_core::PressureBasis::Dry;
use fairpull_core::family::Exponents;
use fairpull_core::{Cite, Reading, ReferenceAir, Source};

/// The designation.
pub(crate) const TEXT: &str = "SAE J245 (1971-04)";

/// Conventional millimetre of mercury, kPa: exact.
const MILLIMETRE_OF_MERCURY: f64 = 0.133322387415;
/// 29.00 inHg dry = 736.6 mmHg, 0.38 inHg vapour = 9.652 mmHg; 302.4 K printed beside 29.4 °C.
pub(crate) const REFERENCE: ReferenceAir = ReferenceAir {
    basis: Dry,
    pressure_kpa: 736.6 * MILLIMETRE_OF_MERCURY,
    vapour_kpa: 9.652 * MILLIMETRE_OF_MERCURY,
    temperature_c: 29.4,
    kelvin_offset: 273.0,
};
/// 85 °F, printed beside 545: F + 460 = 1.8·(t + 492/1.8).
pub(crate) const REFERENCE_FAHRENHEIT: ReferenceAir =
    ReferenceAir { temperature_c: (85.0 - 32.0) / 1.8, kelvin_offset: 492.0 / 1.8, ..REFERENCE };
/// Where they were found.
pub(crate) const REFERENCE_SOURCE: Source = Source {
    what: "reference of 29.00 inHg dry and 85 °F (29.4 °C)",
    cite: Cite::new(
        TEXT,
        "reference conditions; a dictionary entry gives 736 mmHg, 29.4 °C",
        Reading::Corroborated,
    ),
};
/// The pressure ratio and the root of the temperature ratio.
pub(crate) const EXPONENTS: Exponents = Exponents::new(1.0, 0.5);
/// Where they were found.
pub(crate) const FORMULA: Source = Source {
    what: "k on indicated power, P_b,c = k·P_i − P_f",
    cite: Cite::new(
        TEXT,
        "as in Heywood, Internal Combustion Engine Fundamentals (1988), 2.12",
        Reading::Remembered,
    ),
};

/// Mechanical efficiency assumed where none is given: the share on which the constants of SAE J1349 rest.
pub(crate) const EFFICIENCY: f64 = 0.85;
/// Why that value.
pub(crate) const EFFICIENCY_CITE: Cite =
    Cite::new("SAE J1349", "friction of 15 % of indicated power behind its 1.18 and 0.18", Reading::Derived);
