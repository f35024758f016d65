//! Pressure units, each in three forms: plain, absolute `(a)` and gauge `(g)`.
//!
//! Sources: bar = 1e5 Pa, atm = 101 325 Pa, Torr = atm/760; psi = lbf/in²; conventional columns: mercury at
//! 13 595.1 kg/m³ and water at 1000 kg/m³ under 9.80665 m/s² (ISO 31-3:1992, annex; NIST SP 811 (2008), B.8).

use crate::Dimension::Pressure;
use crate::unit::{Reference, Unit, unit};

/// The plain unit, then its absolute and gauge forms under the words the trade writes for them.
macro_rules! pressures {
    ($( $symbol:literal, [$($alias:literal),*], $ratio:expr, $def:literal; )+) => {
        &[$(
            unit(Pressure, $symbol, &[$($alias),*], $ratio, $def),
            unit(
                Pressure,
                concat!($symbol, "(a)"),
                &[concat!($symbol, "(abs)"), concat!($symbol, " absolute"),
                  $(concat!($alias, "(a)"), concat!($alias, "(abs)")),*],
                $ratio,
                $def,
            ).measured_from(Reference::Absolute),
            unit(
                Pressure,
                concat!($symbol, "(g)"),
                &[concat!($symbol, " gauge"), concat!($symbol, " gage"), concat!($symbol, "(rel)"),
                  $(concat!($alias, "(g)"), concat!($alias, " gauge")),*],
                $ratio,
                $def,
            ).measured_from(Reference::Gauge),
        )+]
    };
}

pub(crate) static UNITS: &[Unit] = pressures! {
    "kPa", ["kilopascal"], (1e3, 1.0), "1000 Pa";
    "Pa", ["pascal"], (1.0, 1.0), "SI";
    "hPa", [], (1e2, 1.0), "100 Pa";
    "MPa", [], (1e6, 1.0), "1e6 Pa";
    "mbar", ["millibar", "mb"], (1e2, 1.0), "100 Pa";
    "bar", ["bars"], (1e5, 1.0), "100 000 Pa";
    "psi", ["lbf/in²", "lb/in²", "lbs/in²"], (8_896_443_230_521.0, 1_290_320_000.0), "lbf / in²";
    "inHg", ["\"Hg", "in.Hg", "inch Hg"], (3_386_388_640_341.0, 1e9), "25.4 mmHg (0 °C, 9.80665 m/s²)";
    "mmHg", [], (133_322_387_415.0, 1e9), "13 595.1 kg/m³ · 9.80665 m/s² · 1 mm";
    "Torr", [], (101_325.0, 760.0), "atm / 760";
    "inH2O", ["in.w.c.", "inWC", "\"H2O", "inAq"], (24_908_891.0, 1e5), "1000 kg/m³ · 9.80665 m/s² · 1 in";
    "mmH2O", ["mmWS", "mmWC", "mmCE"], (980_665.0, 1e5), "1000 kg/m³ · 9.80665 m/s² · 1 mm";
    "atm", ["atmosphere"], (101_325.0, 1.0), "101 325 Pa";
    "kgf/cm²", ["kg/cm²", "kp/cm²", "at"], (980_665.0, 10.0), "kgf / cm²";
};
