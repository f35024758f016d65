//! Words to units: exact spelling first, then any letter case where that is unambiguous.

use crate::unit::Unit;
use crate::{Dimension, units};
use alloc::vec::Vec;

/// Letters that count when two unit words are compared: blanks, brackets, dots, dashes and carets do not, raised
/// digits are digits, a degree sign is `deg`.
fn key(word: &str) -> impl Iterator<Item = char> + Clone + '_ {
    word.chars().flat_map(|c| {
        let (a, b): (&'static str, Option<char>) = match c {
            '°' | 'º' => ("deg", None),
            '℃' => ("degC", None),
            '℉' => ("degF", None),
            '²' => ("2", None),
            '³' => ("3", None),
            '¹' => ("1", None),
            'µ' | 'μ' => ("u", None),
            '·' | '⋅' | '•' | '×' | '*' | '.' | '^' | '_' | '(' | ')' | '[' | ']' | '-' | '−' | '‑' | '⁻' => {
                ("", None)
            }
            c if c.is_whitespace() => ("", None),
            c => ("", Some(c)),
        };
        a.chars().chain(b)
    })
}

fn same(a: &str, b: &str) -> bool {
    key(a).eq(key(b))
}

/// Same but for letter case. A capital `M` at the head stays apart from `m`: `mW` never becomes a megawatt.
fn same_but_case(word: &str, known: &str) -> bool {
    let head = known.chars().next();
    (head != Some('M') || word.starts_with('M'))
        && key(word).map(|c| c.to_ascii_lowercase()).eq(key(known).map(|c| c.to_ascii_lowercase()))
}

fn words(unit: &'static Unit) -> impl Iterator<Item = &'static str> {
    core::iter::once(unit.symbol).chain(unit.aliases.iter().copied())
}

fn search(word: &str, wanted: impl Fn(&Unit) -> bool) -> Option<&'static Unit> {
    // Cells and separators come here by the million; no unit word holds these, or begins with another digit than 1.
    if word.contains([';', ',', ':', '|', '\t'])
        || word.starts_with(|c: char| ('2'..='9').contains(&c) || c == '0')
    {
        return None;
    }
    key(word).next()?;
    let candidates = || units().filter(|u| wanted(u));
    if let Some(u) = candidates().find(|u| words(u).any(|w| same(word, w))) {
        return Some(u);
    }
    let mut loose = candidates().filter(|u| words(u).any(|w| same_but_case(word, w)));
    let first = loose.next()?;
    loose.all(|u| u.dimension == first.dimension && u.factor() == first.factor()).then_some(first)
}

impl Unit {
    /// The unit that a word means, whatever it measures. Where a word serves two dimensions (`g`, `lb`, `K`) the
    /// commoner one is meant: mass and temperature; [`Unit::find_in`] reads it as the other.
    ///
    /// ```
    /// use fairpull_units::{Dimension, Reference, Unit};
    /// assert_eq!(Unit::find("lb-ft").map(|u| u.symbol()), Some("lbf·ft"));
    /// assert_eq!(Unit::find("bar(g)").map(|u| u.reference()), Some(Reference::Gauge));
    /// assert_eq!(Unit::find("gal"), None); // US or UK?
    /// ```
    #[must_use]
    pub fn find(word: &str) -> Option<&'static Self> {
        const SECOND: [Dimension; 3] =
            [Dimension::TemperatureDifference, Dimension::Acceleration, Dimension::Force];
        search(word, |u| !SECOND.contains(&u.dimension)).or_else(|| search(word, |_| true))
    }

    /// The unit of one dimension that a word means.
    ///
    /// ```
    /// use fairpull_units::{Dimension, Unit};
    /// assert_eq!(Unit::find_in("g", Dimension::Acceleration).map(|u| u.factor()), Some(9.80665));
    /// ```
    #[must_use]
    pub fn find_in(word: &str, dimension: Dimension) -> Option<&'static Self> {
        search(word, |u| u.dimension == dimension)
    }
}

/// The known word nearest to a misspelt one: at most two edits away and less than half of it changed.
pub(crate) fn nearest(word: &str, dimension: Option<Dimension>) -> Option<&'static str> {
    let wrong: Vec<char> = key(word).take(24).map(|c| c.to_ascii_lowercase()).collect();
    let mut best: Option<(usize, &'static str)> = None;
    for unit in units().filter(|u| dimension.is_none_or(|d| u.dimension == d)) {
        for w in words(unit) {
            let known: Vec<char> = key(w).map(|c| c.to_ascii_lowercase()).collect();
            let d = edits(&wrong, &known);
            if d <= 2 && 2 * d < wrong.len().max(known.len()) && best.is_none_or(|(b, _)| d < b) {
                best = Some((d, if w.is_ascii() || unit.symbol.is_ascii() { w } else { unit.symbol }));
            }
        }
    }
    best.map(|(_, w)| w)
}

/// Levenshtein distance.
fn edits(a: &[char], b: &[char]) -> usize {
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.iter().enumerate() {
        let mut diagonal = i;
        let mut left = i + 1;
        for (cb, cell) in b.iter().zip(row.iter_mut().skip(1)) {
            let here = (diagonal + usize::from(ca != cb)).min(left + 1).min(*cell + 1);
            diagonal = *cell;
            *cell = here;
            left = here;
        }
        if let Some(first) = row.first_mut() {
            *first = i + 1;
        }
    }
    row.last().copied().unwrap_or(0)
}
