//! Weather readings and start times of a job.

use fairpull_core::Temperature;
use fairpull_humid::{Method, Moisture, SeaLevelPressure, relative_humidity, station_pressure};
use fairpull_tree::Placed;
use fairpull_units::Dimension;

use crate::job::AirReading;
use crate::job_error::{JobError, Site};
use crate::job_parse::Reader;
use crate::job_raw::{RawAir, Text};

/// One weather reading.
pub(crate) fn air(reader: &Reader<'_>, raw: &Placed<RawAir>) -> Result<AirReading, JobError> {
    let a = raw.get_ref();
    let refuse =
        |field: &str, problem: String, mend: &str| Err(reader.site.error(field, raw.span(), problem, mend));
    let station = match (&a.pressure, &a.qnh, &a.elevation) {
        (Some(p), None, _) => fairpull_units::station_pressure(p.get_ref())
            .map_err(|e| reader.site.error("air.pressure", p.span(), e.to_string(), ""))?,
        (None, Some(q), Some(h)) => {
            let qnh = fairpull_units::station_pressure(q.get_ref())
                .map_err(|e| reader.site.error("air.qnh", q.span(), e.to_string(), ""))?;
            let height = reader.quantity("air.elevation", h, Dimension::Length)?;
            station_pressure(SeaLevelPressure::Qnh(qnh), height)
                .map_err(|e| reader.site.error("air.qnh", q.span(), e.to_string(), ""))?
        }
        (Some(_), Some(_), _) => {
            return refuse(
                "air",
                "both pressure and qnh are given".into(),
                "give the station pressure, or qnh with elevation",
            );
        }
        (None, Some(_), None) => {
            return refuse("air.elevation", "qnh needs the elevation".into(), "add elevation = \"…m\"");
        }
        (None, None, _) => {
            return refuse(
                "air.pressure",
                "no pressure is given".into(),
                "add pressure = \"…hPa\" (at the rig), or qnh with elevation",
            );
        }
    };
    let temperature = Temperature::from_kelvin(reader.quantity(
        "air.temperature",
        &a.temperature,
        Dimension::Temperature,
    )?);
    let celsius = |field: &str, t: &Text| {
        reader.quantity(field, t, Dimension::Temperature).map(Temperature::from_kelvin)
    };
    let (moisture, span) = match (&a.humidity, &a.dew_point, &a.wet_bulb) {
        (Some(h), None, None) => {
            (Moisture::RelativeHumidity(reader.quantity("air.humidity", h, Dimension::Ratio)?), h.span())
        }
        (None, Some(d), None) => (Moisture::DewPoint(celsius("air.dew_point", d)?), d.span()),
        (None, None, Some(w)) => (Moisture::wet_bulb(celsius("air.wet_bulb", w)?), w.span()),
        (None, None, None) => {
            return refuse(
                "air.humidity",
                "no humidity is given".into(),
                "add humidity = \"…%\", dew_point or wet_bulb",
            );
        }
        _ => {
            return refuse(
                "air",
                "humidity is given more than once".into(),
                "keep one of humidity, dew_point, wet_bulb",
            );
        }
    };
    let method = Method::default();
    let made = fairpull_humid::air(station, temperature, moisture, &method)
        .map_err(|e| reader.site.error("air", span.clone(), e.to_string(), ""))?;
    let humidity =
        relative_humidity(&made, &method).map_err(|e| reader.site.error("air", span, e.to_string(), ""))?;
    Ok(AirReading { station, temperature, humidity, air: made })
}

/// `2026-05-11T10:02:00` (or with a space, or without seconds) to minutes since 1970-01-01T00:00.
pub(crate) fn minutes(site: &Site<'_>, text: &Text) -> Result<f64, JobError> {
    read_minutes(text.get_ref()).ok_or_else(|| {
        site.error(
            "log.start",
            text.span(),
            format!("{:?} is not a time", text.get_ref()),
            "write e.g. start = \"2026-05-11T10:02:00\"",
        )
    })
}

fn read_minutes(text: &str) -> Option<f64> {
    let (date, clock) = text.split_once(['T', ' '])?;
    let mut d = date.split('-').map(|p| p.parse::<i64>().ok());
    let (y, m, day) = (d.next()??, d.next()??, d.next()??);
    let mut c = clock.split(':').map(|p| fairpull_units::decimal(p.as_bytes()));
    let (h, min) = (c.next()??, c.next()??);
    let s = c.next().unwrap_or(Some(0.0))?;
    let fits = (1..=12).contains(&m)
        && (1..=31).contains(&day)
        && (1900..=9999).contains(&y)
        && (0.0..24.0).contains(&h)
        && (0.0..60.0).contains(&min)
        && (0.0..61.0).contains(&s)
        && d.next().is_none()
        && c.next().is_none();
    if !fits {
        return None;
    }
    // days since 1970-01-01 in the proleptic Gregorian calendar
    let (y, m) = if m <= 2 { (y - 1, m + 9) } else { (y, m - 3) };
    let era = y.div_euclid(400);
    let of_era = y.rem_euclid(400);
    let days =
        era * 146_097 + of_era * 365 + of_era / 4 - of_era / 100 + (153 * m + 2) / 5 + day - 1 - 719_468;
    Some(days as f64 * 1440.0 + h * 60.0 + min + s / 60.0)
}

#[cfg(test)]
mod tests {
    use super::read_minutes;

    #[test]
    fn calendar() {
        assert_eq!(read_minutes("1970-01-01T00:00:00"), Some(0.0));
        assert_eq!(read_minutes("2000-03-01 00:00"), Some(11_017.0 * 1440.0));
        assert_eq!(read_minutes("2026-05-11T10:02:30"), Some(20_584.0 * 1440.0 + 602.5));
        assert_eq!(read_minutes("2026-13-11T10:02"), None);
        assert_eq!(read_minutes("yesterday"), None);
    }
}
