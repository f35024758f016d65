//! The air a test may have had: what is known, and for the rest the range that the standard itself permits.

use crate::sample::Point;
use crate::{Humidity, Knowledge, KnownAir, RestateError, Span, assume};
use fairpull_core::{
    AbsolutePressure, Air, Catalogue, CorrectionStandard, Ignition, Limit, PressureBasis, Temperature,
    TestWindow, VapourPressure,
};
use fairpull_humid::{Method, Moisture};

/// The air a test may have had, and why.
#[derive(Clone, Debug)]
pub(crate) struct AirBox {
    pub(crate) ranges: Ranges,
    /// Dimension of the unit cube, what was assumed, and why.
    pub(crate) assumed: Vec<(usize, String, String)>,
}

/// Ranges of the three readings; a point of the unit cube picks an air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Ranges {
    pressure_kpa: Span,
    dry: bool,
    temperature_c: Span,
    humidity: Humidity,
}

impl Ranges {
    /// Which coordinates of the unit cube matter.
    pub(crate) fn open(&self) -> [bool; 3] {
        [self.pressure_kpa, self.temperature_c, self.humidity.span()].map(|s| !s.is_exact())
    }

    /// The air at a point of the unit cube.
    pub(crate) fn at(&self, point: &Point) -> Result<Air, RestateError> {
        let [p, t, h, ..] = *point;
        let temperature = Temperature::from_celsius(self.temperature_c.at(t));
        let method = Method::default();
        let air = |e: fairpull_humid::HumidError| RestateError::Air(e.to_string());
        let pressure = self.pressure_kpa.at(p);
        if !self.dry {
            let moisture = match self.humidity {
                Humidity::Relative(s) => Moisture::RelativeHumidity(s.at(h)),
                Humidity::DewPoint(s) => Moisture::DewPoint(Temperature::from_celsius(s.at(h))),
                Humidity::Vapour(s) => Moisture::Vapour(VapourPressure::from_kilopascals(s.at(h))),
            };
            let station = AbsolutePressure::from_kilopascals(pressure);
            return fairpull_humid::air(station, temperature, moisture, &method).map_err(air);
        }
        let vapour = match self.humidity {
            Humidity::Relative(s) => {
                let vapour = s.at(h) * method.saturation(temperature).map_err(air)?.kilopascals();
                // A share of the saturation pressure up to all of it: nothing is left to check against it.
                if s.low >= 0.0 && s.high <= 1.0 {
                    let station = AbsolutePressure::from_kilopascals(pressure + vapour);
                    let vapour = VapourPressure::from_kilopascals(vapour);
                    return Air::new(station, temperature, vapour).map_err(|e| air(e.into()));
                }
                vapour
            }
            Humidity::DewPoint(s) => {
                method.formulation.over_water(Temperature::from_celsius(s.at(h))).map_err(air)?.kilopascals()
            }
            Humidity::Vapour(s) => s.at(h),
        };
        let station = AbsolutePressure::from_kilopascals(pressure + vapour);
        let moisture = Moisture::Vapour(VapourPressure::from_kilopascals(vapour));
        fairpull_humid::air(station, temperature, moisture, &method).map_err(air)
    }
}

fn sound(what: &str, unit: &str, span: Option<Span>) -> Result<(), RestateError> {
    match span {
        Some(s) if !s.is_sound() => Err(RestateError::Air(format!(
            "{what} from {} to {} {unit}: both ends must be finite numbers, the low end first",
            s.low, s.high
        ))),
        _ => Ok(()),
    }
}

const fn span(limit: &Limit, less: f64) -> Span {
    Span::new(limit.low - less, limit.high - less)
}

/// The widest ranges that any text of the catalogue prints for an ignition: temperature in °C, dry pressure in kPa.
fn widest(catalogue: &Catalogue<'_>, ignition: Ignition) -> (Option<Span>, Option<Span>) {
    let join = |a: Option<Span>, b: Span| {
        Some(a.map_or(b, |a| {
            Span::new(
                if a.low < b.low { a.low } else { b.low },
                if a.high > b.high { a.high } else { b.high },
            )
        }))
    };
    let (mut temperature, mut pressure) = (None, None);
    for standard in catalogue.standards() {
        let card = standard.card();
        let window = card.window(ignition);
        if let Some(t) = &window.temperature {
            temperature = join(temperature, span(t, card.reference.kelvin_offset));
        }
        if let (Some(p), PressureBasis::Dry) = (&window.pressure, card.reference.basis) {
            pressure = join(pressure, span(p, 0.0));
        }
    }
    (temperature, pressure)
}

