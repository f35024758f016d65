//! A first guess at the columns of a log, for a person to check.

use std::io::Cursor;

use fairpull_units::{Dimension, Reference, Unit, units_of};
use serde::Serialize;

use crate::feed::{Feed, Input};
use crate::header::{Name, clock_pattern, unbracket};
use crate::number::{self, Cell};
use crate::read::{clip, header, open};
use crate::resolve::Header;
use crate::sniff::sniff;
use crate::text::{cell, split_first};
use crate::words::{BARE, WORDS, fit, words_of};
use crate::{Format, Layout, PressureReference, RecordingError, Role, clock};

/// Cells looked at, at most, where a log has thousands of columns.
const CELLS: usize = 4_000_000;

/// How sure a guess is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Confidence {
    /// Nothing but the unit points to the role.
    Low,
    /// The name fits and the log states no unit, or the name is a broad one, or it says only where and the unit decides.
    Medium,
    /// Name and unit fit.
    High,
}

impl Confidence {
    /// `low`, `medium` or `high`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Low => "low",
            Self::Medium => "medium",
            Self::High => "high",
        }
    }
}

/// What is guessed of one column.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct GuessedColumn {
    /// Column, counted from 1.
    pub number: usize,
    /// Name as the header writes it.
    pub name: String,
    /// Unit as the log writes it, or the one proposed.
    pub unit: Option<String>,
    /// True when the log itself states the unit.
    pub unit_in_log: bool,
    /// Proposed role.
    pub role: Option<Role>,
    /// How sure it is.
    pub confidence: Confidence,
    /// Gauge or absolute, where the log says so.
    pub reference: Option<PressureReference>,
    /// Why this role, or why none; what to check.
    pub why: String,
    /// A few cells as written.
    pub samples: Vec<String>,
}

/// A first guess at a log.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Guess {
    /// Name the log was read under.
    pub file: String,
    /// How its text is written.
    pub format: Format,
    /// Its columns, in their order.
    pub columns: Vec<GuessedColumn>,
}

/// Detects the format of a log and proposes a role for each column. Nothing of it is used without a person's say:
/// [`read`](crate::read()) only reads what a layout maps.
///
/// # Errors
/// A [`RecordingError`] when the file is empty, binary, or holds no table of numbers.
///
/// ```
/// use fairpull_recordings::{Role, guess};
/// let log = "Time [s],Engine Speed [rpm]\n0.0,2500\n0.1,2600\n";
/// let guess = guess(log.as_bytes(), "pull-1.csv")?;
/// assert_eq!(guess.columns[1].role, Some(Role::EngineSpeed));
/// # Ok::<(), fairpull_recordings::RecordingError>(())
/// ```
pub fn guess(bytes: &[u8], file: &str) -> Result<Guess, RecordingError> {
    guess_from(&mut Cursor::new(bytes), file)
}

/// The same for a file, which is read once to see how its text is encoded, but not held.
///
/// # Errors
/// As [`guess`], and [`RecordingError::Unreadable`] when the input cannot be read.
pub fn guess_from(input: &mut dyn Input, file: &str) -> Result<Guess, RecordingError> {
    open(input, file, None, &mut |feed| {
        let guessed = guess_at(feed, file);
        feed.drain();
        guessed
    })
}

fn guess_at(feed: &mut Feed<'_>, file: &str) -> Result<Guess, RecordingError> {
    let text = feed.head()?;
    let sniffed = sniff(&text, file, &Layout::default())?;
    let header = header(&sniffed, &text, file);
    let separator = sniffed.format.separator.byte();
    let encoding = text.encoding;
    feed.pass(sniffed.data)?;
    let width = header.names.len();
    // fewer where they are so wide that so many would fill the memory
    let most = (CELLS / width.max(1)).clamp(20, 200);
    let mut rows: Vec<Vec<String>> = Vec::new();
    while let Some(piece) = feed.next()?
        && rows.len() < most
    {
        let lines = piece.bytes.split(|b| *b == b'\n').map(|l| l.strip_suffix(b"\r").unwrap_or(l));
        let full = lines.filter(|l| !l.trim_ascii().is_empty()).take(most - rows.len());
        rows.extend(full.map(|l| -> Vec<String> {
            split_first(l, separator, width)
                .iter()
                .map(|c| cell(&c.bytes, encoding).trim().to_owned())
                .collect()
        }));
    }
    let mut columns: Vec<GuessedColumn> = Vec::new();
    let mut scores: Vec<usize> = Vec::new();
    for (i, name) in header.names.iter().enumerate() {
        let cells: Vec<&str> = rows.iter().filter_map(|r| r.get(i)).map(String::as_str).collect();
        let (column, score) = column(i, name, &header, &cells, &sniffed.format);
        columns.push(column);
        scores.push(score);
    }
    keep_best(&mut columns, &scores);
    Ok(Guess { file: file.into(), format: sniffed.format, columns })
}

