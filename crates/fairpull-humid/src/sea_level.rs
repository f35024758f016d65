//! From a weather report's sea-level pressure to the pressure at the rig.

use crate::HumidError;
use crate::atmosphere::{EXPONENT, LAPSE, P0, T0};
use fairpull_core::{AbsolutePressure, Cite, Limit, Reading};
use libm::pow;

const ALTIMETRY: Cite =
    Cite::new("ICAO Doc 7488 (standard atmosphere)", "altimeter setting, derived", Reading::Derived);
/// The records of sea-level pressure are 870 and 1084 hPa (common knowledge, from memory).
static QNH: Limit =
    Limit { what: "altimeter setting (QNH)", unit: "hPa", low: 860.0, high: 1090.0, cite: ALTIMETRY };
static ELEVATION: Limit = Limit { what: "elevation", unit: "m", low: -500.0, high: 6000.0, cite: ALTIMETRY };

/// A pressure that a weather report gives at sea level. The kinds differ by up to several hPa on a high site.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum SeaLevelPressure {
    /// Altimeter setting, reduced with the standard atmosphere: can be undone exactly with the elevation.
    Qnh(AbsolutePressure),
    /// Reduced with the day's temperature ("mean sea level pressure" of a forecast): refused.
    Qff(AbsolutePressure),
    /// Not known which: refused.
    Unknown(AbsolutePressure),
}

/// Station pressure from a sea-level pressure and the elevation in m above mean sea level.
///
/// p = p0 [ (QNH/p0)^(1/n) − L H/T0 ]^n with the constants of ISO 2533. Ten metres of elevation are 0.12 % of
/// pressure.
///
/// # Errors
/// [`HumidError::ReducedToSeaLevel`], [`HumidError::UnknownSeaLevelPressure`], or a range (860 to 1090 hPa, −500 to
/// 6000 m).
///
/// ```
/// use fairpull_core::AbsolutePressure;
/// use fairpull_humid::{SeaLevelPressure, station_pressure};
/// let qnh = SeaLevelPressure::Qnh(AbsolutePressure::from_hectopascals(1013.25));
/// assert!((station_pressure(qnh, 500.0).unwrap().pascals() - 95_460.835).abs() < 0.001);
/// ```
pub fn station_pressure(reported: SeaLevelPressure, elevation: f64) -> Result<AbsolutePressure, HumidError> {
    let qnh = match reported {
        SeaLevelPressure::Qnh(p) => p,
        SeaLevelPressure::Qff(p) => return Err(HumidError::ReducedToSeaLevel { hpa: p.hectopascals() }),
        SeaLevelPressure::Unknown(p) => {
            return Err(HumidError::UnknownSeaLevelPressure { hpa: p.hectopascals() });
        }
    };
    QNH.check(qnh.hectopascals())?;
    let h = ELEVATION.check(elevation)?;
    let base = pow(qnh.pascals() / P0, 1.0 / EXPONENT) - LAPSE * h / T0;
    Ok(AbsolutePressure::from_pascals(P0 * pow(base, EXPONENT)))
}

/// Altimeter setting from station pressure and elevation in m; the inverse of [`station_pressure`].
///
/// # Errors
/// [`HumidError::OutOfRange`] for an elevation outside −500 to 6000 m, or readings that give no possible QNH.
pub fn altimeter_setting(station: AbsolutePressure, elevation: f64) -> Result<AbsolutePressure, HumidError> {
    let h = ELEVATION.check(elevation)?;
    let base = pow(station.pascals() / P0, 1.0 / EXPONENT) + LAPSE * h / T0;
    let qnh = AbsolutePressure::from_pascals(P0 * pow(base, EXPONENT));
    QNH.check(qnh.hectopascals())?;
    Ok(qnh)
}
