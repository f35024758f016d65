//! The standard atmosphere of ISO 2533 up to 11 km, and the altitudes read from it.

use crate::HumidError;
use crate::density::{R_DRY, density_ideal};
use fairpull_core::{AbsolutePressure, Air, Cite, Limit, Reading, Temperature};
use libm::pow;

pub(crate) const ISO_2533: Cite = Cite::new("ISO 2533:1975", "clause 2 and table 1", Reading::Corroborated);
/// Standard gravity, m/s².
const G: f64 = 9.806_65;
/// Sea-level temperature, K.
pub(crate) const T0: f64 = 288.15;
/// Sea-level pressure, Pa.
pub(crate) const P0: f64 = 101_325.0;
/// Sea-level density, kg/m³.
const RHO0: f64 = 1.225;
/// Temperature lapse, K per geopotential metre, downwards positive.
pub(crate) const LAPSE: f64 = 0.0065;
/// Nominal Earth radius, m.
const RADIUS: f64 = 6_356_766.0;
/// Exponent g/(R·lapse) = 5.255879812716677.
pub(crate) const EXPONENT: f64 = G / (R_DRY * LAPSE);

static HEIGHT: Limit =
    Limit { what: "geopotential altitude", unit: "m", low: -2000.0, high: 11_000.0, cite: ISO_2533 };

/// Temperature, pressure and density of the standard atmosphere at one altitude.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandardAtmosphere {
    /// Temperature.
    pub temperature: Temperature,
    /// Pressure.
    pub pressure: AbsolutePressure,
    /// Density, kg/m³.
    pub density: f64,
}

/// Geopotential altitude in m from geometric altitude in m: H = r Z/(r + Z), r = 6 356 766 m.
#[must_use]
pub fn geopotential(geometric: f64) -> f64 {
    RADIUS * geometric / (RADIUS + geometric)
}

/// Geometric altitude in m from geopotential altitude in m.
#[must_use]
pub fn geometric(geopotential: f64) -> f64 {
    RADIUS * geopotential / (RADIUS - geopotential)
}

/// Standard atmosphere at a geopotential altitude in m.
///
/// # Errors
/// [`HumidError::OutOfRange`] outside −2000 to 11 000 m.
///
/// ```
/// // ISO 2533 prints 898.746 mbar and 1.11164 kg/m³ at 1000 m of geopotential altitude.
/// let a = fairpull_humid::standard_atmosphere(1000.0).unwrap();
/// assert_eq!(format!("{:.3} {:.5}", a.pressure.hectopascals(), a.density), "898.746 1.11164");
/// ```
pub fn standard_atmosphere(geopotential: f64) -> Result<StandardAtmosphere, HumidError> {
    let h = HEIGHT.check(geopotential)?;
    let kelvin = T0 - LAPSE * h;
    let pressure = P0 * pow(kelvin / T0, EXPONENT);
    Ok(StandardAtmosphere {
        temperature: Temperature::from_kelvin(kelvin),
        pressure: AbsolutePressure::from_pascals(pressure),
        density: pressure / (R_DRY * kelvin),
    })
}

/// Pressure altitude in geopotential m: where the standard atmosphere has this pressure. NaN for a negative pressure.
#[must_use]
pub fn pressure_altitude(station: AbsolutePressure) -> f64 {
    T0 / LAPSE * (1.0 - pow(station.pascals() / P0, 1.0 / EXPONENT))
}

/// Density altitude in geopotential m: where the standard atmosphere has the density of this moist air.
#[must_use]
pub fn density_altitude(air: &Air) -> f64 {
    T0 / LAPSE * (1.0 - pow(density_ideal(air) / RHO0, 1.0 / (EXPONENT - 1.0)))
}
