//! The air the engine breathed, built only from consistent readings.

use crate::refusal::finite;
use crate::{AbsolutePressure, Cite, DryPressure, Limit, Reading, Refusal, Temperature, VapourPressure};

const HERE: Cite = Cite::new("fairpull", "what a place where engines are tested can be", Reading::Derived);

/// Station pressure that any place on a road can have, kPa.
static STATION: Limit = Limit { what: "station pressure", unit: "kPa", low: 40.0, high: 120.0, cite: HERE };
/// Air temperature at an engine's intake, °C.
static INTAKE: Limit =
    Limit { what: "intake air temperature", unit: "°C", low: -60.0, high: 80.0, cite: HERE };

/// Station pressure, intake temperature and vapour pressure, checked against each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    station: AbsolutePressure,
    temperature: Temperature,
    vapour: VapourPressure,
}

impl Air {
    /// Moist air from station pressure (40 to 120 kPa), intake temperature (−60 to 80 °C) and vapour pressure
    /// (0 up to half the station pressure).
    ///
    /// # Errors
    /// [`Refusal::NotFinite`] or [`Refusal::OutOfRange`] naming the reading.
    pub fn new(
        station: AbsolutePressure,
        temperature: Temperature,
        vapour: VapourPressure,
    ) -> Result<Self, Refusal> {
        finite(station.kilopascals(), "station pressure", "kPa")?;
        finite(temperature.celsius(), "intake air temperature", "°C")?;
        finite(vapour.kilopascals(), "vapour pressure", "kPa")?;
        let p = STATION.check(station.kilopascals())?;
        INTAKE.check(temperature.celsius())?;
        Limit { what: "vapour pressure", unit: "kPa", low: 0.0, high: 0.5 * p, cite: HERE }
            .check(vapour.kilopascals())?;
        Ok(Self { station, temperature, vapour })
    }

    /// Total (station) pressure.
    #[must_use]
    pub const fn station(&self) -> AbsolutePressure {
        self.station
    }

    /// Temperature of the air entering the intake system.
    #[must_use]
    pub const fn temperature(&self) -> Temperature {
        self.temperature
    }

    /// Partial pressure of water vapour.
    #[must_use]
    pub const fn vapour(&self) -> VapourPressure {
        self.vapour
    }

    /// Partial pressure of dry air, always positive.
    #[must_use]
    pub fn dry(&self) -> DryPressure {
        self.station.less(self.vapour)
    }
}
