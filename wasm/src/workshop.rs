//! Logs to report.

use fairpull::recordings::RecordingError;
use fairpull::reduction::{Job, JobError, LogJob, ReduceError, reduce as reduce_job};
use fairpull::report::{JsonError, Language, ResultModel, curves_csv, summary_text_in, to_html_in, to_json};
use fairpull::{CoastDownQuestion, LogBytes, RoadLogQuestion, builtin, present};
use serde::Serialize;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::Fault;
use crate::questions::text;

#[wasm_bindgen]
extern "C" {
    /// Where logs come from and progress goes.
    pub type Bench;

    /// The bytes of a log by the name the job uses; an exception when there is none.
    #[wasm_bindgen(method, catch)]
    fn read(this: &Bench, name: &str) -> Result<Vec<u8>, JsValue>;

    /// Told how many logs of how many are done; answers whether to go on.
    #[wasm_bindgen(method)]
    fn progress(this: &Bench, done: u32, total: u32) -> bool;
}

fn thrown(fault: impl Into<Fault>) -> JsValue {
    let fault: Fault = fault.into();
    JsValue::from_str(&fault.json())
}

/// Looks at a log and proposes what each column is.
///
/// # Errors
/// The JSON text of a [`Fault`].
#[wasm_bindgen]
pub fn columns(bytes: &[u8], file: &str) -> Result<String, JsValue> {
    let answer = fairpull::columns(bytes, file).map_err(|e| thrown(recording(file, &e)))?;
    text(&answer).map_err(thrown)
}

/// What a job asks for: title, states with their logs, what it leaves to assumption.
///
/// # Errors
/// The JSON text of a [`Fault`] with line and column.
#[wasm_bindgen]
pub fn job(job: &str, file: &str) -> Result<String, JsValue> {
    let job = Job::parse(job, file).map_err(thrown)?;
    let log = |l: &LogJob| JobLog { file: l.file.clone(), skip: l.skip.clone() };
    let states = job.states.iter().map(|s| JobState {
        name: s.name.clone(),
        fuel: s.fuel.clone(),
        logs: s.logs.iter().map(log).collect(),
    });
    text(&JobAnswer {
        states: states.collect(),
        title: job.title,
        note: job.note,
        vehicle: job.vehicle.name,
        standard: job.standard,
        assumed: job.assumed,
    })
    .map_err(thrown)
}

#[derive(Serialize)]
struct JobAnswer {
    title: String,
    note: Option<String>,
    vehicle: String,
    standard: String,
    states: Vec<JobState>,
    assumed: Vec<String>,
}

#[derive(Serialize)]
struct JobState {
    name: String,
    fuel: Option<String>,
    logs: Vec<JobLog>,
}

#[derive(Serialize)]
struct JobLog {
    file: String,
    skip: Option<String>,
}

/// A finished job, in any form.
#[wasm_bindgen]
#[derive(Debug)]
pub struct Reduced {
    model: ResultModel,
}

#[wasm_bindgen]
impl Reduced {
    /// result.json.
    ///
    /// # Errors
    /// The JSON text of a [`Fault`] when a number is not finite.
    pub fn json(&self) -> Result<String, JsValue> {
        to_json(&self.model).map_err(thrown)
    }

    /// The report as one page.
    #[must_use]
    pub fn html(&self, language: &str) -> String {
        to_html_in(&self.model, spoken(language))
    }

    /// The curves.
    #[must_use]
    pub fn csv(&self) -> String {
        curves_csv(&self.model)
    }

    /// A summary for a terminal.
    #[must_use]
    pub fn text(&self, language: &str) -> String {
        summary_text_in(&self.model, 100, false, spoken(language))
    }
}

/// The main job.
///
/// # Errors
/// The JSON text of a [`Fault`] naming file, line, column or field.
#[wasm_bindgen]
pub fn reduce(job: &str, file: &str, bench: &Bench) -> Result<Reduced, JsValue> {
    let job = Job::parse(job, file).map_err(thrown)?;
    let catalogue = builtin();
    let mut read = |name: &str| bench.read(name).map_err(|_| MISSING.to_owned());
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let mut progress = |done, total| bench.progress(count(done), count(total));
    let outcome = reduce_job(&job, &catalogue, &mut read, &mut progress).map_err(thrown)?;
    Ok(Reduced { model: present(&job, &outcome, &catalogue) })
}

