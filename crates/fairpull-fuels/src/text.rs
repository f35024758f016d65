//! Fuels as a user writes them: a grade id, octane numbers, or a blend.

use std::string::{String, ToString};
use std::vec::Vec;
use std::{format, vec};

use fairpull_core::{Refusal, Span};

use crate::octane::{MON_UNCERTAINTY, RON_UNCERTAINTY, USUAL_SENSITIVITY};
use crate::{By, GRADES, OctaneRule, Part, Stock, blend, from_antiknock_index, grade, motor_from_research};

/// Forms that [`parse_fuel`] reads.
pub const FUEL_FORMS: &str = "a grade id such as en-228-95, octane numbers such as `RON 98 MON 88`, `RON 98 S 10` or `AKI 93`, or a blend by \
     volume such as `70% en-228-95 + 30% ethanol`";

/// A fuel text that cannot be read.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FuelTextError {
    /// No grade has this id.
    #[error("no fuel grade has the id {id:?}; did you mean {nearest}? Write {FUEL_FORMS}")]
    Unknown {
        /// The text.
        id: String,
        /// The nearest id.
        nearest: &'static str,
    },
    /// A word where a number or a name was expected.
    #[error("{word:?} in the fuel {text:?} is not {expected}; write {FUEL_FORMS}")]
    Word {
        /// The whole text.
        text: String,
        /// The word.
        word: String,
        /// What was expected.
        expected: &'static str,
    },
    /// The numbers describe no fuel.
    #[error("fuel {text:?}: {refusal}")]
    Refused {
        /// The whole text.
        text: String,
        /// Why.
        refusal: Refusal,
    },
}

/// A user's own blend as data.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnBlend {
    /// Name for reports.
    pub name: String,
    /// In what the shares are stated.
    pub by: By,
    /// The parts.
    pub parts: Vec<OwnPart>,
}

/// One part of a user's own blend.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnPart {
    /// Grade id or octane numbers, as [`parse_fuel`] reads them.
    pub fuel: String,
    /// Share in percent.
    pub percent: f64,
}

/// A fuel read from text.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct NamedFuel {
    /// The text it came from, as the report names it.
    pub name: String,
    /// The fuel.
    pub stock: Stock,
    /// What had to be assumed, in words.
    pub assumed: Vec<String>,
}

impl OwnBlend {
    /// The blended fuel: octane numbers by the molar rule.
    ///
    /// # Errors
    /// [`FuelTextError`] naming the part.
    pub fn fuel(&self) -> Result<NamedFuel, FuelTextError> {
        let mut parts = vec![];
        let mut assumed = vec![];
        for part in &self.parts {
            let named = parse_fuel(&part.fuel)?;
            assumed.extend(named.assumed);
            parts.push(Part { stock: named.stock, share: part.percent / 100.0 });
        }
        assumed.push("octane numbers of the blend are linear in the mole fraction".to_string());
        let refused = |refusal| FuelTextError::Refused { text: self.name.clone(), refusal };
        let stock = blend(&parts, self.by, OctaneRule::Molar).map_err(refused)?;
        Ok(NamedFuel { name: self.name.clone(), stock, assumed })
    }
}

/// Reads a fuel: see [`FUEL_FORMS`]. Names are read without regard to case; a decimal comma is accepted.
///
/// # Errors
/// [`FuelTextError`] with the text, the word and the forms that are read.
pub fn parse_fuel(text: &str) -> Result<NamedFuel, FuelTextError> {
    let name = text.trim();
    if name.contains('%') {
        return blend_text(name);
    }
    let lower = name.to_ascii_lowercase();
    if let Some(found) = grade(&lower) {
        let read =
            found.stock().map_err(|refusal| FuelTextError::Refused { text: name.to_string(), refusal })?;
        let words = |s: fairpull_core::Source| format!("{}: {}", s.what, s.cite);
        let assumed = read.assumed.into_iter().flatten().map(words).collect();
        return Ok(NamedFuel { name: found.title.to_string(), stock: read.stock, assumed });
    }
    match lower.split_whitespace().next() {
        Some("ron" | "mon" | "aki") => numbers(name, &lower),
        _ => Err(FuelTextError::Unknown { id: name.to_string(), nearest: nearest(&lower) }),
    }
}