/// The air box for a test under a standard.
pub(crate) fn air_box(
    known: &KnownAir,
    knowledge: &Knowledge<'_>,
    under: &dyn CorrectionStandard,
    ignition: Ignition,
    catalogue: &Catalogue<'_>,
) -> Result<AirBox, RestateError> {
    let known = known.or(&knowledge.air);
    sound("station pressure", "kPa", known.pressure_kpa)?;
    sound("intake air temperature", "°C", known.temperature_c)?;
    sound("humidity", "", known.humidity.map(|h| h.span()))?;
    sound("elevation", "m", knowledge.elevation_m)?;
    let card = under.card();
    let window: &TestWindow = card.window(ignition);
    let (wide_temperature, wide_pressure) = widest(catalogue, ignition);
    let mut assumed = Vec::new();
    let mut note = |d: usize, what: String, because: String| assumed.push((d, what, because));
    let permitted = format!("range that {} permits", card.designation);
    let general =
        format!("{} prints no range: the widest one printed by the standards at hand", card.designation);
    let own = "no standard at hand prints a range: own judgement".to_owned();

    let (pressure_kpa, dry) = if let Some(p) = known.pressure_kpa {
        if !p.is_exact() {
            note(0, range("station pressure", p, "kPa"), "given range".to_owned());
        }
        (p, false)
    } else if let Some(h) = knowledge.elevation_m {
        let p = at_elevation(h)?;
        note(
            0,
            range("station pressure", p, "kPa"),
            format!(
                "standard atmosphere at {} to {} m, weather ±{} %",
                h.low,
                h.high,
                100.0 * assume::WEATHER
            ),
        );
        (p, false)
    } else {
        let dry = window.pressure.is_none() || card.reference.basis == PressureBasis::Dry;
        let (p, why) = match (&window.pressure, wide_pressure) {
            (Some(limit), _) => (span(limit, 0.0), permitted.clone()),
            (None, Some(p)) => (p, general.clone()),
            (None, None) => (assume::PRESSURE_KPA, own.clone()),
        };
        note(0, range(if dry { "dry pressure" } else { "station pressure" }, p, "kPa"), why);
        (p, dry)
    };

    let temperature_c = if let Some(t) = known.temperature_c {
        if !t.is_exact() {
            note(1, range("intake air temperature", t, "°C"), "given range".to_owned());
        }
        t
    } else {
        let (t, why) = match (&window.temperature, wide_temperature) {
            (Some(limit), _) => (span(limit, card.reference.kelvin_offset), permitted),
            (None, Some(t)) => (t, general),
            (None, None) => (assume::TEMPERATURE_C, own),
        };
        let (t, why) = match knowledge.month {
            None => (t, why),
            Some(m) => {
                let outdoors = assume::month(m)
                    .ok_or_else(|| RestateError::Air(format!("month is {m}, outside 1 to 12")))?;
                // A month whose weather misses the permitted range altogether is believed before the range.
                (t.common(&outdoors).unwrap_or(outdoors), format!("{why}, and outdoor air of month {m}"))
            }
        };
        note(1, range("intake air temperature", t, "°C"), why);
        t
    };

    let humidity = known.humidity.unwrap_or(Humidity::Relative(assume::HUMIDITY));
    if !humidity.span().is_exact() {
        let why = if known.humidity.is_some() { "given range" } else { "no text restricts humidity" };
        let what = match humidity {
            Humidity::Relative(s) => {
                range("relative humidity", Span::new(100.0 * s.low, 100.0 * s.high), "%")
            }
            Humidity::DewPoint(s) => range("dew point", s, "°C"),
            Humidity::Vapour(s) => range("vapour pressure", s, "kPa"),
        };
        note(2, what, why.to_owned());
    }
    Ok(AirBox { ranges: Ranges { pressure_kpa, dry, temperature_c, humidity }, assumed })
}

fn at_elevation(h: Span) -> Result<Span, RestateError> {
    let station = |metres: f64| {
        fairpull_humid::standard_atmosphere(fairpull_humid::geopotential(metres))
            .map(|a| a.pressure.kilopascals())
            .map_err(|e| RestateError::Air(format!("elevation: {e}")))
    };
    Ok(Span::new(station(h.high)? * (1.0 - assume::WEATHER), station(h.low)? * (1.0 + assume::WEATHER)))
}

fn range(what: &str, s: Span, unit: &str) -> String {
    // Two decimals are enough for a person; the numbers in use are not rounded.
    let short = |x: f64| format!("{}", libm::round(x * 100.0) / 100.0);
    format!("{what} {} to {} {unit}", short(s.low), short(s.high))
}
