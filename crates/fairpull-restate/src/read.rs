//! The one-line notation to a figure. The grammar stands in `docs/notation.md`.

use crate::near::nearest;
use crate::write::{WORDS, is_bare_id};
use crate::{Figure, Humidity, Interval, KnownAir, Site, Span, Treatment};
use fairpull_core::Rating;
use fairpull_units::{Decimal, Dimension, Quoted, Reading, Reference, number, parse_as};
use std::ops::Range;
use std::str::FromStr;

/// A text that is no figure, and why.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}: {message}", Quoted(.text))]
pub struct NotationError {
    /// The whole text.
    pub text: String,
    /// Bytes of the item at fault.
    pub span: Range<usize>,
    /// What is wrong, what was expected, and how to mend it.
    pub message: String,
}

/// A message about one item; the caller adds the place.
type Answer<T> = Result<T, String>;

impl FromStr for Figure {
    type Err = NotationError;

    fn from_str(text: &str) -> Result<Self, NotationError> {
        let mut start = 0;
        let mut figure: Option<Self> = None;
        // Both separators are one byte, so the next item begins one byte after this one ends.
        for item in text.split([';', '|']) {
            let span = start..start + item.len();
            start = span.end + 1;
            let done = match &mut figure {
                None => head(item).map(|f| figure = Some(f)),
                Some(f) => part(f, item.trim()),
            };
            done.map_err(|message| NotationError { text: text.to_owned(), span, message })?;
        }
        // `split` yields at least one item, so the head was read; an empty text was refused there.
        figure.ok_or_else(|| NotationError {
            text: text.to_owned(),
            span: 0..text.len(),
            message: "empty".to_owned(),
        })
    }
}

fn once<T>(slot: &mut Option<T>, value: T, what: &str) -> Answer<()> {
    match slot {
        Some(_) => Err(format!("{what} stands twice: keep one")),
        None => {
            *slot = Some(value);
            Ok(())
        }
    }
}

/// Value, unit and engine speed.
fn head(item: &str) -> Answer<Figure> {
    let (value, speed) = match item.split_once('@') {
        Some((v, s)) => (v, Some(s)),
        None => (item, None),
    };
    // A power unless only a torque unit fits; the message for a power names the accepted units.
    let power = parse_as(value, Dimension::Power);
    let reading = match (power, parse_as(value, Dimension::Torque)) {
        (Ok(r), _) | (Err(_), Ok(r)) => r,
        (Err(e), Err(_)) => {
            return Err(format!("the figure: {e}; a torque in N·m or lbf·ft is a figure too"));
        }
    };
    let mut figure =
        Figure::new(reading.value, reading.unit).ok_or("the figure is neither a power nor a torque")?;
    if let Some(s) = speed {
        let r = parse_as(s, Dimension::RotationalSpeed).map_err(|e| format!("the engine speed: {e}"))?;
        figure.engine_speed_rpm = Some(own(&r, "rpm", RPM, 0.0));
    }
    Ok(figure)
}

/// One revolution per minute in rad/s.
const RPM: f64 = std::f64::consts::PI / 30.0;

/// The value in the unit that the figure keeps: as written when written in it.
fn own(r: &Reading, symbol: &str, factor: f64, offset: f64) -> f64 {
    if r.unit.symbol() == symbol { r.value } else { r.si / factor - offset }
}

fn part(figure: &mut Figure, item: &str) -> Answer<()> {
    for sign in ["±", "+-", "+/-"] {
        if let Some(half) = item.strip_prefix(sign) {
            return interval_half(figure, half);
        }
    }
    let end = item.find(|c: char| c == '=' || c.is_whitespace()).unwrap_or(item.len());
    let (word, rest) = item.split_at_checked(end).unwrap_or((item, ""));
    let rest = rest.trim_start();
    let rest = rest.strip_prefix('=').unwrap_or(rest).trim();
    if rest.is_empty() {
        return bare(figure, word);
    }
    match word {
        "air" => air(figure, rest),
        "fuel" => once(&mut figure.fuel, unescaped(rest)?, "the fuel"),
        "code" => once(&mut figure.treatment, Treatment::Corrected(unescaped(rest)?), "the treatment"),
        "pm" => interval_half(figure, rest),
        "range" => {
            let ends =
                span(rest, figure.unit.dimension(), |r| figure.unit.from_si(r.si), figure.unit.symbol())?;
            once(&mut figure.interval, Interval::Ends(ends.low, ends.high), "the interval")
        }
        _ => Err(unknown(word)),
    }
}

fn bare(figure: &mut Figure, word: &str) -> Answer<()> {
    if let Some(site) = Site::ALL.into_iter().find(|s| s.word() == word) {
        return once(&mut figure.site, site, "the site");
    }
    let treatment = "the treatment";
    match word {
        "observed" => once(&mut figure.treatment, Treatment::Observed, treatment),
        "net" => once(&mut figure.rating, Rating::Net, "the rating"),
        "gross" => once(&mut figure.rating, Rating::Gross, "the rating"),
        "either" => once(&mut figure.rating, Rating::Either, "the rating"),
        "air" | "fuel" | "code" | "pm" | "range" => Err(format!("{word} is given without a value")),
        "" => Err("an empty item: remove the separator or write what belongs there".to_owned()),
        id if is_bare_id(id) => once(&mut figure.treatment, Treatment::Corrected(id.to_owned()), treatment),
        _ => Err(unknown(word)),
    }
}

fn unknown(word: &str) -> String {
    format!(
        "{} is no word of the notation; the nearest are {}; a standard is written by its id, e.g. iso-1585",
        Quoted(word),
        nearest(word, WORDS.into_iter()).join(", ")
    )
}

