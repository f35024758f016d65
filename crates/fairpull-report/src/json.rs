//! The model as JSON, and back.

use crate::model::{ResultModel, SCHEMA};
use fairpull_tree::Unwritten;

/// Why JSON was not written or not taken.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum JsonError {
    /// A number of the result is not finite; JSON cannot carry it and a report must not.
    #[error(
        "result has no finite number at `{path}`: every figure must be a number before it is written; this is a fault of the calculation, not of the input"
    )]
    NotFinite {
        /// Keys from the top, joined by dots.
        path: String,
    },
    /// The text is not JSON or lacks a key.
    #[error(
        "result JSON, line {line}, column {column}: {what}; expected the keys of docs/result-schema.json"
    )]
    Shape {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What is wrong there.
        what: String,
    },
    /// Another schema, or another version of it.
    #[error(
        "result JSON has schema `{got}`, expected `{SCHEMA}`: read it with the version of fairpull that wrote it, or reduce the job again"
    )]
    Schema {
        /// The schema the text names.
        got: String,
    },
}

/// The model as JSON, indented, with a final line feed; numbers are the shortest that read back to the same bits.
///
/// # Errors
/// [`JsonError::NotFinite`] when a number is infinite or not a number.
pub fn to_json(result: &ResultModel) -> Result<String, JsonError> {
    let mut text = fairpull_tree::pretty(result).map_err(|e| match e {
        Unwritten::NotFinite { path } => JsonError::NotFinite { path },
        Unwritten::Refused { message } => JsonError::Shape { line: 0, column: 0, what: message },
    })?;
    text.push('\n');
    Ok(text)
}

/// The model from JSON.
///
/// # Errors
/// [`JsonError::Schema`] for another schema, [`JsonError::Shape`] for text that does not fit it.
pub fn from_json(text: &str) -> Result<ResultModel, JsonError> {
    #[derive(serde::Deserialize)]
    struct Name {
        schema: String,
    }
    let shape = |e: serde_json::Error| {
        let whole = e.to_string();
        let what = whole.rsplit_once(" at line ").map_or(whole.as_str(), |(what, _)| what).to_owned();
        JsonError::Shape { line: e.line(), column: e.column(), what }
    };
    let name: Name = serde_json::from_str(text).map_err(shape)?;
    if name.schema != SCHEMA {
        return Err(JsonError::Schema { got: name.schema });
    }
    serde_json::from_str(text).map_err(shape)
}
