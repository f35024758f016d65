//! Question: what is this in that unit?

use fairpull_units::{Digits, Unit, parse, show, units, units_of};
use serde::{Deserialize, Serialize};

use crate::AskError;
use crate::ask::nearest;

/// A converted quantity.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ConvertAnswer {
    /// Value as given.
    pub from_value: f64,
    /// Unit as given.
    pub from_unit: String,
    /// Converted value.
    pub value: f64,
    /// Unit.
    pub unit: String,
    /// For reading.
    pub text: String,
    /// What kind of quantity it is.
    pub dimension: String,
    /// Exact definition of both units.
    pub definition: String,
}

/// `530PS` to `kW`.
///
/// # Errors
/// [`AskError`] for text that is no quantity, an unknown unit, or units of different quantities.
pub fn convert(quantity: &str, unit: &str) -> Result<ConvertAnswer, AskError> {
    let r = parse(quantity).map_err(|e| AskError::unreadable("quantity", quantity, &e))?;
    let dimension = r.unit.dimension();
    let to = Unit::find_in(unit, dimension).ok_or_else(|| match Unit::find(unit) {
        Some(other) => AskError::new(
            "unit",
            unit,
            format!("is a unit of {}, but {quantity} is a {}", other.dimension(), dimension),
            format!("units of {} are {}", dimension, list(dimension)),
        ),
        None => {
            let all: Vec<&str> = units().map(Unit::symbol).collect();
            AskError::new("unit", unit, "is not a known unit", format!("nearest: {}", nearest(unit, &all)))
        }
    })?;
    let value = fairpull_units::convert(r.value, r.unit, to)
        .map_err(|e| AskError::new("unit", unit, e.to_string(), ""))?;
    if value == 0.0 && r.value != 0.0 {
        return Err(AskError::new("unit", unit, "is too large for so small a quantity", ""));
    }
    Ok(ConvertAnswer {
        from_value: r.value,
        from_unit: r.unit.symbol().into(),
        value,
        unit: to.symbol().into(),
        text: show(to.to_si(value), to, Digits::Significant(7)),
        dimension: dimension.to_string(),
        definition: format!(
            "1 {} = {}; 1 {} = {}",
            r.unit.symbol(),
            r.unit.definition(),
            to.symbol(),
            to.definition()
        ),
    })
}

fn list(dimension: fairpull_units::Dimension) -> String {
    units_of(dimension).map(Unit::symbol).collect::<Vec<_>>().join(", ")
}
