//! Standard uncertainty of the vapour and dry pressure from those of the three readings.

use crate::{HumidError, Method, Moisture, air};
use fairpull_core::{AbsolutePressure, Temperature, VapourPressure};
use libm::sqrt;

/// Standard uncertainties of the readings, taken as independent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReadingSpread {
    /// Of the station pressure, Pa.
    pub station_pa: f64,
    /// Of the air temperature, K.
    pub temperature_k: f64,
    /// Of the humidity reading in its own unit: 1 for relative humidity (0.02 is two percent points), K, or Pa.
    pub moisture: f64,
}

/// Standard uncertainties of the partial pressures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirSpread {
    /// Of the vapour pressure, Pa.
    pub vapour_pa: f64,
    /// Of the dry pressure, Pa.
    pub dry_pa: f64,
}

/// Propagates the readings' uncertainties to first order (JCGM 100:2008, 5.1.3) with central differences; one-sided
/// next to saturation and at zero humidity.
///
/// # Errors
/// As [`air`] for the readings themselves.
pub fn spread(
    station: AbsolutePressure,
    temperature: Temperature,
    moisture: Moisture,
    method: &Method,
    of: &ReadingSpread,
) -> Result<AirSpread, HumidError> {
    let here = air(station, temperature, moisture, method)?.vapour().pascals();
    let vapour = |dp: f64, dt: f64, dm: f64| {
        let p = AbsolutePressure::from_pascals(station.pascals() + dp);
        let t = Temperature::from_kelvin(temperature.kelvin() + dt);
        air(p, t, shifted(moisture, dm), method).map(|a| a.vapour().pascals()).ok()
    };
    let slope = |step: f64, at: &dyn Fn(f64) -> Option<f64>| match (at(step), at(-step)) {
        (Some(up), Some(down)) => (up - down) / (2.0 * step),
        (Some(up), None) => (up - here) / step,
        (None, Some(down)) => (here - down) / step,
        (None, None) => 0.0,
    };
    let by_pressure = slope(1.0, &|d| vapour(d, 0.0, 0.0));
    let by_temperature = slope(1e-3, &|d| vapour(0.0, d, 0.0));
    let step = match moisture {
        Moisture::Vapour(_) => 1e-2,
        Moisture::RelativeHumidity(_) => 1e-5,
        _ => 1e-3,
    };
    let by_moisture = slope(step, &|d| vapour(0.0, 0.0, d));
    let shared = by_temperature * of.temperature_k;
    let own = by_moisture * of.moisture;
    let through_e = shared * shared + own * own;
    let e_by_p = by_pressure * of.station_pa;
    let dry_by_p = (1.0 - by_pressure) * of.station_pa;
    Ok(AirSpread {
        vapour_pa: sqrt(through_e + e_by_p * e_by_p),
        dry_pa: sqrt(through_e + dry_by_p * dry_by_p),
    })
}

fn shifted(moisture: Moisture, by: f64) -> Moisture {
    let warmer = |t: Temperature| Temperature::from_kelvin(t.kelvin() + by);
    match moisture {
        Moisture::RelativeHumidity(phi) => Moisture::RelativeHumidity(phi + by),
        Moisture::DewPoint(t) => Moisture::DewPoint(warmer(t)),
        Moisture::FrostPoint(t) => Moisture::FrostPoint(warmer(t)),
        Moisture::WetBulb(t, kind) => Moisture::WetBulb(warmer(t), kind),
        Moisture::Vapour(e) => Moisture::Vapour(VapourPressure::from_pascals(e.pascals() + by)),
    }
}
