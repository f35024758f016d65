//! Errors of the plain questions: field, value, problem, mend; the same facts on every door.

use fairpull_units::Quoted;
use serde::{Deserialize, Serialize};

/// Why a question has no answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[error("{field}{}: {problem}{}", shown(value), mended(mend))]
pub struct AskError {
    /// Field of the question, e.g. `pressure`.
    pub field: String,
    /// What was given, with its unit; empty when nothing was.
    pub value: String,
    /// What is wrong with it, and what was expected.
    pub problem: String,
    /// How to mend it; may be empty when the problem says it.
    pub mend: String,
}

fn shown(value: &str) -> String {
    if value.is_empty() { String::new() } else { format!(" {}", Quoted(value)) }
}

fn mended(mend: &str) -> String {
    if mend.is_empty() { String::new() } else { format!("; {mend}") }
}

impl AskError {
    /// A quantity that cannot be read.
    pub(crate) fn unreadable(field: &str, value: &str, e: &fairpull_units::ParseError) -> Self {
        let whole = e.to_string();
        // the message of the reader begins with the text, which this error shows anyway
        let lead = format!("{}: ", Quoted(value.trim()));
        let rest =
            whole.strip_prefix(&lead).or_else(|| whole.split_once("\": ").map(|(_, r)| r)).unwrap_or(&whole);
        let (problem, mend) = rest.split_once("; ").unwrap_or((rest, ""));
        Self::new(field, value, problem, mend)
    }

    /// An error about a field.
    #[must_use]
    pub fn new(field: &str, value: &str, problem: impl Into<String>, mend: impl Into<String>) -> Self {
        Self { field: field.into(), value: value.into(), problem: problem.into(), mend: mend.into() }
    }
}

/// The three entries of `all` that resemble `word` most.
#[must_use]
pub fn nearest(word: &str, all: &[&str]) -> String {
    let mut left: Vec<(&str, usize)> = all.iter().map(|a| (*a, distance(word, a))).collect();
    let mut found = Vec::new();
    while let Some(at) = (0..left.len()).min_by_key(|i| left[*i].1).filter(|_| found.len() < 3) {
        found.push(left.remove(at).0);
    }
    found.join(", ")
}

/// Edits that turn one word into the other.
fn distance(a: &str, b: &str) -> usize {
    let (a, b) = (a.to_ascii_lowercase(), b.to_ascii_lowercase());
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, y) in b.iter().enumerate() {
            let next = (diagonal + usize::from(x != *y)).min(row[j] + 1).min(row[j + 1] + 1);
            diagonal = row[j + 1];
            row[j + 1] = next;
        }
    }
    row[b.len()]
}
