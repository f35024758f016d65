//! Names of columns: the unit inside a name, a row of units, and which column a name in the job file means.

use fairpull_units::{Dimension, Unit};

use crate::RecordingError;
use crate::layout::Column;

/// A name in the header, taken apart.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Name {
    /// As the header writes it.
    pub full: String,
    /// Without a unit in brackets.
    pub bare: String,
    /// What stands in the brackets.
    pub bracket: Option<String>,
}

impl Name {
    pub fn new(full: &str) -> Self {
        let full = full.trim().to_owned();
        let (bare, bracket) = match brackets(&full) {
            Some((bare, inner)) => (bare.to_owned(), Some(inner.to_owned())),
            None => (full.clone(), None),
        };
        Self { full, bare, bracket }
    }

    /// The last word, when it could be a unit: `Speed km/h`, `speed_kmh`, `Speed, km/h`; and the name before it.
    fn last_word(&self) -> Option<(&str, &str)> {
        let at = self.full.rfind([' ', '_', ','])?;
        let (name, word) = (self.full.get(..at)?, self.full.get(at + 1..)?);
        let name = name.trim_end_matches([' ', '_', ',', '-', ':']);
        let numbered = word.bytes().all(|b| b.is_ascii_digit());
        (!word.is_empty() && !name.is_empty() && !numbered).then_some((name, word))
    }

    /// Unit written without brackets at the end of the name, or as the whole name (`rpm`).
    pub fn loose_unit(&self, dimension: Dimension) -> Option<&'static Unit> {
        if let Some((_, word)) = self.last_word()
            && let Some(unit) = Unit::find_in(word, dimension)
        {
            return Some(unit);
        }
        Unit::find_in(&self.full, dimension)
    }

    /// The name without brackets and without a unit at its end.
    fn without_unit(&self, dimension: Dimension) -> &str {
        match self.last_word() {
            Some((name, word)) if self.bracket.is_none() && Unit::find_in(word, dimension).is_some() => name,
            _ => &self.bare,
        }
    }
}

/// `Boost [bar]` to `Boost` and `bar`; round brackets only where a unit stands in them.
fn brackets(full: &str) -> Option<(&str, &str)> {
    for (open, close) in [('[', ']'), ('{', '}'), ('<', '>'), ('(', ')')] {
        let Some(body) = full.strip_suffix(close) else { continue };
        // `p [bar(g)]` ends in `]`; `p bar(g)` must not be cut at its own bracket.
        let Some(at) = matching(body, open, close) else { continue };
        let (bare, inner) = (body.get(..at)?.trim(), body.get(at + open.len_utf8()..)?.trim());
        if bare.is_empty()
            || (open == '('
                && (Unit::find(inner).is_none() || body.get(..at)?.trim_end().len() == at && glued(bare)))
        {
            continue;
        }
        return Some((bare, inner));
    }
    None
}

/// Position of the bracket that the end of `body` closes.
fn matching(body: &str, open: char, close: char) -> Option<usize> {
    let mut depth = 0_u32;
    for (i, c) in body.char_indices().rev() {
        if c == close {
            depth += 1;
        } else if c == open {
            if depth == 0 {
                return Some(i);
            }
            depth -= 1;
        }
    }
    None
}

/// True when the last word before a glued bracket is itself a pressure unit: `p bar(g)`.
fn glued(bare: &str) -> bool {
    bare.rsplit([' ', '_']).next().and_then(Unit::find).is_some_and(|u| u.dimension() == Dimension::Pressure)
}

/// True when a row holds units rather than names.
pub(crate) fn is_units_row(cells: &[String]) -> bool {
    let (mut units, mut others) = (0, 0);
    for cell in cells.iter().map(|c| unbracket(c)).filter(|c| !c.is_empty()) {
        let filler = cell.chars().all(|c| matches!(c, '-' | '–' | '.' | '/'));
        if Unit::find(cell).is_some() || clock_pattern(cell) {
            units += 1;
        } else if !filler {
            others += 1;
        }
    }
    units > others
}

