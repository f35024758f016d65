//! Pressures: a gauge reading becomes usable only together with a barometer.

use fairpull_core::{AbsolutePressure, Cite, GaugePressure, Limit, Reading, Refusal};
use serde::{Deserialize, Serialize};

use crate::Figure;
use crate::check::PLACES;

static ABSOLUTE: Limit =
    Limit { what: "absolute pressure", unit: "kPa", low: 5.0, high: 5.0e4, cite: PLACES };
static UNCERTAINTY: Limit =
    Limit { what: "standard uncertainty of a pressure", unit: "kPa", low: 0.0, high: 1.0e4, cite: PLACES };
const GAUGE: Cite =
    Cite::new("fairpull", "gauge pressure counts from the barometer of the moment", Reading::Derived);

/// An absolute pressure with its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AbsoluteReading {
    pressure: AbsolutePressure,
    uncertainty_kpa: f64,
}

impl AbsoluteReading {
    /// From an absolute pressure and its standard uncertainty in kPa.
    ///
    /// # Errors
    /// [`Refusal::OutOfRange`] outside 5 kPa to 50 MPa.
    pub fn new(pressure: AbsolutePressure, uncertainty_kpa: f64) -> Result<Self, Refusal> {
        ABSOLUTE.check(pressure.kilopascals())?;
        UNCERTAINTY.check(uncertainty_kpa)?;
        Ok(Self { pressure, uncertainty_kpa })
    }

    /// From a gauge pressure and the barometer it counts from.
    ///
    /// # Errors
    /// As [`AbsoluteReading::new`].
    pub fn from_gauge(gauge: GaugePressure, uncertainty_kpa: f64, barometer: &Self) -> Result<Self, Refusal> {
        let u = libm::hypot(uncertainty_kpa, barometer.uncertainty_kpa);
        Self::new(gauge.to_absolute(barometer.pressure), u)
    }

    /// The pressure.
    #[must_use]
    pub const fn pressure(&self) -> AbsolutePressure {
        self.pressure
    }

    /// Pascals, with uncertainty.
    #[must_use]
    pub fn pascals(&self) -> Figure {
        Figure::new(self.pressure.pascals(), self.uncertainty_kpa * 1000.0)
    }

    /// Kilopascals, with uncertainty.
    #[must_use]
    pub fn kilopascals(&self) -> Figure {
        Figure::new(self.pressure.kilopascals(), self.uncertainty_kpa)
    }
}

/// A pressure as data: `{ absolute_kpa = 220.0 }` or `{ gauge_kpa = 120.0, uncertainty_kpa = 1.0 }`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[non_exhaustive]
pub struct PressureGiven {
    /// Above vacuum, kPa.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub absolute_kpa: Option<f64>,
    /// Above the barometer, kPa.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gauge_kpa: Option<f64>,
    /// Standard uncertainty, kPa.
    pub uncertainty_kpa: f64,
}

impl PressureGiven {
    /// An absolute pressure, kPa.
    #[must_use]
    pub const fn absolute(kpa: f64, uncertainty_kpa: f64) -> Self {
        Self { absolute_kpa: Some(kpa), gauge_kpa: None, uncertainty_kpa }
    }

    /// A gauge pressure, kPa.
    #[must_use]
    pub const fn gauge(kpa: f64, uncertainty_kpa: f64) -> Self {
        Self { absolute_kpa: None, gauge_kpa: Some(kpa), uncertainty_kpa }
    }

    /// The absolute reading.
    ///
    /// # Errors
    /// [`Refusal::Missing`] for a gauge pressure without a barometer, or when it is not said which of the two it is;
    /// [`Refusal::OutOfRange`] for an impossible pressure.
    pub fn read(
        &self,
        what: &'static str,
        barometer: Option<&AbsoluteReading>,
    ) -> Result<AbsoluteReading, Refusal> {
        match (self.absolute_kpa, self.gauge_kpa) {
            (Some(kpa), None) => {
                AbsoluteReading::new(AbsolutePressure::from_kilopascals(kpa), self.uncertainty_kpa)
            }
            (None, Some(kpa)) => {
                let barometer = barometer.ok_or(Refusal::Missing {
                    what,
                    mend: "it is a gauge pressure: give the barometer (station pressure, kPa absolute) too",
                    cite: GAUGE,
                })?;
                AbsoluteReading::from_gauge(
                    GaugePressure::from_kilopascals(kpa),
                    self.uncertainty_kpa,
                    barometer,
                )
            }
            _ => Err(Refusal::Missing {
                what,
                mend: "say either absolute_kpa or gauge_kpa, not both and not neither",
                cite: GAUGE,
            }),
        }
    }
}
