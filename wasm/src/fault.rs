//! Errors as they cross to JavaScript.

use fairpull::AskError;
use fairpull_tree::Unwritten;
use serde::Serialize;

/// Why there is no answer, with the facts apart so that a page can put each where it belongs.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Fault {
    /// Field of the question; for a job the dotted key.
    pub field: String,
    /// What was given, with its unit; empty when nothing was.
    pub value: String,
    /// What is wrong with it, and what was expected.
    pub problem: String,
    /// How to mend it; may be empty when the problem says it.
    pub mend: String,
    /// File concerned; empty when none is.
    pub file: String,
    /// Line in the file, from 1; 0 when the whole file is meant.
    pub line: usize,
    /// Column in the line, from 1; 0 when the whole line is meant.
    pub column: usize,
}

impl Fault {
    /// A fault of a field.
    #[must_use]
    pub fn new(field: &str, value: &str, problem: impl Into<String>, mend: &str) -> Self {
        Self {
            field: field.into(),
            value: value.into(),
            problem: problem.into(),
            mend: mend.into(),
            ..Self::default()
        }
    }

    /// As JSON text.
    #[must_use]
    pub fn json(&self) -> String {
        // a struct of texts and whole numbers always has a JSON form
        fairpull_tree::compact(self).unwrap_or_default()
    }
}

impl From<AskError> for Fault {
    fn from(e: AskError) -> Self {
        Self { field: e.field, value: e.value, problem: e.problem, mend: e.mend, ..Self::default() }
    }
}

impl From<Unwritten> for Fault {
    fn from(e: Unwritten) -> Self {
        Self::new("answer", "", e.to_string(), "")
    }
}
