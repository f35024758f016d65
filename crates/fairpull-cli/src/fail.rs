//! Why a command stops, and how it says so.

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use fairpull::reduction::{JobError, ReduceError};
use fairpull::report::escape::clean_line;
use fairpull::units::Quoted;

use crate::{brief, out, place};

/// Why a command stops.
pub enum Fail {
    /// The reader of standard output went away; nobody is left to be told.
    Pipe,
    /// The input was refused.
    Refused(String),
    /// The command was used wrongly.
    Usage(String),
    /// Parts of the input were refused, each for a reason of its own.
    Parts(Vec<String>),
    /// A job file was refused at a place that can be shown.
    Job(Box<JobError>, String),
    /// What there is to say has been said.
    Told,
}

impl Fail {
    /// A refusal in plain words.
    pub fn plain(text: impl Into<String>) -> Self {
        Self::Refused(text.into())
    }

    /// A refusal at a place of the job file.
    pub fn at(
        job: &str,
        file: &str,
        span: core::ops::Range<usize>,
        field: &str,
        problem: &str,
        mend: &str,
    ) -> Self {
        let before = job.get(..span.start).unwrap_or("");
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().map_or(0, |l| l.chars().count()) + 1;
        let error = JobError {
            file: file.into(),
            line,
            column,
            span,
            field: field.into(),
            problem: problem.into(),
            mend: mend.into(),
        };
        Self::Job(Box::new(error), job.into())
    }

    /// Done, unless parts of the input were refused.
    pub fn unless(refused: Vec<String>) -> Result<(), Self> {
        if refused.is_empty() { Ok(()) } else { Err(Self::Parts(refused)) }
    }

    /// A log that cannot be read, at the place where the job names it.
    pub fn log(job: &str, file: &str, span: core::ops::Range<usize>, why: &str) -> Self {
        let (problem, mend) = why.split_once(": ").unwrap_or((why, ""));
        Self::at(job, file, span, "state.log.file", problem, mend)
    }

    /// A refused reduction; `job` is the text of the job file `file`.
    pub fn reduction(error: ReduceError, job: &str, file: &str) -> Self {
        match error {
            ReduceError::Job(e) => Self::Job(Box::new(e), job.into()),
            ReduceError::Unknown { what, ref id, ref nearest } => match place::of(job, what, id) {
                Some(span) => {
                    let problem = format!("{} is not in the catalogue", Quoted(id));
                    Self::at(job, file, span, what, &problem, &format!("nearest: {nearest}"))
                }
                None => Self::Refused(error.to_string()),
            },
            ReduceError::File { file: ref log, ref problem } => match place::of(job, "state.log.file", log) {
                Some(span) => Self::log(job, file, span, problem),
                None => Self::Refused(error.to_string()),
            },
            other => Self::Refused(other.to_string()),
        }
    }

    /// Writes a remark to standard error.
    pub fn note(text: &str) {
        out::told(&format!("note: {}", said(text)));
    }

    /// Exit status.
    pub const fn status(&self) -> u8 {
        match self {
            Self::Pipe => 0,
            Self::Refused(_) | Self::Parts(_) | Self::Job(..) | Self::Told => 1,
            Self::Usage(_) => 2,
        }
    }

    /// Writes the reason to standard error, in colour only on a terminal.
    pub fn print(&self) {
        if self.words(false).is_some() {
            out::told_styled(|colour| self.words(colour).unwrap_or_default());
        }
    }

    /// The reason as it is shown, if there is anything to say.
    pub fn words(&self, colour: bool) -> Option<String> {
        match self {
            Self::Pipe | Self::Told => None,
            Self::Refused(text) | Self::Usage(text) => Some(format!("error: {}", said(text))),
            Self::Parts(all) => {
                let lines: Vec<String> = all.iter().map(|t| format!("error: {}", said(t))).collect();
                Some(lines.join("\n"))
            }
            Self::Job(e, source) => Some(shown(e, source, colour)),
        }
    }
}

impl From<fairpull::AskError> for Fail {
    fn from(e: fairpull::AskError) -> Self {
        Self::Refused(e.to_string())
    }
}

impl From<fairpull_archive::ArchiveError> for Fail {
    fn from(e: fairpull_archive::ArchiveError) -> Self {
        Self::Refused(e.to_string())
    }
}

/// One line that can be read.
fn said(text: &str) -> String {
    clean_line(&brief::message(text))
}

fn shown(e: &JobError, source: &str, colour: bool) -> String {
    let title = said(&format!("{}: {}", e.field, e.problem));
    let (file, mend) = (clean_line(&e.file), said(&e.mend));
    let end = e.span.end.min(source.len());
    let start = e.span.start.min(end);
    let whole = source.is_char_boundary(start) && source.is_char_boundary(end);
    if start == end || !whole {
        return format!("error: {}", said(&e.to_string()));
    }
    let snippet = Snippet::source(source)
        .path(file.as_str())
        .annotation(AnnotationKind::Primary.span(start..end).label(mend.as_str()));
    let report = [Level::ERROR.primary_title(title.as_str()).element(snippet)];
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    renderer.render(&report).clone()
}