/// `[km/h]` to `km/h`.
pub(crate) fn unbracket(cell: &str) -> &str {
    let cell = cell.trim();
    for (open, close) in [('[', ']'), ('{', '}'), ('<', '>'), ('(', ')')] {
        if let Some(inner) = cell.strip_prefix(open).and_then(|c| c.strip_suffix(close)) {
            return inner.trim();
        }
    }
    cell
}

/// `hh:mm:ss.fff` as a row of units writes it.
pub(crate) fn clock_pattern(text: &str) -> bool {
    let lower = text.to_ascii_lowercase();
    lower.contains("mm:ss")
        && lower.chars().all(|c| matches!(c, 'h' | 'm' | 's' | 'f' | 'x' | 'z' | '0' | ':' | '.' | ',' | ' '))
}

/// Lower case, blanks made single.
pub(crate) fn fold(text: &str) -> String {
    let mut folded = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if !folded.is_empty() {
            folded.push(' ');
        }
        folded.extend(word.chars().map(crate::case::small));
    }
    folded
}

/// Index of the column that a layout's name means: as written, then without the unit, then
/// without regard to letter case.
pub(crate) fn locate(
    column: &Column,
    names: &[Name],
    file: &str,
    line: u64,
) -> Result<usize, RecordingError> {
    let wanted = column.name.trim();
    let folded = fold(wanted);
    let dimension = column.role.dimension();
    let ways: [&dyn Fn(&Name) -> bool; 3] =
        [&|n| n.full == wanted, &|n| n.bare == wanted || n.without_unit(dimension) == wanted, &|n| {
            [n.full.as_str(), &n.bare, n.without_unit(dimension)].into_iter().any(|t| fold(t) == folded)
        }];
    for way in ways {
        let fits: Vec<usize> = names.iter().enumerate().filter(|(_, n)| way(n)).map(|(i, _)| i).collect();
        match fits.as_slice() {
            [] => {}
            [one] => return Ok(*one),
            many => {
                return Err(RecordingError::DuplicateName {
                    file: file.into(),
                    line,
                    role: column.role,
                    name: column.name.clone(),
                    columns: many.iter().map(|i| i + 1).collect(),
                    names: many.iter().filter_map(|i| names.get(*i)).map(|n| n.full.clone()).collect(),
                });
            }
        }
    }
    Err(RecordingError::UnknownColumn {
        file: file.into(),
        line,
        role: column.role,
        name: column.name.clone(),
        nearest: nearest(&folded, names),
        all: names.iter().map(|n| n.full.clone()).collect(),
    })
}

/// The name that is fewest edits away, if at most half of it has to change.
fn nearest(wanted: &str, names: &[Name]) -> Option<String> {
    let a: Vec<char> = wanted.chars().take(64).collect();
    let distance = |text: &str| {
        let b: Vec<char> = fold(text).chars().take(64).collect();
        (edits(&a, &b), a.len().max(b.len()))
    };
    names
        .iter()
        .filter_map(|n| {
            let best = [distance(&n.full), distance(&n.bare)].into_iter().min()?;
            (best.0 * 2 <= best.1).then_some((best.0, n))
        })
        .min_by_key(|(d, _)| *d)
        .map(|(_, n)| n.full.clone())
}

/// Edit distance (Levenshtein), two rows of the table.
fn edits(a: &[char], b: &[char]) -> usize {
    let mut above: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut row = Vec::with_capacity(above.len());
        row.push(i + 1);
        for (y, pair) in b.iter().zip(above.windows(2)) {
            let left = row.last().copied().unwrap_or(0);
            if let [diagonal, up] = pair {
                row.push((diagonal + usize::from(x != y)).min(up + 1).min(left + 1));
            }
        }
        above = row;
    }
    above.last().copied().unwrap_or(0)
}
