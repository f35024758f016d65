//! Question: which column of this log is what?

use fairpull_recordings::{Guess, PressureReference, RecordingError, guess};
use serde::{Deserialize, Serialize};

/// Schema of [`ColumnsAnswer`].
pub const COLUMNS_SCHEMA: &str = "fairpull-columns-1";

/// A first guess at a log, for a person to check.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ColumnsAnswer {
    /// [`COLUMNS_SCHEMA`].
    pub schema: String,
    /// File.
    pub file: String,
    /// Encoding, separator and decimal sign in words.
    pub format: String,
    /// Columns in the order of the log.
    pub columns: Vec<ColumnEntry>,
    /// Tables for the job file.
    pub toml: String,
}

/// One column.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ColumnEntry {
    /// Name in the header.
    pub name: String,
    /// Unit, if stated or proposed.
    pub unit: Option<String>,
    /// Proposed role.
    pub role: Option<String>,
    /// How sure.
    pub confidence: String,
    /// Why.
    pub why: String,
    /// First cells.
    pub samples: Vec<String>,
}

/// Looks at a log and proposes a mapping.
///
/// # Errors
/// [`RecordingError`] when the log is empty, binary, or no table of numbers.
pub fn columns(bytes: &[u8], file: &str) -> Result<ColumnsAnswer, RecordingError> {
    let g = guess(bytes, file)?;
    let f = &g.format;
    Ok(ColumnsAnswer {
        schema: COLUMNS_SCHEMA.into(),
        file: file.into(),
        format: format!(
            "{}, separated by {}, decimal {}",
            f.encoding.words(),
            f.separator.words(),
            f.decimal.words()
        ),
        columns: g
            .columns
            .iter()
            .map(|c| ColumnEntry {
                name: c.name.clone(),
                unit: c.unit.clone(),
                role: c.role.map(|r| r.id().into()),
                confidence: c.confidence.words().into(),
                why: c.why.clone(),
                samples: c.samples.clone(),
            })
            .collect(),
        toml: tables(&g),
    })
}

/// The `[columns.…]` tables of a job file.
fn tables(g: &Guess) -> String {
    let mut out = String::new();
    for c in &g.columns {
        let Some(role) = c.role else {
            out += &format!("# not mapped: {} ({})\n\n", clean(&c.name), clean(&c.why));
            continue;
        };
        out += &format!(
            "# {}: {}\n[columns.{}]\nname = {}\n",
            c.confidence.words(),
            clean(&c.why),
            role.id(),
            quoted(&c.name)
        );
        if let Some(u) = &c.unit {
            out += &format!("unit = {}\n", quoted(u));
        }
        match c.reference {
            Some(PressureReference::Gauge) => out += "reference = \"gauge\"\n",
            Some(PressureReference::Absolute) => out += "reference = \"absolute\"\n",
            None if role.needs_reference() => {
                out += "reference = \"absolute\" # or \"gauge\": the log does not say\n"
            }
            None => {}
        }
        out.push('\n');
    }
    out
}

fn clean(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' => {
                out.push('\\');
                out.push(c);
            }
            c if c.is_control() => out += &format!("\\u{:04X}", u32::from(c)),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
