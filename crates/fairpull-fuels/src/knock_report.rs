//! Margins of several fuels at one operating point, each with a plain verdict.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use fairpull_core::{Fuel, KnockModel, KnockPoint, Margin};
use serde::Serialize;

use crate::knock_input::{KnockInput, KnockInputError, Stated};
use crate::{CAUTION, DeclaredSlopes, parse_fuel};

/// What a margin and its interval allow to say.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// The whole 95 % interval lies above zero.
    MarginExpected,
    /// The 95 % interval holds zero.
    Undecided,
    /// The whole 95 % interval lies below zero.
    KnockExpected,
}

impl Verdict {
    /// The verdict of a margin.
    #[must_use]
    pub fn of(margin: &Margin) -> Self {
        let half = 1.959_963_984_540_054 * margin.octane.uncertainty;
        if margin.octane.value > half {
            Self::MarginExpected
        } else if margin.octane.value < -half {
            Self::KnockExpected
        } else {
            Self::Undecided
        }
    }

    /// The verdict in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::MarginExpected => "margin expected on this fuel",
            Self::Undecided => "undecided: the uncertainty is larger than the margin",
            Self::KnockExpected => "knock expected on this fuel",
        }
    }
}

/// The margin of one fuel.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct FuelMargin {
    /// The fuel as it was written.
    pub fuel: String,
    /// Its name.
    pub name: String,
    /// Margin, octane numbers.
    pub margin_on: Option<Stated>,
    /// Octane index of the fuel.
    pub fuel_index_on: Option<f64>,
    /// Octane requirement.
    pub requirement_on: Option<f64>,
    /// Change of the requirement against the anchor or the determined requirement.
    pub requirement_change_on: Option<Stated>,
    /// Spark advance left until borderline, degrees; negative: retard needed.
    pub spark_deg: Option<f64>,
    /// Knock-limited start of burning, degrees after top dead centre.
    pub knock_limited_start_deg: Option<f64>,
    /// True when anchored on a measured borderline point or a determined requirement.
    pub anchored: bool,
    /// Verdict.
    pub verdict: Option<Verdict>,
    /// What was assumed of the fuel.
    pub assumed: Vec<String>,
    /// Remarks of the model.
    pub notices: Vec<String>,
    /// Why there is no margin.
    pub refused: Option<String>,
    /// One line for a report.
    pub words: String,
}

/// Margins of all fuels.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct KnockReport {
    /// Id of the model.
    pub model: String,
    /// Its title.
    pub title: String,
    /// What it leaves out.
    pub leaves_out: String,
    /// One entry a fuel, in the order asked.
    pub fuels: Vec<FuelMargin>,
    /// The caution.
    pub caution: &'static str,
}

/// Answers a question about knock margins with one of the given models. A fuel that cannot be read, or for which the
/// model refuses, keeps its place with the reason.
///
/// # Errors
/// [`KnockInputError`] when nothing can be answered: unknown model, no fuel, impossible engine or anchor.
pub fn knock(input: &KnockInput, models: &[&dyn KnockModel]) -> Result<KnockReport, KnockInputError> {
    if input.fuels.is_empty() {
        return Err(KnockInputError::NoFuel);
    }
    let id = input.model_id();
    let own = input.slopes.map(DeclaredSlopes::own);
    let own = own.as_ref().map(|m| m as &dyn KnockModel).filter(|m| m.card().id == id);
    let found = own.or_else(|| models.iter().copied().find(|m| m.card().id == id));
    let model = found.ok_or_else(|| KnockInputError::UnknownModel {
        known: models.iter().map(|m| m.card().id).collect::<Vec<_>>().join(", ")
            + ", declared-slopes-own with slopes",
        id,
    })?;
    let point = input.point()?;
    let card = model.card();
    Ok(KnockReport {
        model: card.id.to_string(),
        title: card.title.to_string(),
        leaves_out: card.leaves_out.to_string(),
        fuels: input.fuels.iter().map(|text| one(text, model, &point)).collect(),
        caution: CAUTION,
    })
}

fn one(text: &str, model: &dyn KnockModel, point: &KnockPoint) -> FuelMargin {
    let named = match parse_fuel(text) {
        Ok(named) => named,
        Err(e) => return refused(text, text, e.to_string()),
    };
    let fuel: Fuel = named.stock.fuel();
    let m = match model.margin(&fuel, point) {
        Ok(m) => m,
        Err(e) => return refused(text, &named.name, e.to_string()),
    };
    let verdict = Verdict::of(&m);
    let half = 1.959_963_984_540_054 * m.octane.uncertainty;
    let spark = m.spark_degrees.map_or_else(String::new, |d| format!(", {d:+.1} degrees of spark"));
    let level = if m.anchored { "" } else { " (not anchored)" };
    let words = format!(
        "{}: margin {:+.1} ± {half:.1} ON{spark}{level}: {}",
        named.name,
        m.octane.value,
        verdict.words()
    );
    FuelMargin {
        fuel: text.to_string(),
        name: named.name,
        margin_on: Some(m.octane.into()),
        fuel_index_on: Some(m.fuel_index),
        requirement_on: Some(m.requirement),
        requirement_change_on: m.requirement_change.map(Stated::from),
        spark_deg: m.spark_degrees,
        knock_limited_start_deg: m.spark_degrees.zip(point.cycle).map(|(d, c)| c.burn_start - d),
        anchored: m.anchored,
        verdict: Some(verdict),
        assumed: named.assumed,
        notices: m.notices.iter().map(ToString::to_string).collect(),
        refused: None,
        words,
    }
}

fn refused(text: &str, name: &str, why: String) -> FuelMargin {
    FuelMargin {
        fuel: text.to_string(),
        name: name.to_string(),
        margin_on: None,
        fuel_index_on: None,
        requirement_on: None,
        requirement_change_on: None,
        spark_deg: None,
        knock_limited_start_deg: None,
        anchored: false,
        verdict: None,
        assumed: Vec::new(),
        notices: Vec::new(),
        words: format!("{name}: no margin: {why}"),
        refused: Some(why),
    }
}
