//! Answers as JSON text: the bytes of `serde_json` (a test compares them), the digits of the standard library.
//!
//! Own code, for the browser modules: here everything that does not depend on the type written is one function, not a
//! copy for every type; one form of writer serves for both spacings; and the number printer of `serde_json` brings a
//! table of 10 kB that no compression makes smaller beside the standard library's, which is there in any case.

use core::fmt::{self, Display};

use serde::Serialize;

use crate::writer::Writer;
use crate::{Data, Node};

/// Why an answer is no JSON text.
#[derive(Clone, Debug, PartialEq)]
pub enum Unwritten {
    /// A number is infinite or not a number.
    NotFinite {
        /// Keys that lead to it, joined by dots, places in lists from 0.
        path: String,
    },
    /// A key is no text, or a type refused to be written.
    Refused {
        /// What was refused.
        message: String,
    },
}

impl Display for Unwritten {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFinite { path } => write!(f, "no finite number at `{path}`"),
            Self::Refused { message } => f.write_str(message),
        }
    }
}

impl core::error::Error for Unwritten {}

/// An answer as JSON text in one line; a number that is not finite becomes `null`.
///
/// # Errors
/// [`Unwritten::Refused`] when a map of the answer has keys that are no text.
pub fn compact<T: Serialize + ?Sized>(answer: &T) -> Result<String, Unwritten> {
    let mut writer = Writer::new(false);
    answer.serialize(&mut writer).map_err(|e| *e.0)?;
    Ok(writer.out)
}

/// An answer as indented JSON text.
///
/// # Errors
/// [`Unwritten::NotFinite`] when a number is infinite or not a number, [`Unwritten::Refused`] when a map of the answer
/// has keys that are no text.
pub fn pretty<T: Serialize + ?Sized>(answer: &T) -> Result<String, Unwritten> {
    let mut writer = Writer::new(true);
    answer.serialize(&mut writer).map_err(|e| *e.0)?;
    match writer.not_finite {
        None => Ok(writer.out),
        Some(at) => Err(Unwritten::NotFinite { path: path(&writer.out, at) }),
    }
}

/// Keys that lead to the value that begins at a byte of a text just written.
fn path(text: &str, at: usize) -> String {
    let mut path = String::new();
    let mut next = crate::json(text).ok();
    while let Some(node) = next {
        let holds = |n: &Node| n.span.contains(&at);
        next = match node.data {
            Data::Table(entries) => entries.into_iter().find(|(_, v)| holds(v)).map(|(key, value)| {
                path = format!("{path}{}{}", if path.is_empty() { "" } else { "." }, key.name);
                value
            }),
            Data::List(items) => {
                items.into_iter().enumerate().find(|(_, v)| holds(v)).map(|(place, value)| {
                    path = format!("{path}[{place}]");
                    value
                })
            }
            _ => None,
        };
    }
    path
}