/// Puts `~hex~` and underscores back.
fn unescaped(text: &str) -> Answer<String> {
    let mut out = String::new();
    let mut rest = text;
    while let Some((plain, tail)) = rest.split_once('~') {
        out.push_str(&plain.replace('_', " "));
        let (code, after) = tail.split_once('~').ok_or("a ~ without its partner: write ~hex~")?;
        let letter = u32::from_str_radix(code, 16).ok().and_then(char::from_u32);
        out.push(letter.ok_or_else(|| {
            format!("{} is no letter: write its code in hex", Quoted(&format!("~{code}~")))
        })?);
        rest = after;
    }
    out.push_str(&rest.replace('_', " "));
    let out = out.split_whitespace().collect::<Vec<_>>().join(" ");
    if out.is_empty() { Err("given without a value".to_owned()) } else { Ok(out) }
}

fn interval_half(figure: &mut Figure, text: &str) -> Answer<()> {
    let text = text.trim();
    let percent = text.strip_suffix('%').or_else(|| text.strip_suffix("pct"));
    let half = if let Some(p) = percent {
        libm::fabs(figure.value) * plain(p, "the interval in %")? / 100.0
    } else if let Ok(bare) = number(text, Decimal::Either) {
        bare
    } else {
        let r = parse_as(text, figure.unit.dimension()).map_err(|e| format!("the interval: {e}"))?;
        if r.unit == figure.unit { r.value } else { figure.unit.step_from_si(r.si) }
    };
    if half >= 0.0 && half.is_finite() {
        once(&mut figure.interval, Interval::Half(half), "the interval")
    } else {
        Err(format!("the interval: ±{half} must not be negative"))
    }
}

fn plain(text: &str, what: &str) -> Answer<f64> {
    number(text.trim(), Decimal::Point).map_err(|e| format!("{what}: {}: {e}", Quoted(text.trim())))
}

/// `a..b` or a single value, with a unit after the last number.
fn span(text: &str, dimension: Dimension, read: impl Fn(&Reading) -> f64, keep: &str) -> Answer<Span> {
    let value = |t: &str| {
        let r = parse_as(t, dimension).map_err(|e| e.to_string())?;
        if r.unit.reference() == Reference::Gauge {
            return Err(format!("{} is a gauge pressure: give the absolute one, e.g. 98.5 kPa", r.unit));
        }
        Ok::<_, String>((if r.unit.symbol() == keep { r.value } else { read(&r) }, r.unit))
    };
    let Some((low, high)) = text.split_once("..") else { return value(text).map(|(v, _)| Span::exact(v)) };
    let (high, unit) = value(high)?;
    // The low end may leave the unit to the high end.
    let low = if number(low.trim(), Decimal::Point).is_ok() {
        value(&format!("{low} {unit}"))?
    } else {
        value(low)?
    };
    ordered(low.0, high)
}

fn ordered(low: f64, high: f64) -> Answer<Span> {
    if low <= high {
        Ok(Span::new(low, high))
    } else {
        Err(format!("{low}..{high}: the low end comes first"))
    }
}

fn air(figure: &mut Figure, text: &str) -> Answer<()> {
    if figure.air != KnownAir::UNKNOWN {
        return Err("the air stands twice: keep one".to_owned());
    }
    let mut known = KnownAir::UNKNOWN;
    for reading in text.split(',').map(str::trim) {
        let humidity = |h: Option<Humidity>, span, make: fn(Span) -> Humidity| {
            let mut slot = h;
            once(&mut slot, make(span), "the humidity").map(|()| slot)
        };
        let keyed = |key: &str| {
            let rest = reading.strip_prefix(key)?;
            let tail = rest.trim_start();
            let tail = tail.strip_prefix('=').unwrap_or(tail);
            (tail.len() < rest.len()).then(|| tail.trim())
        };
        let percent = reading.strip_suffix('%').or_else(|| reading.strip_suffix("pct"));
        if let Some(t) = percent {
            let s = numbers(t, "relative humidity")?;
            let s = Span::new(s.low / 100.0, s.high / 100.0);
            known.humidity = humidity(known.humidity, s, Humidity::Relative)?;
        } else if let Some(t) = keyed("rh") {
            known.humidity = humidity(known.humidity, numbers(t, "relative humidity")?, Humidity::Relative)?;
        } else if let Some(t) = keyed("dew") {
            known.humidity = humidity(known.humidity, celsius(t)?, Humidity::DewPoint)?;
        } else if let Some(t) = keyed("vapour") {
            known.humidity = humidity(known.humidity, kilopascals(t)?, Humidity::Vapour)?;
        } else {
            match (kilopascals(reading), celsius(reading)) {
                (Ok(p), _) => once(&mut known.pressure_kpa, p, "the pressure")?,
                (_, Ok(t)) => once(&mut known.temperature_c, t, "the temperature")?,
                (Err(e), _) => {
                    return Err(format!(
                        "the air: {e}; a reading is a station pressure, a temperature, 40%, rh 0.4, dew 12C or vapour 1.2kPa, \
                         with a decimal point, separated by commas"
                    ));
                }
            }
        }
    }
    figure.air = known;
    Ok(())
}

fn numbers(text: &str, what: &str) -> Answer<Span> {
    match text.split_once("..") {
        None => plain(text, what).map(Span::exact),
        Some((low, high)) => ordered(plain(low, what)?, plain(high, what)?),
    }
}

fn kilopascals(text: &str) -> Answer<Span> {
    span(text, Dimension::Pressure, |r| r.si / 1000.0, "kPa")
}

fn celsius(text: &str) -> Answer<Span> {
    span(text, Dimension::Temperature, |r| r.si - 273.15, "°C")
}
