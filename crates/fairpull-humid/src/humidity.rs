//! Relative humidity, humidity ratio, dew point and frost point of a given air.

use crate::solve::bisect;
use crate::{HumidError, Method};
use fairpull_core::{Air, Cite, Limit, Reading, Temperature};

/// Ratio of the molar masses of water and dry air (ASHRAE handbook 2017, chapter 1).
pub(crate) const MOLAR_RATIO: f64 = 0.621_945;

const BY_INVERSION: Cite = Cite::new("fairpull", "inversion of the saturation formula", Reading::Derived);

/// Humidity ratio W in kg water per kg dry air: W = 0.621945 e / (p − e), ideal gases.
///
/// Source: ASHRAE handbook 2017, chapter 1, equation 20 (corroborated by psychrolib).
#[must_use]
pub fn humidity_ratio(air: &Air) -> f64 {
    ratio_of(air.vapour().pascals(), air.station().pascals())
}

pub(crate) fn ratio_of(e: f64, p: f64) -> f64 {
    if e < p { MOLAR_RATIO * e / (p - e) } else { f64::INFINITY }
}

pub(crate) fn vapour_of(ratio: f64, p: f64) -> f64 {
    p * ratio / (MOLAR_RATIO + ratio)
}

/// Relative humidity, 0 to 1 (above 1 for supersaturated air).
///
/// # Errors
/// [`HumidError`] when the temperature is outside the range of the formulation.
pub fn relative_humidity(air: &Air, method: &Method) -> Result<f64, HumidError> {
    Ok(air.vapour().pascals() / method.saturation(air.temperature())?.pascals())
}

/// Dew point: temperature at which the vapour of this air saturates over water. Solved to the last bit.
///
/// # Errors
/// [`HumidError::OutOfRange`] for air so dry that the dew point lies below the range of the formulation.
///
/// ```
/// use fairpull_core::{AbsolutePressure, Temperature};
/// use fairpull_humid::{Method, Moisture, air, dew_point};
/// let m = Method::default();
/// let a = air(AbsolutePressure::from_kilopascals(101.325), Temperature::from_celsius(25.0),
///             Moisture::percent(50.0), &m).unwrap();
/// assert!((dew_point(&a, &m).unwrap().celsius() - 13.86).abs() < 0.01);
/// ```
pub fn dew_point(air: &Air, method: &Method) -> Result<Temperature, HumidError> {
    invert(air, method.formulation.range(), "vapour pressure for which a dew point is sought", |k| {
        method.formulation.water(k)
    })
}

/// Frost point: temperature at which the vapour of this air saturates over ice.
///
/// # Errors
/// [`HumidError::OutOfRange`] when the air is too moist for a frost point or too dry for the formulation, and
/// [`HumidError::NoIceFormula`].
pub fn frost_point(air: &Air, method: &Method) -> Result<Temperature, HumidError> {
    let formulation = method.formulation;
    let range = formulation.ice_range().ok_or(HumidError::NoIceFormula { cite: formulation.cite() })?;
    invert(air, range, "vapour pressure for which a frost point is sought", |k| formulation.ice(k))
}

fn invert(
    air: &Air,
    range: Limit,
    what: &'static str,
    saturation: impl Fn(f64) -> f64,
) -> Result<Temperature, HumidError> {
    let e = air.vapour().pascals();
    let (low, high) = (range.low + 273.15, range.high + 273.15);
    let (least, most) = (saturation(low), saturation(high));
    let cite = BY_INVERSION;
    Limit { what, unit: "Pa", low: least, high: most, cite }.check(e)?;
    Ok(Temperature::from_kelvin(bisect(low, high, |k| saturation(k) < e)))
}

/// Factor f by which moist air saturates above pure vapour: f = 1.0016 + 3.15e-6 p − 0.074/p, p in hPa.
///
/// About 1.004 at sea level: 10 Pa on 2.5 kPa, which shifts the dry pressure by 1e-4. Ideal-gas codes and the power
/// correction standards leave it out, and so does [`crate::air`].
///
/// Source: WMO-No. 8, annex 4.B (from memory).
#[must_use]
pub fn enhancement(station: fairpull_core::AbsolutePressure) -> f64 {
    let p = station.hectopascals();
    1.0016 + 3.15e-6 * p - 0.074 / p
}