fn numbers(text: &str, lower: &str) -> Result<NamedFuel, FuelTextError> {
    let word = |word: &str, expected| FuelTextError::Word {
        text: text.to_string(),
        word: word.to_string(),
        expected,
    };
    let (mut ron, mut mon, mut aki, mut sensitivity) = (None, None, None, None);
    let mut words = lower.split_whitespace();
    while let Some(key) = words.next() {
        let slot = match key {
            "ron" => &mut ron,
            "mon" => &mut mon,
            "aki" => &mut aki,
            "s" => &mut sensitivity,
            _ => return Err(word(key, "one of RON, MON, AKI or S (the sensitivity RON - MON)")),
        };
        if slot.is_some() {
            return Err(word(key, "given once"));
        }
        let number = words.next().unwrap_or("");
        let value = read(number).ok_or_else(|| word(number, "a number"))?;
        *slot = Some(value);
    }
    let refused = |refusal| FuelTextError::Refused { text: text.to_string(), refusal };
    let stated = sensitivity.map(|s| Span::new(s, 0.0));
    let ron = ron.map(|v| Span::new(v, RON_UNCERTAINTY));
    let mon = mon.map(|v| Span::new(v, MON_UNCERTAINTY));
    let aki = aki.map(|v| Span::new(v, 0.5 * libm::hypot(RON_UNCERTAINTY, MON_UNCERTAINTY)));
    let mut assumed = vec![];
    let (stock, correlation) = match (ron, mon, aki, stated) {
        (Some(_), Some(_), None, None) | (None, Some(_), None, None) | (Some(_), None, None, None) => {
            (Stock::petrol(ron, mon), 0.0)
        }
        (Some(ron), None, None, Some(s)) => {
            let split = motor_from_research(ron, s).map_err(refused)?;
            assumed.push(split.assumes.to_string());
            (Stock::petrol(Some(split.ron), Some(split.mon)), split.correlation)
        }
        (None, None, Some(aki), s) => {
            let split = from_antiknock_index(aki, s.unwrap_or(USUAL_SENSITIVITY)).map_err(refused)?;
            let how = if s.is_some() { "stated" } else { "10 with 8 to 12 usual" };
            assumed.push(format!("{}: {how}", split.assumes));
            (Stock::petrol(Some(split.ron), Some(split.mon)), split.correlation)
        }
        _ => return Err(word(lower, "RON with MON or S, or AKI alone or with S")),
    };
    let stock = Stock { octane_correlation: correlation, ..stock };
    stock.check().map_err(refused)?;
    if let Some(s) = stock.sensitivity() {
        crate::octane::SENSITIVITY.check(s.value).map_err(|e| refused(e.into()))?;
    }
    assumed.push("density, heating value and air-fuel ratio of a usual petrol".to_string());
    Ok(NamedFuel { name: text.to_string(), stock, assumed })
}

fn blend_text(text: &str) -> Result<NamedFuel, FuelTextError> {
    let mut parts = vec![];
    for piece in text.split('+') {
        let (share, fuel) = piece.split_once('%').ok_or_else(|| FuelTextError::Word {
            text: text.to_string(),
            word: piece.trim().to_string(),
            expected: "a share such as `30% ethanol`",
        })?;
        let percent = read(share.trim()).ok_or_else(|| FuelTextError::Word {
            text: text.to_string(),
            word: share.trim().to_string(),
            expected: "a percentage by volume",
        })?;
        parts.push(OwnPart { fuel: fuel.trim().to_string(), percent });
    }
    OwnBlend { name: text.to_string(), by: By::Volume, parts }.fuel()
}

/// The id that differs from `text` by the fewest edits.
fn nearest(text: &str) -> &'static str {
    GRADES.iter().map(|g| g.id).min_by_key(|id| edits(text, id)).unwrap_or("en-228-95")
}

/// Levenshtein distance over characters.
fn edits(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.chars().enumerate().take(64) {
        let mut next = vec![i + 1];
        for (j, y) in b.iter().enumerate() {
            let left = next.get(j).copied().unwrap_or(0);
            let up = row.get(j + 1).copied().unwrap_or(0);
            let cross = row.get(j).copied().unwrap_or(0);
            next.push((left + 1).min(up + 1).min(cross + usize::from(x != *y)));
        }
        row = next;
    }
    row.last().copied().unwrap_or(0)
}

/// A number with a point or a comma.
fn read(text: &str) -> Option<f64> {
    fairpull_tree::decimal(text.replace(',', ".").as_bytes())
}
