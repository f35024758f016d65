//! What the power costs the engine, as the result holds it: stress figures and knock margins.

use serde::{Deserialize, Serialize};

use crate::model::Interval;

/// A stress figure of a state.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StressStat {
    /// Stable name, e.g. `pre-turbine-over-manifold`.
    pub id: String,
    /// Name in words.
    pub name: String,
    /// Unit; empty for a ratio.
    pub unit: String,
    /// Value at the engine speed of peak power, or of peak torque where the name says so.
    pub value: Interval,
    /// A label, or a question that the value raises.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub remark: Option<String>,
}

/// Change of a stress figure between two states.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StressChange {
    /// Stable name.
    pub id: String,
    /// Name in words.
    pub name: String,
    /// Unit; empty for a ratio.
    pub unit: String,
    /// In the first state.
    pub from: f64,
    /// In the second state.
    pub to: f64,
    /// Change.
    pub change: Interval,
    /// True when the interval excludes zero.
    pub detectable: bool,
}

/// Knock margin of one fuel in one state.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FuelMargin {
    /// Fuel as the job writes it.
    pub fuel: String,
    /// Name in words.
    pub name: String,
    /// Margin, octane numbers; absent when nothing anchors it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub margin_on: Option<Interval>,
    /// `margin-expected`, `undecided`, `knock-expected`, or `none` where there is no margin.
    pub verdict: String,
    /// The verdict in a sentence, with the reason where there is no margin.
    pub statement: String,
}
