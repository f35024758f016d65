//! Every printed constant: value, unit, source, grade of reading.

use fairpull_core::PressureBasis::Dry;
use fairpull_core::family::{DieselRule, EngineFactor, Exponents};
use fairpull_core::{Cite, Reading, ReferenceAir, Source, TestWindow};

/// The designation.
pub(crate) const TEXT: &str = "SAE J1349";

/// 99 kPa dry, 1 kPa vapour, 298 printed beside 25 °C: exact as printed.
pub(crate) const REFERENCE: ReferenceAir = ReferenceAir {
    basis: Dry,
    pressure_kpa: 99.0,
    vapour_kpa: 1.0,
    temperature_c: 25.0,
    kelvin_offset: 273.0,
};

/// k = (99/B_d)·√((t+273)/298), the factor on indicated power.
pub(crate) const INDICATED: Exponents = Exponents::new(1.0, 0.5);
/// 1.18 as printed, a rounded 1/0.85: not to be replaced by it.
pub(crate) const SCALE: f64 = 1.18;
/// 0.18 as printed, a rounded 0.15/0.85.
pub(crate) const OFFSET: f64 = 0.18;

/// CA was seen only in informal reprints of the June 1990 text.
pub(crate) const CA_1990: Source = Source {
    what: "CA = 1.18·(99/B_d)·√((t+273)/298) − 0.18",
    cite: Cite::new(
        TEXT,
        "correction factor CA, spark ignition (informal reprints of JUN90 agree)",
        Reading::Corroborated,
    ),
};
/// That the later editions keep it.
pub(crate) const CA: Source = Source {
    what: "CA = 1.18·(99/B_d)·√((t+273)/298) − 0.18, as in JUN90",
    cite: Cite::new(TEXT, "correction factor CA, spark ignition, 2004 on", Reading::Remembered),
};
/// The form with measured friction power.
pub(crate) const FRICTION: Source = Source {
    what: "P_c = (P_o + P_f)·k − P_f",
    cite: Cite::new(TEXT, "correction with measured friction power", Reading::Remembered),
};
/// Compression-ignition exponents and engine factor.
pub(crate) const DIESEL_SOURCE: Source = Source {
    what: "compression-ignition exponents and engine factor",
    cite: Cite::new(
        TEXT,
        "diesel correction factor, to 2004 at least; the 2011 revision may carry none",
        Reading::Remembered,
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

const LIMITS: Cite = Cite::new(TEXT, "test conditions and size of correction", Reading::Doubtful);

/// 15 to 35 °C, 90 to 105 kPa dry, correction of at most 3 %.
pub(crate) const WINDOW_2004: TestWindow =
    TestWindow::new(Dry, Some([288.0, 308.0]), Some([90.0, 105.0]), Some([0.97, 1.03]), LIMITS);
/// 15 to 35 °C, 90 to 105 kPa dry, correction of at most 5 %.
pub(crate) const WINDOW_1990: TestWindow =
    TestWindow::new(Dry, Some([288.0, 308.0]), Some([90.0, 105.0]), Some([0.95, 1.05]), LIMITS);
