//! The units a reader asked for, from the exact table of `fairpull-units`.

use fairpull_units::Dimension;

/// A unit for reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// As printed: the reader's own word where it is a known one.
    pub word: &'static str,
    /// Worth of one unit in kW (power) or N·m (torque).
    pub worth: f64,
}

impl Unit {
    /// `value` in kW or N·m, in this unit.
    #[must_use]
    pub fn of(&self, value: f64) -> f64 {
        value / self.worth
    }
}

fn find(word: &str, dimension: Dimension, base: f64) -> Option<Unit> {
    let word = word.trim();
    let unit = fairpull_units::Unit::find_in(word, dimension)?;
    let own = unit.aliases().iter().copied().find(|a| *a == word);
    Some(Unit { word: own.unwrap_or(unit.symbol()), worth: unit.factor() / base })
}

/// The unit of power a word means; `None` for a word that is not a unit of power.
#[must_use]
pub fn power(word: &str) -> Option<Unit> {
    find(word, Dimension::Power, 1000.0)
}

/// The unit of torque a word means; `None` for a word that is not a unit of torque.
#[must_use]
pub fn torque(word: &str) -> Option<Unit> {
    find(word, Dimension::Torque, 1.0)
}

/// The units a reader asked for, unknown words left out, never empty.
#[must_use]
pub fn chosen(words: &[String], which: fn(&str) -> Option<Unit>, fallback: &str) -> Vec<Unit> {
    let mut units: Vec<Unit> = Vec::new();
    for unit in words.iter().filter_map(|w| which(w)) {
        if units.iter().all(|u| u.word != unit.word) {
            units.push(unit);
        }
    }
    if units.is_empty() {
        units.extend(which(fallback));
    }
    units
}
