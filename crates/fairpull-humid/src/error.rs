//! Why a reading of moist air cannot be right.

use fairpull_core::{Cite, OutOfRange, Refusal};

/// Why there is no moist air for these readings. Every message names the reading.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum HumidError {
    /// A reading or an argument outside the range of its formula.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Refused by the core: impossible station pressure, temperature or vapour pressure.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// A relative humidity that is negative, NaN or above 100 %.
    #[error("relative humidity is {percent} %, outside 0 to 100 %; give percent, e.g. 55%")]
    RelativeHumidity {
        /// What was given, %.
        percent: f64,
    },
    /// A dew or frost point above the temperature of the air.
    #[error(
        "{what} is {point_c:.2} °C, above the air temperature of {air_c:.2} °C: exchange the two or check the sensor"
    )]
    PointAboveAir {
        /// "dew point" or "frost point".
        what: &'static str,
        /// Dew or frost point, °C.
        point_c: f64,
        /// Air temperature, °C.
        air_c: f64,
    },
    /// A wet bulb above the dry bulb.
    #[error(
        "wet bulb is {wet_c:.2} °C, above the dry bulb of {dry_c:.2} °C: exchange the two or wet the sleeve"
    )]
    WetBulbAboveDryBulb {
        /// Wet bulb, °C.
        wet_c: f64,
        /// Dry bulb, °C.
        dry_c: f64,
    },
    /// A wet bulb lower than perfectly dry air would give.
    #[error("wet bulb is {wet_c:.2} °C, lower than perfectly dry air gives at a dry bulb of {dry_c:.2} °C")]
    WetBulbTooLow {
        /// Wet bulb, °C.
        wet_c: f64,
        /// Dry bulb, °C.
        dry_c: f64,
    },
    /// A vapour pressure above saturation.
    #[error(
        "vapour pressure is {vapour_kpa:.4} kPa, above saturation at the air temperature ({saturation_kpa:.4} kPa)"
    )]
    Supersaturated {
        /// Vapour pressure given, kPa.
        vapour_kpa: f64,
        /// Saturation pressure, kPa.
        saturation_kpa: f64,
    },
    /// The author gives no formula over ice.
    #[error("there is no formula over ice in {cite}; choose IAPWS, Hyland-Wexler, Sonntag or Magnus WMO")]
    NoIceFormula {
        /// The author.
        cite: Cite,
    },
    /// A pressure reduced to sea level with the temperature of the day.
    #[error(
        "{hpa:.1} hPa is a pressure reduced to sea level with the day's temperature (QFF), which cannot be undone without the station's own reduction; give the station pressure, or the altimeter setting (QNH) with the elevation"
    )]
    ReducedToSeaLevel {
        /// What was given, hPa.
        hpa: f64,
    },
    /// Nobody knows which sea-level pressure it is.
    #[error(
        "{hpa:.1} hPa is a sea-level pressure of unknown kind; find out whether it is the altimeter setting (QNH), or read a barometer at the rig"
    )]
    UnknownSeaLevelPressure {
        /// What was given, hPa.
        hpa: f64,
    },
}
