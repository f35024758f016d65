//! Every printed constant: value, unit, source, grade of reading.

use fairpull_core::PressureBasis::Dry;
use fairpull_core::family::{DieselRule, EngineFactor, Exponents};
use fairpull_core::{Cite, Reading, ReferenceAir, Source, TestWindow};

/// The regulation in force.
pub(crate) const TEXT: &str = "(EU) 134/2014";
/// Its forerunner.
pub(crate) const TEXT_95: &str = "95/1/EC";
/// The motorcycle code.
pub(crate) const TEXT_ISO: &str = "ISO 4106:2012";

/// 99 kPa dry, 1 kPa vapour, 298,2 K printed beside 25 °C: exact as printed.
pub(crate) const REFERENCE: ReferenceAir = ReferenceAir {
    basis: Dry,
    pressure_kpa: 99.0,
    vapour_kpa: 1.0,
    temperature_c: 25.0,
    kelvin_offset: 273.2,
};
/// The same with 298 K, for the older texts.
pub(crate) const REFERENCE_298: ReferenceAir = ReferenceAir { kelvin_offset: 273.0, ..REFERENCE };

/// Exponents of α1.
pub(crate) const SPARK: Exponents = Exponents::new(1.2, 0.6);
/// Where they were found: the equations of the regulation are pictures in the copy that was read.
pub(crate) const SPARK_SOURCE: Source = Source {
    what: "exponents of α1",
    cite: Cite::new(
        "(EU) 134/2014 and 95/1/EC",
        "factor α1 (same exponents as ISO 1585)",
        Reading::Remembered,
    ),
};
/// Exponents of f_a with the engine factor that belongs to them (limit 40 mg, 0.3 below).
pub(crate) const DIESEL: DieselRule = DieselRule {
    aspirated: Exponents::new(1.0, 0.7),
    turbocharged: Exponents::new(0.7, 1.5),
    liquid_cooled: Exponents::new(0.7, 1.5),
    engine_factor: EngineFactor::FROM_40,
    cite: DIESEL_SOURCE.cite,
};
/// Where they were found.
pub(crate) const DIESEL_SOURCE: Source = Source {
    what: "f_a^f_m as in ISO 1585:1992, limit 40 mg",
    cite: Cite::new(TEXT, "Annex X, Appendix 2.3", Reading::Remembered),
};
/// ISO 4106, spark ignition.
pub(crate) const ISO_SOURCE: Source = Source {
    what: "exponents as in ISO 15550, reference 99 kPa dry",
    cite: Cite::new(TEXT_ISO, "factor for spark ignition", Reading::Remembered),
};

/// Reference conditions and test temperatures, read in the regulation.
pub(crate) const CONDITIONS: Cite = Cite::new(TEXT, "Annex X, Appendix 2.2, 3", Reading::Read);
/// The range of α1.
pub(crate) const RANGE: Cite = Cite::new("(EU) 134/2014 and 95/1/EC", "range of α1", Reading::Remembered);
/// The range of f_a^f_m in the forerunner.
pub(crate) const RANGE_DIESEL: Cite =
    Cite::new(TEXT_95, "range of the factor for compression ignition", Reading::Remembered);

/// 283,2 K < T < 318,2 K and 0.93 < α1 < 1.07. The text's limits are strict; here they are part of the range.
pub(crate) const SPARK_WINDOW: TestWindow =
    TestWindow { factor: ALPHA.factor, ..TestWindow::new(Dry, Some([283.2, 318.2]), None, None, CONDITIONS) };
/// The test temperatures; the range of the factor was not found.
pub(crate) const DIESEL_WINDOW: TestWindow =
    TestWindow::new(Dry, Some([283.2, 318.2]), None, None, CONDITIONS);
/// 0.93 ≤ α1 ≤ 1.07.
pub(crate) const ALPHA: TestWindow = TestWindow::new(Dry, None, None, Some([0.93, 1.07]), RANGE);
/// 0.9 ≤ f_a^f_m ≤ 1.1 in 95/1/EC.
pub(crate) const ALPHA_DIESEL: TestWindow = TestWindow::new(Dry, None, None, Some([0.9, 1.1]), RANGE_DIESEL);
