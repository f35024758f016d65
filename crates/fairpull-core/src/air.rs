//! The air the engine breathed, built only from consistent readings.

use crate::refusal::finite;
use crate::{
    AbsolutePressure, Cite, DryPressure, Limit, OutOfRange, Reading, Refusal, Temperature, VapourPressure,
};

const HERE: Cite = Cite::new("fairpull", "what a place where engines are tested can be", Reading::Derived);

/// Station pressure that any place on a road can have, kPa.
static STATION: Limit = Limit { what: "station pressure", unit: "kPa", low: 40.0, high: 120.0, cite: HERE };

/// Vapour pressure, kPa, that a station pressure leaves room for.
#[inline]
const fn up_to_half(p: f64) -> Limit {
    Limit { what: "vapour pressure", unit: "kPa", low: 0.0, high: 0.5 * p, cite: HERE }
}

/// Names the reading that is no number, or else the first one out of its range: one of them is.
#[cold]
#[inline(never)]
fn refusal(p: f64, t: f64, e: f64) -> Refusal {
    let room = up_to_half(p);
    let readings = [(&STATION, p), (&Air::INTAKE, t), (&room, e)];
    for (limit, got) in readings {
        if let Err(refusal) = finite(got, limit.what, limit.unit) {
            return refusal;
        }
    }
    let [station, intake, vapour] = readings;
    let outside = |(limit, got): &(&Limit, f64)| !limit.holds(*got);
    let (limit, got) = [station, intake].into_iter().find(outside).unwrap_or(vapour);
    OutOfRange { got, limit: *limit }.into()
}

/// Station pressure, intake temperature and vapour pressure, checked against each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    station: AbsolutePressure,
    temperature: Temperature,
    vapour: VapourPressure,
}

impl Air {
    /// Temperatures that air at an engine's intake can have, °C.
    pub const INTAKE: Limit =
        Limit { what: "intake air temperature", unit: "°C", low: -60.0, high: 80.0, cite: HERE };

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
        let (p, t, e) = (station.kilopascals(), temperature.celsius(), vapour.kilopascals());
        // no NaN and no infinity is inside a range
        if STATION.holds(p) && Self::INTAKE.holds(t) && up_to_half(p).holds(e) {
            Ok(Self { station, temperature, vapour })
        } else {
            Err(refusal(p, t, e))
        }
    }

    /// The same air with this vapour pressure in it (0 up to half the station pressure).
    ///
    /// # Errors
    /// As [`Air::new`], for the vapour pressure, as the caller's own kind of error: an air that is moved from one kind of
    /// answer to another costs more than its check.
    #[inline]
    pub fn with_vapour<E: From<Refusal>>(self, vapour: VapourPressure) -> Result<Self, E> {
        let (p, e) = (self.station.kilopascals(), vapour.kilopascals());
        if up_to_half(p).holds(e) {
            Ok(Self { vapour, ..self })
        } else {
            Err(refusal(p, self.temperature.celsius(), e).into())
        }
    }

    /// Total (station) pressure.
    #[must_use]
    #[inline]
    pub const fn station(&self) -> AbsolutePressure {
        self.station
    }

    /// Temperature of the air entering the intake system.
    #[must_use]
    #[inline]
    pub const fn temperature(&self) -> Temperature {
        self.temperature
    }

    /// Partial pressure of water vapour.
    #[must_use]
    #[inline]
    pub const fn vapour(&self) -> VapourPressure {
        self.vapour
    }

    /// Partial pressure of dry air, always positive.
    #[must_use]
    #[inline]
    pub fn dry(&self) -> DryPressure {
        self.station.less(self.vapour)
    }
}
