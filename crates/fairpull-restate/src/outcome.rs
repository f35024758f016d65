//! The answer: a restated figure and everything a sceptic wants to see.

use crate::{Figure, Interval};
use serde::Serialize;

/// A figure on another basis. Values are in `unit` unless said otherwise.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Restated {
    /// `power` or `torque`.
    pub quantity: &'static str,
    /// Unit of the figure that was given.
    pub unit: &'static str,
    /// The restated value: the steps, done at the middle of every range.
    pub value: f64,
    /// Lower end of the 95 % interval.
    pub lo95: f64,
    /// Upper end of the 95 % interval.
    pub hi95: f64,
    /// Standard uncertainty.
    pub standard_uncertainty: f64,
    /// Restated over given value.
    pub ratio: f64,
    /// True when nothing is uncertain: the air is known and no loss, interval or basis was assumed.
    pub exact: bool,
    /// False when site or treatment were not given: then value and interval span the plausible bases.
    pub basis_known: bool,
    /// The basis reached, in the words of the notation.
    pub basis: String,
    /// Id of the loss model used.
    pub loss: Option<&'static str>,
    /// The steps, in order.
    pub steps: Vec<Step>,
    /// What was assumed, and how much each assumption contributes.
    pub assumptions: Vec<Assumption>,
    /// What must travel with the figure.
    pub notices: Vec<String>,
    /// The other paths or bases, the narrowest first.
    pub alternatives: Vec<Alternative>,
    /// Seed of the draws.
    pub seed: u64,
    /// Number of draws; 0 when none were needed.
    pub draws: usize,
    /// The restated figure in plain form.
    #[serde(serialize_with = "as_notation")]
    pub figure: Figure,
}

/// One step of the path.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Step {
    /// What is done.
    pub what: String,
    /// The plug-in that does it; empty for plain arithmetic.
    pub plug_in: &'static str,
    /// What went in, with units.
    pub inputs: Vec<Input>,
    /// The factor that multiplies.
    pub factor: f64,
    /// The value after the step, W or N·m.
    pub result_si: f64,
    /// Where the step stands in print.
    pub source: String,
}

/// A named input of a step.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Input {
    /// Name.
    pub what: &'static str,
    /// Value.
    pub value: f64,
    /// Unit.
    pub unit: &'static str,
}

/// Something that was not given.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Assumption {
    /// What was assumed, with its range or value.
    pub what: String,
    /// Why this.
    pub because: String,
    /// Standard uncertainty that it alone brings, in the figure's unit.
    pub contribution: f64,
}

/// Another path to the same basis, or the same figure on another plausible basis.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Alternative {
    /// What is different.
    pub what: String,
    /// Value.
    pub value: f64,
    /// Lower end of the 95 % interval.
    pub lo95: f64,
    /// Upper end of the 95 % interval.
    pub hi95: f64,
}

fn as_notation<S: serde::Serializer>(figure: &Figure, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_str(figure)
}

impl Restated {
    /// The interval in plain form, or nothing when the value is exact.
    pub(crate) fn interval(&self) -> Option<Interval> {
        (self.lo95 < self.hi95).then_some(Interval::Ends(self.lo95, self.hi95))
    }
}
