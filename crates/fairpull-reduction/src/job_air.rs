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
    read_minutes(text.get_ref()).map_err(|why| {
        let why = if why.is_empty() { String::new() } else { format!(": {why}") };
        site.error(
            "log.start",
            text.span(),
            format!("{:?} is not a time{why}", text.get_ref()),
            "write e.g. start = \"2026-05-11T10:02:00\"",
        )
    })
}

const MONTHS: [(&str, i64); 12] = [
    ("January", 31),
    ("February", 28),
    ("March", 31),
    ("April", 30),
    ("May", 31),
    ("June", 30),
    ("July", 31),
    ("August", 31),
    ("September", 30),
    ("October", 31),
    ("November", 30),
    ("December", 31),
];

/// Why a text is no time; nothing where it is not even written like one.
fn read_minutes(text: &str) -> Result<f64, String> {
    let (y, m, day, h, min, s) = parts(text).ok_or_else(String::new)?;
    let within = |what: &str, value: f64, low: f64, high: f64, end: &str| {
        if value >= low && value < high {
            Ok(())
        } else {
            Err(format!("the {what} is {value}, outside {low} to {end}"))
        }
    };
    within("year", y as f64, 1900.0, 10_000.0, "9999")?;
    within("month", m as f64, 1.0, 13.0, "12")?;
    let leap = y % 4 == 0 && (y % 100 != 0 || y % 400 == 0);
    let month = usize::try_from(m - 1).ok().and_then(|m| MONTHS.get(m));
    let (name, days) = month.map_or(("", 0), |(name, days)| (*name, days + i64::from(m == 2 && leap)));
    if !(1..=days).contains(&day) {
        return Err(format!("{name} {y} has {days} days, and there is no day {day}"));
    }
    within("hour", h, 0.0, 24.0, "23")?;
    within("minute", min, 0.0, 60.0, "59")?;
    within("second", s, 0.0, 60.0, "59")?;
    // days since 1970-01-01 in the proleptic Gregorian calendar
    let (y, m) = if m <= 2 { (y - 1, m + 9) } else { (y, m - 3) };
    let era = y.div_euclid(400);
    let of_era = y.rem_euclid(400);
    let days =
        era * 146_097 + of_era * 365 + of_era / 4 - of_era / 100 + (153 * m + 2) / 5 + day - 1 - 719_468;
    Ok(days as f64 * 1440.0 + h * 60.0 + min + s / 60.0)
}

/// Year, month, day, hour, minute, second as written.
fn parts(text: &str) -> Option<(i64, i64, i64, f64, f64, f64)> {
    let (date, clock) = text.split_once(['T', ' '])?;
    let mut d = date.split('-').map(|p| p.parse::<i64>().ok());
    let (y, m, day) = (d.next()??, d.next()??, d.next()??);
    let mut c = clock.split(':').map(|p| fairpull_units::decimal(p.as_bytes()));
    let (h, min) = (c.next()??, c.next()??);
    let s = c.next().unwrap_or(Some(0.0))?;
    (d.next().is_none() && c.next().is_none()).then_some((y, m, day, h, min, s))
}

#[cfg(test)]
mod tests {
    use super::read_minutes;

    #[test]
    fn calendar() {
        assert_eq!(read_minutes("1970-01-01T00:00:00"), Ok(0.0));
        assert_eq!(read_minutes("2000-03-01 00:00"), Ok(11_017.0 * 1440.0));
        assert_eq!(read_minutes("2026-05-11T10:02:30"), Ok(20_584.0 * 1440.0 + 602.5));
        assert!(read_minutes("2026-13-11T10:02").is_err());
        assert!(read_minutes("yesterday").is_err());
    }
}
