//! Question: what does each standard make of this air and engine?

use fairpull_core::{Catalogue, CorrectionStandard, Factor, Ignition, Notice, Refusal, Status, TestWindow};
use serde::{Deserialize, Serialize};

use crate::AskError;
use crate::air::{AirAnswer, AirQuestion, describe};
use crate::engine::EngineQuestion;

/// Schema of [`FactorsAnswer`].
pub const FACTORS_SCHEMA: &str = "fairpull-factors-1";

/// Air and engine.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct FactorsQuestion {
    /// Air.
    pub air: AirQuestion,
    /// Engine.
    pub engine: EngineQuestion,
}
fairpull_tree::fields!(FactorsQuestion default { air, engine });

/// The factor of every standard.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FactorsAnswer {
    /// [`FACTORS_SCHEMA`].
    pub schema: String,
    /// The air.
    pub air: AirAnswer,
    /// One entry a standard, in the order of the catalogue.
    pub factors: Vec<FactorEntry>,
}

/// The factor of one standard.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FactorEntry {
    /// Id.
    pub standard: String,
    /// Designation.
    pub designation: String,
    /// Multiplier from measured to reference; absent when the standard does not apply.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub factor: Option<f64>,
    /// What the formula alone gives, where a rule for compensating engines changes it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub blind_factor: Option<f64>,
    /// `within` the text's range, `outside` it, `no-range-known` where none is known for this ignition, or
    /// `not-applicable`.
    pub status: String,
    /// Why: the ranges left, the refusal, or nothing.
    pub why: String,
    /// Everything else that must be known.
    pub notices: Vec<String>,
    /// `net`, `gross`, `net or gross`.
    pub rating: String,
    /// Standing of the text today.
    pub text_status: String,
    /// Grade of reading of the text.
    pub reading: String,
}

/// The factor of every standard of a catalogue.
///
/// # Errors
/// [`AskError`] naming the field of the question.
pub fn factors(question: &FactorsQuestion, catalogue: &Catalogue<'_>) -> Result<FactorsAnswer, AskError> {
    let air = question.air.air()?;
    let engine = question.engine.engine()?;
    let factors = catalogue
        .standards()
        .iter()
        .map(|s| {
            let answer = s.factor(&air, &engine);
            entry(*s, engine.ignition, &answer)
        })
        .collect();
    Ok(FactorsAnswer { schema: FACTORS_SCHEMA.into(), air: describe(&air), factors })
}

fn entry(s: &dyn CorrectionStandard, ignition: Ignition, answer: &Result<Factor, Refusal>) -> FactorEntry {
    let card = s.card();
    let mut e = FactorEntry {
        standard: card.id.into(),
        designation: card.designation.into(),
        factor: None,
        blind_factor: None,
        status: "not-applicable".into(),
        why: String::new(),
        notices: Vec::new(),
        rating: card.rating.to_string(),
        text_status: status_words(card.status),
        reading: card.grade().words().into(),
    };
    match answer {
        Ok(f) => {
            e.factor = Some(f.value());
            e.blind_factor = (f.blind() != f.value()).then(|| f.blind());
            e.status = if f.outside_range() {
                "outside"
            } else if *card.window(ignition) == TestWindow::OPEN {
                "no-range-known"
            } else {
                "within"
            }
            .into();
            let mut why = Vec::new();
            for n in f.notices().iter() {
                match n {
                    Notice::OutsideRange(out) => why.push(out.to_string()),
                    other => e.notices.push(other.to_string()),
                }
            }
            e.why = why.join("; ");
        }
        Err(refusal) => e.why = refusal.to_string(),
    }
    e
}

/// Standing of a text in words.
#[must_use]
pub fn status_words(status: Status) -> String {
    match status {
        Status::Current => "current".into(),
        Status::Withdrawn("") => "withdrawn".into(),
        Status::Withdrawn(by) => format!("withdrawn, superseded by {by}"),
        Status::Historic => "historic, for reading old figures".into(),
        Status::Unknown => "not established".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::builtin;

    #[test]
    fn a_text_without_a_known_range_is_not_called_within() {
        let air = AirQuestion {
            pressure: Some("1000hPa".into()),
            temperature: Some("25C".into()),
            humidity: Some("30%".into()),
            ..AirQuestion::default()
        };
        let question = FactorsQuestion { air, ..FactorsQuestion::default() };
        let answer = factors(&question, &builtin()).expect("an answer");
        let of = |id: &str| answer.factors.iter().find(|f| f.standard == id).expect("an entry");
        for id in ["din-70020", "sae-j607", "sae-j245", "sae-j816", "iso-3046-f", "sae-j1995", "iso-4106"] {
            assert!(matches!(of(id).status.as_str(), "no-range-known"), "{id} {}", of(id).status);
        }
        assert_eq!(of("iso-1585").status, "within");
        assert_eq!(of("sae-j1995").text_status, "not established");
        assert_eq!(of("jis-d-1001").text_status, "not established");
    }
}
