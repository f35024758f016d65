//! One door: station pressure, temperature and whatever humidity reading there is, to checked air.

use crate::wet_bulb::vapour_from_wet_bulb;
use crate::{Formulation, HumidError, Method, Psychrometer, Surface};
use fairpull_core::{AbsolutePressure, Air, Refusal, Temperature, VapourPressure};

/// The humidity reading at hand.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Moisture {
    /// Relative humidity, 0 to 1.
    RelativeHumidity(f64),
    /// Dew point (over water).
    DewPoint(Temperature),
    /// Frost point (over ice).
    FrostPoint(Temperature),
    /// Wet bulb, and the way it was taken.
    WetBulb(Temperature, Psychrometer),
    /// Partial pressure of water vapour.
    Vapour(VapourPressure),
}

impl Moisture {
    /// Relative humidity in percent.
    #[must_use]
    pub const fn percent(value: f64) -> Self {
        Self::RelativeHumidity(value / 100.0)
    }

    /// Thermodynamic wet bulb.
    #[must_use]
    pub const fn wet_bulb(wet: Temperature) -> Self {
        Self::WetBulb(wet, Psychrometer::Thermodynamic)
    }
}

/// Checked moist air from station pressure, air temperature and a humidity reading.
///
/// # Errors
/// [`HumidError`] naming the reading that cannot be right: humidity above 100 %, dew point above the air temperature,
/// wet bulb above the dry bulb or below what dry air gives, an impossible temperature or pressure, NaN.
///
/// ```
/// use fairpull_core::{AbsolutePressure, Temperature};
/// use fairpull_humid::{Method, Moisture, air};
/// let p = AbsolutePressure::from_hectopascals(985.0);
/// let t = Temperature::from_celsius(34.0);
/// let a = air(p, t, Moisture::percent(55.0), &Method::default()).unwrap();
/// assert!((a.dry().kilopascals() - 95.57).abs() < 0.01);
/// assert!(air(p, t, Moisture::DewPoint(Temperature::from_celsius(36.0)), &Method::default()).is_err());
/// ```
// in the browser's module one copy is worth more than the call
#[cfg_attr(not(target_family = "wasm"), inline)]
pub fn air(
    station: AbsolutePressure,
    temperature: Temperature,
    moisture: Moisture,
    method: &Method,
) -> Result<Air, HumidError> {
    match (moisture, method.surface) {
        // The usual reading, by a formula that is mostly known where it is asked: short enough to be inlined there.
        (Moisture::RelativeHumidity(phi), Surface::Water) => {
            by_humidity(station, temperature, phi, method.formulation)
        }
        _ => by_reading(station, temperature, moisture, method),
    }
}

/// At most all of the saturation pressure over water, so that only the air itself is left to check.
#[cfg_attr(not(target_family = "wasm"), inline)]
fn by_humidity(
    station: AbsolutePressure,
    temperature: Temperature,
    phi: f64,
    formulation: Formulation,
) -> Result<Air, HumidError> {
    // An impossible barometer or thermometer is named first, whatever the humidity.
    let dry = Air::new(station, temperature, VapourPressure::from_pascals(0.0))?;
    let vapour = share(phi, || formulation.over_water_of(&dry))?;
    dry.with_vapour(vapour)
}

/// A relative humidity of the saturation pressure.
#[cfg_attr(not(target_family = "wasm"), inline)]
fn share(
    phi: f64,
    saturation: impl FnOnce() -> Result<VapourPressure, HumidError>,
) -> Result<VapourPressure, HumidError> {
    if (0.0..=1.0).contains(&phi) {
        Ok(VapourPressure::from_pascals(phi * saturation()?.pascals()))
    } else {
        Err(HumidError::RelativeHumidity { percent: 100.0 * phi })
    }
}

fn by_reading(
    station: AbsolutePressure,
    temperature: Temperature,
    moisture: Moisture,
    method: &Method,
) -> Result<Air, HumidError> {
    // An impossible barometer or thermometer is named first, whatever the humidity.
    let dry = Air::new(station, temperature, VapourPressure::from_pascals(0.0))?;
    let vapour = match moisture {
        Moisture::RelativeHumidity(phi) => share(phi, || method.saturation(temperature))?,
        Moisture::DewPoint(point) => {
            below_air("dew point", point, temperature)?;
            method.formulation.over_water(point)?
        }
        Moisture::FrostPoint(point) => {
            below_air("frost point", point, temperature)?;
            method.formulation.over_ice(point)?
        }
        Moisture::WetBulb(wet, kind) => {
            finite(wet.celsius(), "wet-bulb temperature", "°C")?;
            vapour_from_wet_bulb(station, temperature, wet, kind, method)?
        }
        Moisture::Vapour(e) => {
            finite(e.pascals(), "vapour pressure", "Pa")?;
            e
        }
    };
    let moist = dry.with_vapour::<HumidError>(vapour)?;
    let saturation = method.formulation.over_water(temperature)?;
    // One part in 1e9 is left for readings that were computed at saturation.
    if vapour.pascals() > saturation.pascals() * (1.0 + 1e-9) {
        return Err(HumidError::Supersaturated {
            vapour_kpa: vapour.kilopascals(),
            saturation_kpa: saturation.kilopascals(),
        });
    }
    Ok(moist)
}

fn below_air(what: &'static str, point: Temperature, air: Temperature) -> Result<(), HumidError> {
    finite(point.celsius(), what, "°C")?;
    if point.kelvin() > air.kelvin() {
        return Err(HumidError::PointAboveAir { what, point_c: point.celsius(), air_c: air.celsius() });
    }
    Ok(())
}

fn finite(value: f64, what: &'static str, unit: &'static str) -> Result<(), HumidError> {
    if value.is_finite() { Ok(()) } else { Err(Refusal::NotFinite { what, unit }.into()) }
}
