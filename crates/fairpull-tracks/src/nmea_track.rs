//! NMEA 0183: RMC for time, speed and position, GGA for height.

use crate::Row;
use nmea::ParseResult;
use nmea::sentences::rmc::RmcStatusOfFix;

/// One knot in m/s, exact.
const KNOT: f64 = 1852.0 / 3600.0;

pub(crate) fn rows(text: &str) -> Vec<Row> {
    let mut out = Vec::new();
    let mut height = None;
    let mut day = 0.0;
    let mut before = f64::NEG_INFINITY;
    for line in text.lines() {
        match nmea::parse_str(line.trim()) {
            Ok(ParseResult::GGA(g)) => height = g.altitude.map(f64::from),
            Ok(ParseResult::RMC(r)) => {
                let fixed = r.status_of_fix != RmcStatusOfFix::Invalid;
                let clock = r.fix_time.and_then(|t| seconds(&t.to_string()));
                if let Some(c) = clock {
                    // past midnight the clock starts again
                    if c + day < before - 43_200.0 {
                        day += 86_400.0;
                    }
                    before = c + day;
                }
                out.push(Row {
                    time: clock.map(|c| c + day).filter(|_| fixed),
                    speed: r.speed_over_ground.map(|k| f64::from(k) * KNOT).filter(|_| fixed),
                    position: r.lat.zip(r.lon).filter(|_| fixed),
                    height,
                });
            }
            _ => {}
        }
    }
    out
}

/// `HH:MM:SS.fff` to seconds of the day.
fn seconds(clock: &str) -> Option<f64> {
    let mut parts = clock.split(':').map(|p| p.parse::<f64>().ok());
    Some(parts.next()?? * 3600.0 + parts.next()?? * 60.0 + parts.next()??)
}
