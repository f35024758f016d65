//! Density of moist air: ideal gases, and CIPM-2007.

use crate::{HumidError, Method, Surface};
use fairpull_core::{Air, Cite, Limit, OutOfRange, Reading};
use libm::exp;

/// Specific gas constant of dry air, J/(kg·K) (ISO 2533:1975).
pub(crate) const R_DRY: f64 = 287.052_87;
/// Specific gas constant of water vapour, J/(kg·K) (R / 18.01528 g/mol, rounded).
const R_VAPOUR: f64 = 461.495;

/// Density of two ideal gases, kg/m³: (p − e)/(287.05287 T) + e/(461.495 T).
///
/// Real moist air is denser: by 2.4e-4 at 40 °C up to 7.4e-4 at −10 °C (against CoolProp at 101 325 Pa and 50 %).
#[must_use]
pub fn density_ideal(air: &Air) -> f64 {
    two_gases(air.dry().pascals(), air.vapour().pascals(), air.temperature().kelvin(), R_DRY)
}

/// Two ideal gases with a given gas constant of dry air.
pub(crate) fn two_gases(dry: f64, vapour: f64, kelvin: f64, r_dry: f64) -> f64 {
    dry / (r_dry * kelvin) + vapour / (R_VAPOUR * kelvin)
}

const CIPM: Cite =
    Cite::new("Picard et al., Metrologia 45 (2008), CIPM-2007", "section 2", Reading::Remembered);
static CIPM_T: Limit =
    Limit { what: "air temperature for CIPM-2007", unit: "°C", low: 15.0, high: 27.0, cite: CIPM };
static CIPM_P: Limit =
    Limit { what: "station pressure for CIPM-2007", unit: "hPa", low: 600.0, high: 1100.0, cite: CIPM };

/// A density by CIPM-2007, with the range it left, if it did.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CipmDensity {
    /// kg/m³; relative standard uncertainty of the formula 2.2e-5 inside its range.
    pub density: f64,
    /// The recommended range that the air is outside of (15 to 27 °C, 600 to 1100 hPa).
    pub outside: Option<OutOfRange>,
}

/// Density of moist air by CIPM-2007 with 400 ppm carbon dioxide (constants from memory; agrees with CoolProp within
/// 1e-4 from −10 to 40 °C).
///
/// # Errors
/// [`HumidError`] when the relative humidity cannot be formed by the method.
pub fn density_cipm_2007(air: &Air, method: &Method) -> Result<CipmDensity, HumidError> {
    let (p, t, kelvin) = (air.station().pascals(), air.temperature().celsius(), air.temperature().kelvin());
    let water = Method { surface: Surface::Water, ..*method };
    let phi = crate::relative_humidity(air, &water)?;
    // Equations A1.1 to A1.4.
    let saturation =
        exp(1.237_884_7e-5 * kelvin * kelvin - 1.912_131_6e-2 * kelvin + 33.937_110_47
            - 6.343_164_5e3 / kelvin);
    let enhancement = 1.000_62 + 3.14e-8 * p + 5.6e-7 * t * t;
    let x = phi * enhancement * saturation / p;
    let first = 1.581_23e-6 - 2.9331e-8 * t
        + 1.1043e-10 * t * t
        + (5.707e-6 - 2.051e-8 * t) * x
        + (1.9898e-4 - 2.376e-6 * t) * x * x;
    let q = p / kelvin;
    let z = 1.0 - q * first + q * q * (1.83e-11 - 0.765e-8 * x * x);
    // Equation 1: molar masses in kg/mol, R of CODATA 2006.
    let (m_dry, m_water, r) = (28.965_46e-3, 18.015_28e-3, 8.314_472);
    let density = p * m_dry / (z * r * kelvin) * (1.0 - x * (1.0 - m_water / m_dry));
    let outside = CIPM_T.check(t).err().or_else(|| CIPM_P.check(p / 100.0).err());
    Ok(CipmDensity { density, outside })
}