fn column(
    index: usize,
    name: &Name,
    header: &Header<'_>,
    cells: &[&str],
    format: &Format,
) -> (GuessedColumn, usize) {
    let unit_cell = header.units.get(index).map(|u| unbracket(u)).filter(|u| !u.is_empty());
    let written = unit_cell.or(name.bracket.as_deref()).filter(|t| !clock_pattern(t));
    let values: Vec<f64> = cells
        .iter()
        .filter_map(|c| match number::read(c.as_bytes(), format.decimal, None) {
            Cell::Number(x) => Some(x),
            _ => None,
        })
        .collect();
    let clocked = cells.first().is_some_and(|c| clock::seconds(c.as_bytes()).is_some());
    let best = best_role(name, written, clocked);
    let mut out = GuessedColumn {
        number: index + 1,
        name: name.full.clone(),
        unit: written.map(str::to_owned),
        unit_in_log: written.is_some(),
        role: None,
        confidence: Confidence::Low,
        reference: None,
        why: "no word in the name points to a role".into(),
        samples: cells.iter().take(3).map(|c| clip(c)).collect(),
    };
    if values.is_empty() && !clocked {
        out.why = "holds no numbers".into();
        return (out, 0);
    }
    let (role, score, word, by_unit) = match (best, written) {
        (Some((role, score, word)), _) => (role, score, word, None),
        (None, Some(unit)) => match bare_role(name, unit) {
            Some((role, score, word)) => (role, score, word, Some(unit)),
            None => return (out, 0),
        },
        (None, None) => return (out, 0),
    };
    out.role = Some(role);
    out.confidence = if by_unit.is_some() { Confidence::Medium } else { Confidence::High };
    out.why = format!("\"{word}\" in the name");
    if let Some(unit) = by_unit {
        out.why += &format!(" says no more than where; the unit {unit} decided: check");
    }
    let unit = match written {
        Some(text) => Unit::find_in(text, role.dimension()),
        None => name.loose_unit(role.dimension()),
    };
    match unit {
        Some(u) => {
            out.unit.get_or_insert_with(|| u.symbol().into());
            out.unit_in_log = true;
            out.reference = match u.reference() {
                Reference::Gauge => Some(PressureReference::Gauge),
                Reference::Absolute => Some(PressureReference::Absolute),
                Reference::Unstated => None,
            };
        }
        None if clocked || matches!(role, Role::Gear | Role::Lambda) => {}
        None => {
            out.confidence = Confidence::Medium;
            let proposed = propose_unit(role, &values);
            out.why += &proposed.map_or_else(
                || "; the log states no unit and the values do not tell".to_owned(),
                |u| format!("; the log states no unit, the values look like {u}: check"),
            );
            out.unit = proposed.map(|u| u.symbol().to_owned());
        }
    }
    if role == Role::RoadSpeed && !words_of(&name.full).iter().any(|w| w == "road" || w == "gps") {
        out.confidence = Confidence::Medium;
        out.why += "; write roller_speed if it is the rig's own roller";
    }
    if role.needs_reference() && out.reference.is_none() {
        out.confidence = Confidence::Medium;
        out.why += "; gauge or absolute? state it";
    }
    (out, score)
}

