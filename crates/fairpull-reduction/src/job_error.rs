//! What is wrong with a job, where, and how to mend it.

use core::ops::Range;

/// Why a job file or one of its logs is refused.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{file}{}: {field}: {problem}{}", place(*line, *column), mend_words(mend))]
pub struct JobError {
    /// Job or log file.
    pub file: String,
    /// Line, from 1; 0 when the whole file is meant.
    pub line: usize,
    /// Column in characters, from 1; 0 when the whole line is meant.
    pub column: usize,
    /// Byte range in the job file.
    pub span: Range<usize>,
    /// Field, dotted, e.g. `rig.roller_inertia`.
    pub field: String,
    /// What is wrong, with the value and its unit.
    pub problem: String,
    /// How to mend it; may be empty when the problem says it.
    pub mend: String,
}

fn place(line: usize, column: usize) -> String {
    match (line, column) {
        (0, _) => String::new(),
        (l, 0) => format!(":{l}"),
        (l, c) => format!(":{l}:{c}"),
    }
}

fn mend_words(mend: &str) -> String {
    if mend.is_empty() { String::new() } else { format!("; {mend}") }
}

/// Where errors of one job file are made.
pub(crate) struct Site<'a> {
    pub file: &'a str,
    pub text: &'a str,
}

impl Site<'_> {
    pub(crate) fn error(
        &self,
        field: &str,
        span: Range<usize>,
        problem: impl Into<String>,
        mend: impl Into<String>,
    ) -> JobError {
        let before = self.text.get(..span.start.min(self.text.len())).unwrap_or("");
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().map_or(0, |l| l.chars().count()) + 1;
        JobError {
            file: self.file.into(),
            line,
            column,
            span,
            field: field.into(),
            problem: problem.into(),
            mend: mend.into(),
        }
    }
}
