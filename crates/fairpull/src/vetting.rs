//! Question: what can contradict this claim?

use std::collections::BTreeMap;

use fairpull_claims::{Claim, Vetting};
use fairpull_core::Catalogue;
use fairpull_restate::Restater;
use serde::Serialize;

use crate::AskError;

/// A claim as a file, as single fields, or both: fields replace those of the file.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct VetQuestion {
    /// Text of `claim.toml`.
    pub text: Option<String>,
    /// Its name, for messages.
    pub file: Option<String>,
    /// Fields by section and key, e.g. `engine.power` to `221kW`.
    pub set: BTreeMap<String, String>,
}
fairpull_tree::fields!(VetQuestion default { text, file, set });

impl VetQuestion {
    /// The claim.
    ///
    /// # Errors
    /// [`AskError`] whose field holds file, line and column too.
    pub fn claim(&self) -> Result<Claim, AskError> {
        let fail = |e: fairpull_claims::ClaimError| {
            let field = if e.line == 0 {
                e.field.clone()
            } else {
                format!("{}:{}:{}: {}", e.file, e.line, e.column, e.field)
            };
            AskError { field, value: String::new(), problem: e.problem, mend: e.mend }
        };
        if self.text.is_none() && self.set.is_empty() {
            return Err(AskError::new(
                "claim",
                "",
                "nothing is claimed",
                "give a claim.toml, or fields such as engine.power = 221kW",
            ));
        }
        let mut claim = match &self.text {
            Some(t) => Claim::parse(t, self.file.as_deref().unwrap_or("claim.toml")).map_err(fail)?,
            None => Claim::default(),
        };
        for (path, text) in &self.set {
            let (section, key) = path.split_once('.').ok_or_else(|| {
                AskError::new(
                    path,
                    text,
                    "is not a field",
                    "write section and key with a dot between, e.g. engine.power",
                )
            })?;
            claim.set(section, key, text).map_err(fail)?;
        }
        Ok(claim)
    }
}

/// Runs every check that the claim has input for.
///
/// # Errors
/// [`AskError`] naming the field, or the value that a calculation refuses.
pub fn vet(question: &VetQuestion, catalogue: &Catalogue<'_>) -> Result<Vetting, AskError> {
    vet_with(question, &Restater::new(*catalogue))
}

/// As [`vet`], with what a [`Restater`] has kept from earlier questions.
///
/// # Errors
/// As [`vet`].
pub fn vet_with(question: &VetQuestion, restater: &Restater<'_>) -> Result<Vetting, AskError> {
    fairpull_claims::vet_with(&question.claim()?, restater)
        .map_err(|e| AskError::new("claim", "", e.to_string(), ""))
}