/// The role whose words cover most letters of the name and whose dimension the unit allows.
fn best_role(name: &Name, written: Option<&str>, clocked: bool) -> Option<(Role, usize, String)> {
    let words = words_of(&name.bare);
    let mut best: Option<(Role, usize, String)> = None;
    let known = written.is_some_and(|text| Unit::find(text).is_some());
    for (role, groups) in WORDS {
        let allowed = || match written {
            Some(text) => !known || Unit::find_in(text, role.dimension()).is_some(),
            None => !clocked || *role == Role::Time,
        };
        for group in *groups {
            if let Some(score) = fit(&words, group)
                && best.as_ref().is_none_or(|b| score > b.1)
                && allowed()
            {
                let shown =
                    group.iter().filter(|g| !g.starts_with('!')).copied().collect::<Vec<_>>().join(" ");
                best = Some((*role, score, shown));
            }
        }
    }
    best
}

/// The role of a name that says only where: the unit must be one of the role's.
fn bare_role(name: &Name, unit: &str) -> Option<(Role, usize, String)> {
    let words = words_of(&name.bare);
    BARE.iter().find_map(|(role, groups)| {
        Unit::find_in(unit, role.dimension())?;
        let group = groups.iter().find(|g| g.iter().copied().eq(words.iter().map(String::as_str)))?;
        Some((*role, group.iter().map(|w| w.len()).sum(), group.join(" ")))
    })
}

/// The first usual unit under which every value is possible and the largest is large enough.
fn propose_unit(role: Role, values: &[f64]) -> Option<&'static Unit> {
    let top = values.iter().fold(0.0_f64, |a, v| a.max(v.abs()));
    if role == Role::Time {
        // A log of a pull lasts seconds to an hour and has 1 to 1000 rows a second.
        let step = crate::timeline::median_interval(values);
        return units_of(Dimension::Time).find(|u| (0.0009..=1.01).contains(&u.to_si(step)));
    }
    let (low, high) = role.range(None);
    units_of(role.dimension()).filter(|u| u.reference() == Reference::Unstated).find(|u| {
        let possible = values.iter().all(|v| (low..=high).contains(&u.to_si(*v)));
        possible && u.to_si(top).abs() >= role.traits().reaches
    })
}

/// A role is proposed once: the best-fitting column keeps it, the first one at a draw.
fn keep_best(columns: &mut [GuessedColumn], scores: &[usize]) {
    for role in Role::ALL {
        let holders = columns.iter().zip(scores).enumerate().filter(|(_, (c, _))| c.role == Some(*role));
        let rank = |(i, (c, s)): (usize, (&GuessedColumn, &usize))| (c.confidence, *s, core::cmp::Reverse(i));
        let Some((_, _, core::cmp::Reverse(keeper))) = holders.map(rank).max() else { continue };
        let kept = columns.get(keeper).map(|c| c.name.clone()).unwrap_or_default();
        for (i, c) in columns.iter_mut().enumerate() {
            if i != keeper && c.role == Some(*role) {
                c.role = None;
                c.why = format!("could be {role} as well, but \"{kept}\" fits better; map it by hand if not");
            }
        }
    }
}

impl Guess {
    /// A block for the job file under the given table name, ready to be checked by a person: what the log does not
    /// say is left as a comment to be filled in.
    #[must_use]
    pub fn toml(&self, table: &str) -> String {
        let mut out = format!("[{table}]\ncolumns = [\n");
        for c in &self.columns {
            let Some(role) = c.role else {
                let samples = c.samples.join("  ");
                out += &format!(
                    "  # column {} {}: {} ({})\n",
                    c.number,
                    quoted(&c.name),
                    one_line(&c.why),
                    one_line(&samples)
                );
                continue;
            };
            out += &format!("  {{ role = \"{}\", name = {}", role.id(), quoted(&c.name));
            if let (Some(u), false) = (&c.unit, c.unit_in_log) {
                out += &format!(", unit = {}", quoted(u));
            }
            out += &format!(" }}, # {}: {}\n", c.confidence.words(), one_line(&c.why));
        }
        out + "]\n"
    }
}

/// Text without line ends and other control characters, for a comment.
fn one_line(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// A basic string of TOML.
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