/// What the texts of a result are in another language, as JSON: English pattern and counterpart of each phrase, see
/// `Language::phrases` of `fairpull-report`. Empty for a language without phrases.
///
/// # Errors
/// The JSON text of a [`Fault`].
#[wasm_bindgen]
pub fn phrases(language: &str) -> Result<String, JsValue> {
    text(&spoken(language).phrases().collect::<Vec<_>>()).map_err(thrown)
}

/// Times and power of a road log, or of two in opposite directions: `there` and `back` are names that the bench reads.
///
/// # Errors
/// The JSON text of a [`Fault`].
#[wasm_bindgen]
pub fn road_log(question: &str, there: &str, back: Option<String>, bench: &Bench) -> Result<String, JsValue> {
    let question: RoadLogQuestion = crate::questions::read(question).map_err(thrown)?;
    let first = log(bench, there)?;
    let second = back.as_deref().map(|name| log(bench, name)).transpose()?;
    let other = back.as_deref().zip(second.as_deref());
    let answer = fairpull::road_log(&question, (there, &first), other).map_err(thrown)?;
    text(&answer).map_err(thrown)
}

/// Road load from coast-downs: times in the question, or logs of both directions that the bench reads.
///
/// # Errors
/// The JSON text of a [`Fault`].
#[wasm_bindgen]
pub fn road_coast_down(
    question: &str,
    there: Vec<String>,
    back: Vec<String>,
    bench: &Bench,
) -> Result<String, JsValue> {
    let question: CoastDownQuestion = crate::questions::read(question).map_err(thrown)?;
    let load = |names: &[String]| names.iter().map(|n| log(bench, n)).collect::<Result<Vec<_>, _>>();
    let (a, b) = (load(&there)?, load(&back)?);
    let first: Vec<LogBytes<'_>> =
        there.iter().map(String::as_str).zip(a.iter().map(Vec::as_slice)).collect();
    let second: Vec<LogBytes<'_>> =
        back.iter().map(String::as_str).zip(b.iter().map(Vec::as_slice)).collect();
    text(&fairpull::road_coast_down(&question, &first, &second).map_err(thrown)?).map_err(thrown)
}

fn log(bench: &Bench, name: &str) -> Result<Vec<u8>, JsValue> {
    bench.read(name).map_err(|_| thrown(Fault { file: name.into(), ..Fault::new("file", "", MISSING, "") }))
}

const MISSING: &str = "is not among the files given";

/// The report's language for a tag; English where there is no report in that language.
fn spoken(tag: &str) -> Language {
    tag.parse().unwrap_or_default()
}

fn recording(file: &str, e: &RecordingError) -> Fault {
    let full = e.to_string();
    let problem = full.strip_prefix(file).map_or(full.as_str(), |rest| rest.trim_start_matches([':', ' ']));
    Fault { file: file.into(), ..Fault::new("file", "", problem, "") }
}

impl From<JsonError> for Fault {
    fn from(e: JsonError) -> Self {
        Self::new("result", "", e.to_string(), "")
    }
}

impl From<JobError> for Fault {
    fn from(e: JobError) -> Self {
        Self {
            file: e.file,
            line: e.line,
            column: e.column,
            field: e.field,
            problem: e.problem,
            mend: e.mend,
            value: String::new(),
        }
    }
}

impl From<ReduceError> for Fault {
    fn from(e: ReduceError) -> Self {
        match e {
            ReduceError::Job(e) => e.into(),
            ReduceError::File { file, problem } => Self {
                file,
                ..Self::new(
                    "file",
                    "",
                    problem,
                    "give the log with the job, or leave it out with skip = \"reason\"",
                )
            },
            ReduceError::Log { file, problem, mend } => Self { file, ..Self::new("log", "", problem, &mend) },
            ReduceError::Unknown { what, id, nearest } => {
                Self::new(what, &id, "is not in the catalogue", &format!("nearest: {nearest}"))
            }
            ReduceError::Cancelled => Self::new("cancelled", "", "cancelled", ""),
            other => Self::new("job", "", other.to_string(), ""),
        }
    }
}
