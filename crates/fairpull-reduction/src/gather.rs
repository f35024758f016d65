//! Logs to fitted pulls.

use fairpull_recordings::RecordingError;

use crate::channels::{self, Readings};
use crate::delay;
use crate::job::{Job, LogJob};
use crate::job_error::JobError;
use crate::pull::PullFit;
use crate::segment::{self, Found};
use crate::source::Source;
use crate::stuck;
use crate::trace::Trace;
use crate::twins::{self, Print};
use crate::zero;

/// Why a job could be read but not reduced.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ReduceError {
    /// The job itself.
    #[error(transparent)]
    Job(#[from] JobError),
    /// A log could not be opened or read as a file.
    #[error("{file}: {problem}")]
    File {
        /// Log file.
        file: String,
        /// What the system said.
        problem: String,
    },
    /// A log is not a recording this program can read.
    #[error(transparent)]
    Recording(#[from] RecordingError),
    /// A log holds no usable pull.
    #[error("{file}: {problem}; {mend}")]
    Log {
        /// Log file.
        file: String,
        /// What is wrong.
        problem: String,
        /// How to mend it.
        mend: String,
    },
    /// A plug-in refused.
    #[error("{what}: {refusal}")]
    Refused {
        /// Plug-in and what was asked of it.
        what: String,
        /// Its answer.
        refusal: fairpull_core::Refusal,
    },
    /// An id is not in the catalogue.
    #[error("{what} {id:?} is not in the catalogue; nearest: {nearest}")]
    Unknown {
        /// Standard, loss model.
        what: &'static str,
        /// The id.
        id: String,
        /// Ids that resemble it.
        nearest: String,
    },
    /// The pulls have no common range of engine speed.
    #[error("the pulls share no range of engine speed: {0}; leave out the odd one with skip = \"reason\"")]
    NoOverlap(String),
    /// The work was cancelled.
    #[error("cancelled")]
    Cancelled,
}

/// A log as read: its trace, the pulls found in it, and what stands beside them.
pub(crate) struct Logged {
    pub state: usize,
    pub log: LogJob,
    pub trace: Trace,
    pub found: Vec<Found>,
    pub repairs: Vec<(String, usize, usize)>,
    pub readings: Vec<Vec<Readings>>,
    /// What was found wrong with the channels that carry the power.
    pub notes: Vec<String>,
    /// What each pull is known by.
    pub prints: Vec<Option<Print>>,
}

/// A fitted pull with what stands beside it.
pub(crate) struct Gathered {
    pub fit: PullFit,
    pub file: String,
    pub repairs: Vec<(String, usize, usize)>,
    pub readings: Vec<Readings>,
    pub log: LogJob,
    pub first_of_log: bool,
}

/// Reads one log and finds its pulls.
pub(crate) fn read(job: &Job, state: usize, log: &LogJob, source: Source) -> Result<Logged, ReduceError> {
    let mut rec = source.recording(&log.file, &job.layout)?;
    let refuse = |problem: &str, mend: &str| refusal(log, problem, mend);
    let mut trace = Trace::new(&mut rec, job)
        .ok_or_else(|| refuse("no row has a roller speed", "check the column mapped to roller_speed"))?;
    if trace.time.len() < 16 {
        return Err(refuse(
            &format!("only {} rows have a speed", trace.time.len()),
            "give a recording of a whole pull",
        ));
    }
    let mut notes = stuck::remove(&mut trace);
    let found = segment::find(&trace);
    if found.is_empty() {
        let fastest = trace.speed.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let slowest = trace.speed.iter().copied().fold(f64::INFINITY, f64::min);
        return Err(refuse(
            &format!(
                "no full-load pull was found: the speed runs from {:.1} to {:.1} km/h without a lasting rise",
                slowest * 3.6,
                fastest * 3.6
            ),
            "check the unit of the speed column, or leave the log out with skip = \"reason\"",
        ));
    }
    let repairs = rec
        .repairs
        .iter()
        .map(|r| {
            let what = match &r.column {
                Some(c) => format!("column \"{c}\": {}", r.kind.words()),
                None => r.kind.words().into(),
            };
            (what, usize::try_from(r.count).unwrap_or(usize::MAX), usize::try_from(r.first_line).unwrap_or(0))
        })
        .collect();
    let readings = found
        .iter()
        .map(|f| {
            let rows: Vec<(usize, f64)> =
                f.pull.clone().filter_map(|i| Some((trace.row(i)?, *trace.time.get(i)?))).collect();
            channels::collect(&rec, &rows, log.air.station.pascals())
        })
        .collect();
    let prints = twins::prints(&trace, &rec, &found);
    notes.extend(zero::remove(&mut trace, &found, job));
    Ok(Logged { state, log: log.clone(), trace, found, repairs, readings, notes, prints })
}

/// Fits every pull of a log.
pub(crate) fn fit(job: &Job, mut logged: Logged, delay: f64) -> Result<Vec<Gathered>, ReduceError> {
    delay::remove(&mut logged.trace, delay);
    for f in &mut logged.found {
        f.pull.start = settled(&logged.trace.time, f.pull.clone(), delay);
    }
    let several = logged.found.len() > 1;
    let mut out = Vec::new();
    for (k, (f, readings)) in logged.found.iter().zip(logged.readings).enumerate() {
        let file = &logged.log.file;
        let name = if several { format!("{file} pull {}", k + 1) } else { file.clone() };
        let mut fit = PullFit::new(&logged.trace, f, job, logged.state, name).map_err(|e| {
            refusal(
                &logged.log,
                &format!("pull {}: {e}", k + 1),
                "give a recording with more samples in the pull",
            )
        })?;
        if k == 0 {
            fit.flags.extend(logged.notes.iter().cloned());
        }
        if fit.coast.is_none() {
            fit.flags.push(format!("no coast-down of its own: {}", fit.coast_note));
        }
        out.push(Gathered {
            fit,
            file: file.clone(),
            repairs: if k == 0 { logged.repairs.clone() } else { Vec::new() },
            readings,
            log: logged.log.clone(),
            first_of_log: k == 0,
        });
    }
    Ok(out)
}

/// First row of a pull at which a force channel that is late by `delay` has forgotten the moment when the brake took up:
/// a first-order filter keeps a twentieth of a step after three of its time constants.
fn settled(time: &[f64], pull: core::ops::Range<usize>, delay: f64) -> usize {
    let from = time[pull.start] + 3.0 * delay;
    let first = pull.start + time[pull.clone()].partition_point(|t| *t < from);
    if first + 12 < pull.end { first } else { pull.start }
}

fn refusal(log: &LogJob, problem: &str, mend: &str) -> ReduceError {
    ReduceError::Log { file: log.file.clone(), problem: problem.into(), mend: mend.into() }
}
