//! Satellite tracks (GPX 1.0 and 1.1, NMEA 0183) to a log of speed.
//!
//! **Scope.** Time, speed and height of a track as [`SpeedLog`]: the speed that the receiver wrote where it did (GPX 1.0
//! `speed`, NMEA `RMC` speed over ground), else the great-circle distance between positions over time, which is noisier
//! and says so. Rows without time, fix or speed are counted, never filled in.
//!
//! **Out of scope.** Reading power from the log: `fairpull-road`.
#![forbid(unsafe_code)]

mod gpx_track;
mod nmea_track;
mod sphere;

pub use fairpull_road::SpeedLog;

/// A track as a log of speed, with what was left out on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct Track {
    /// Time from the first row, s; speed, km/h; height, m.
    pub log: SpeedLog,
    /// True when the receiver wrote no speed and it was taken from positions.
    pub from_positions: bool,
    /// Rows left out: no fix, no time, no speed, or out of order in time.
    pub left_out: usize,
}

impl Track {
    /// The log as delimited text with headers that name role and unit, for readers of logs.
    #[must_use]
    pub fn to_csv(&self) -> String {
        let with_height = !self.log.height_m.is_empty();
        let mut out = String::from(if with_height {
            "Time [s],Road speed [km/h],Height [m]\n"
        } else {
            "Time [s],Road speed [km/h]\n"
        });
        for (i, (t, v)) in self.log.time_s.iter().zip(&self.log.speed_kmh).enumerate() {
            out += &format!("{t},{v}");
            if with_height {
                let h = self.log.height_m.get(i).copied().filter(|h| h.is_finite());
                out += &h.map_or_else(|| ",".into(), |h| format!(",{h}"));
            }
            out.push('\n');
        }
        out
    }
}

/// True for bytes that look like a track rather than a delimited log.
#[must_use]
pub fn is_track(bytes: &[u8]) -> bool {
    let head = bytes.get(..4096).unwrap_or(bytes);
    let text = String::from_utf8_lossy(head);
    let start = text.trim_start_matches('\u{feff}').trim_start();
    (start.starts_with('<') && text.contains("<gpx")) || (start.starts_with('$') && text.contains("RMC,"))
}

/// Why a file is no track.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum TrackError {
    /// Neither GPX nor NMEA.
    #[error("{file}: this is neither a GPX file (`<gpx …>`) nor an NMEA 0183 log (`$…RMC,…`)")]
    Unknown {
        /// File.
        file: String,
    },
    /// Broken markup.
    #[error("{file}: GPX that cannot be read: {problem}")]
    Gpx {
        /// File.
        file: String,
        /// What the reader said.
        problem: String,
    },
    /// Nothing usable in it.
    #[error(
        "{file}: only {rows} rows have time and speed ({left_out} were left out); a track of a whole run is needed"
    )]
    TooFew {
        /// File.
        file: String,
        /// Usable rows.
        rows: usize,
        /// Rows left out.
        left_out: usize,
    },
}

/// Reads a track; the kind is told from its first bytes.
///
/// # Errors
/// [`TrackError`] when it is neither kind, broken, or holds fewer than five usable rows.
///
/// ```
/// let log = "$GPRMC,101500.00,A,5230.0000,N,01320.0000,E,54.00,90.0,110526,,,A*63\n".repeat(1);
/// assert!(fairpull_tracks::read(log.as_bytes(), "run.nmea").is_err()); // one row is no run
/// ```
pub fn read(bytes: &[u8], file: &str) -> Result<Track, TrackError> {
    let text = String::from_utf8_lossy(bytes);
    let head = text.trim_start_matches('\u{feff}').trim_start();
    let rows = if head.starts_with('<') && text.contains("<gpx") {
        gpx_track::rows(&text, file)?
    } else if text.lines().take(200).any(|l| l.trim_start().starts_with('$')) {
        nmea_track::rows(&text)
    } else {
        return Err(TrackError::Unknown { file: file.into() });
    };
    assemble(rows, file)
}

/// One row: absolute time, s; speed, m/s; position, degrees; height, m.
pub(crate) struct Row {
    pub time: Option<f64>,
    pub speed: Option<f64>,
    pub position: Option<(f64, f64)>,
    pub height: Option<f64>,
}

fn assemble(rows: Vec<Row>, file: &str) -> Result<Track, TrackError> {
    let written = rows.iter().filter(|r| r.speed.is_some()).count();
    let from_positions = 2 * written < rows.len();
    let mut log = SpeedLog::default();
    let mut left_out = 0;
    let mut first = None;
    let mut before: Option<(f64, (f64, f64))> = None;
    for r in &rows {
        let last = log.time_s.last().copied();
        let start = *first.get_or_insert_with(|| r.time.unwrap_or(f64::NAN));
        let Some(t) =
            r.time.filter(|t| t.is_finite()).map(|t| t - start).filter(|t| last.is_none_or(|l| *t > l))
        else {
            left_out += 1;
            if first.is_some_and(f64::is_nan) {
                first = None;
            }
            continue;
        };
        let speed = if from_positions {
            match (r.position, before) {
                (Some(p), Some((t0, q))) => Some(sphere::distance(q, p) / (t - t0)),
                _ => None,
            }
        } else {
            r.speed
        };
        if let Some(p) = r.position {
            before = Some((t, p));
        }
        match speed.filter(|v| v.is_finite() && (0.0..200.0).contains(v)) {
            Some(v) => {
                log.time_s.push(t);
                log.speed_kmh.push(v * 3.6);
                log.height_m.push(r.height.unwrap_or(f64::NAN));
            }
            None => left_out += 1,
        }
    }
    if log.time_s.len() < 5 {
        return Err(TrackError::TooFew { file: file.into(), rows: log.time_s.len(), left_out });
    }
    if log.height_m.iter().all(|h| h.is_nan()) {
        log.height_m.clear();
    }
    Ok(Track { log, from_positions, left_out })
}
