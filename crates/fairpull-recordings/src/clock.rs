//! Time written as a clock shows it.

use crate::number::trim;

/// Seconds of `hh:mm:ss`, `hh:mm:ss.fff`, `hh:mm:ss:fff`, `mm:ss.fff`; a date before it (set off by a blank or `T`),
/// `AM`/`PM` and a zone letter behind it may stand there. The date itself is not used: midnight shows as a step back.
pub(crate) fn seconds(cell: &[u8]) -> Option<f64> {
    let cell = trim(cell);
    if cell.len() > 64 || !cell.contains(&b':') {
        return None;
    }
    let text = core::str::from_utf8(cell).ok()?.trim_end_matches(['Z', 'z']);
    let (text, half) = match text.to_ascii_lowercase() {
        t if t.ends_with("am") => (text.get(..text.len() - 2)?.trim_end(), Some(0.0)),
        t if t.ends_with("pm") => (text.get(..text.len() - 2)?.trim_end(), Some(12.0)),
        _ => (text, None),
    };
    let clock = text.rsplit([' ', 'T', '_']).next()?;
    let mut parts = clock.split(':');
    let (a, b, c, d) = (parts.next()?, parts.next()?, parts.next(), parts.next());
    if parts.next().is_some() {
        return None;
    }
    let (hours, minutes, secs) = match (c, d) {
        (None, _) => (0.0, whole(a)?, fraction(b)?),
        (Some(s), None) => (whole(a)?, whole(b)?, fraction(s)?),
        (Some(s), Some(milli)) if milli.len() == 3 => {
            (whole(a)?, whole(b)?, whole(s)? + whole(milli)? / 1000.0)
        }
        _ => return None,
    };
    let hours = match half {
        None => hours,
        Some(add) if (1.0..=12.0).contains(&hours) => add + if hours == 12.0 { 0.0 } else { hours },
        Some(_) => return None,
    };
    let minutes_fit = c.is_none() || minutes < 60.0;
    (secs < 60.0 && minutes_fit && hours < 1e4).then_some((hours * 60.0 + minutes) * 60.0 + secs)
}

fn whole(text: &str) -> Option<f64> {
    let plain = !text.is_empty() && text.len() <= 6 && text.bytes().all(|b| b.is_ascii_digit());
    if plain { fairpull_units::decimal(text.as_bytes()) } else { None }
}

fn fraction(text: &str) -> Option<f64> {
    let plain = text.bytes().all(|b| b.is_ascii_digit() || b == b'.' || b == b',');
    if plain && text.as_bytes().first()?.is_ascii_digit() {
        fairpull_units::decimal(text.replace(',', ".").as_bytes())
    } else {
        None
    }
}
