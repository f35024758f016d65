//! Question: what air is this?

use fairpull_core::{AbsolutePressure, Air, Temperature};
use fairpull_humid::{
    Method, Moisture, Psychrometer, SeaLevelPressure, density_altitude, density_cipm_2007, dew_point,
    relative_humidity, station_pressure, wet_bulb,
};
use fairpull_units::{Dimension, parse_as};
use serde::{Deserialize, Serialize};

use crate::AskError;

/// Readings of the air, each `<number><unit>`.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct AirQuestion {
    /// Station pressure, e.g. `985hPa`: what a barometer at the rig shows.
    pub pressure: Option<String>,
    /// Altimeter setting, with `elevation`, instead of the station pressure.
    pub qnh: Option<String>,
    /// Elevation above sea level, e.g. `430m`.
    pub elevation: Option<String>,
    /// Temperature of the air entering the intake, e.g. `24C`.
    pub temperature: Option<String>,
    /// Relative humidity, e.g. `55%`.
    pub humidity: Option<String>,
    /// Dew point instead of the humidity.
    pub dew_point: Option<String>,
    /// Thermodynamic wet bulb instead of the humidity.
    pub wet_bulb: Option<String>,
}
fairpull_tree::fields!(AirQuestion default {
    pressure, qnh, elevation, temperature, humidity, dew_point, wet_bulb,
});

/// The air in figures.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct AirAnswer {
    /// Total pressure at the place, kPa.
    pub station_pressure_kpa: f64,
    /// Partial pressure of water vapour, kPa.
    pub vapour_pressure_kpa: f64,
    /// Partial pressure of dry air, kPa.
    pub dry_pressure_kpa: f64,
    /// Temperature, °C.
    pub temperature_c: f64,
    /// Relative humidity, %.
    pub relative_humidity_percent: f64,
    /// Dew point, °C; absent for perfectly dry air.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub dew_point_c: Option<f64>,
    /// Thermodynamic wet bulb, °C.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub wet_bulb_c: Option<f64>,
    /// Density by CIPM-2007, kg/m³.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub density_kg_m3: Option<f64>,
    /// Altitude of equal density in the standard atmosphere of ISO 2533, m.
    pub density_altitude_m: f64,
}

pub(crate) fn si(field: &str, text: &str, dimension: Dimension) -> Result<f64, AskError> {
    parse_as(text, dimension).map(|r| r.si).map_err(|e| AskError::unreadable(field, text, &e))
}

impl AirQuestion {
    /// Whether anything was given.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// The air of these readings.
    ///
    /// # Errors
    /// [`AskError`] naming the reading.
    pub fn air(&self) -> Result<Air, AskError> {
        let station = match (&self.pressure, &self.qnh) {
            (Some(p), None) => {
                fairpull_units::station_pressure(p).map_err(|e| AskError::unreadable("pressure", p, &e))?
            }
            (None, Some(q)) => {
                let h = self.elevation.as_deref().ok_or_else(|| {
                    AskError::new(
                        "elevation",
                        "",
                        "an altimeter setting (QNH) needs the elevation",
                        "give e.g. 430m",
                    )
                })?;
                let qnh: AbsolutePressure =
                    fairpull_units::station_pressure(q).map_err(|e| AskError::unreadable("qnh", q, &e))?;
                station_pressure(SeaLevelPressure::Qnh(qnh), si("elevation", h, Dimension::Length)?)
                    .map_err(|e| AskError::new("qnh", q, e.to_string(), ""))?
            }
            (Some(p), Some(_)) => {
                return Err(AskError::new(
                    "pressure",
                    p,
                    "both a station pressure and an altimeter setting are given",
                    "keep one of them",
                ));
            }
            (None, None) => {
                return Err(AskError::new(
                    "pressure",
                    "",
                    "no pressure is given",
                    "give the station pressure, e.g. 985hPa, or the altimeter setting with the elevation",
                ));
            }
        };
        let t = self
            .temperature
            .as_deref()
            .ok_or_else(|| AskError::new("temperature", "", "no temperature is given", "give e.g. 24C"))?;
        let temperature = Temperature::from_kelvin(si("temperature", t, Dimension::Temperature)?);
        let (field, text, moisture) = match (&self.humidity, &self.dew_point, &self.wet_bulb) {
            (Some(h), None, None) => {
                ("humidity", h, Moisture::RelativeHumidity(si("humidity", h, Dimension::Ratio)?))
            }
            (None, Some(d), None) => {
                let t = Temperature::from_kelvin(si("dew_point", d, Dimension::Temperature)?);
                ("dew_point", d, Moisture::DewPoint(t))
            }
            (None, None, Some(w)) => {
                let t = Temperature::from_kelvin(si("wet_bulb", w, Dimension::Temperature)?);
                ("wet_bulb", w, Moisture::WetBulb(t, Psychrometer::Thermodynamic))
            }
            (None, None, None) => {
                return Err(AskError::new(
                    "humidity",
                    "",
                    "no humidity is given",
                    "give a relative humidity (55%), a dew point or a wet bulb",
                ));
            }
            _ => {
                return Err(AskError::new(
                    "humidity",
                    self.humidity.as_deref().unwrap_or(""),
                    "the humidity is given in more than one way",
                    "keep one of humidity, dew point, wet bulb",
                ));
            }
        };
        fairpull_humid::air(station, temperature, moisture, &Method::default()).map_err(|e| {
            let why = e.to_string();
            // the reading that is impossible is named, not the one that was read last
            let (field, text) = if why.starts_with("intake air temperature") {
                ("temperature", t)
            } else if why.starts_with("station pressure") || why.starts_with("total pressure") {
                ("pressure", self.pressure.as_deref().unwrap_or(""))
            } else {
                (field, text.as_str())
            };
            AskError::new(field, text, why, "")
        })
    }
}

/// The air of these readings in figures.
///
/// # Errors
/// [`AskError`] naming the reading.
pub fn air(question: &AirQuestion) -> Result<AirAnswer, AskError> {
    question.air().map(|a| describe(&a))
}

/// An air in figures.
#[must_use]
pub fn describe(air: &Air) -> AirAnswer {
    let method = Method::default();
    AirAnswer {
        station_pressure_kpa: air.station().kilopascals(),
        vapour_pressure_kpa: air.vapour().kilopascals(),
        dry_pressure_kpa: air.dry().kilopascals(),
        temperature_c: air.temperature().celsius(),
        relative_humidity_percent: relative_humidity(air, &method).map_or(f64::NAN, |h| 100.0 * h),
        dew_point_c: (air.vapour().pascals() > 0.0)
            .then(|| dew_point(air, &method).ok().map(Temperature::celsius))
            .flatten(),
        wet_bulb_c: wet_bulb(air, Psychrometer::Thermodynamic, &method).ok().map(Temperature::celsius),
        density_kg_m3: density_cipm_2007(air, &method).ok().map(|d| d.density),
        density_altitude_m: density_altitude(air),
    }
}
