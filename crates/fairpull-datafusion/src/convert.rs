//! `convert(value, from, to)`: a value of one unit in another.

use std::collections::HashMap;
use std::sync::Arc;

use arrow::array::{ArrayRef, Float64Builder};
use arrow::datatypes::DataType;
use datafusion_common::Result;
use fairpull::nearest;
use fairpull::units::{Dimension, Unit, convert, units};

use crate::arguments::{Literals, Parameter, number, text};
use crate::scalar::{Batch, Calculation};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Convert;

type Pair = (&'static Unit, &'static Unit);

impl Calculation for Convert {
    const NAME: &'static str = "convert";
    const PARAMETERS: &'static [Parameter] = &[number("value", ""), text("from"), text("to")];
    const COUNTS: &'static [usize] = &[3];

    fn returns() -> DataType {
        DataType::Float64
    }

    fn plan(literals: &Literals<'_>) -> Result<(), String> {
        match (literals.text(1), literals.text(2)) {
            // 300 is a value that every unit can have: what fails here fails in every row
            (Some(from), Some(to)) => pair(from, to).and_then(|p| converted(300.0, p)).map(drop),
            (Some(one), None) | (None, Some(one)) => unit(one).map(drop),
            (None, None) => Ok(()),
        }
    }

    fn run(batch: &Batch<'_>) -> Result<ArrayRef> {
        let values = batch.numbers(0)?;
        let (from, to) = (batch.texts(1)?, batch.texts(2)?);
        let mut seen = HashMap::new();
        let mut last: Option<((&str, &str), Pair)> = None;
        let mut out = Float64Builder::with_capacity(batch.len());
        batch.each(
            |i| {
                let (Some(value), Some(from), Some(to)) = (values.at(i), from.at(i), to.at(i)) else {
                    return Ok(None);
                };
                let units = match last {
                    Some((words, units)) if words == (from, to) => units,
                    _ => seen.entry((from, to)).or_insert_with(|| pair(from, to)).clone()?,
                };
                last = Some(((from, to), units));
                converted(value, units).map(Some)
            },
            |x| out.append_option(x),
        )?;
        Ok(Arc::new(out.finish()))
    }
}

fn converted(value: f64, (from, to): Pair) -> Result<f64, String> {
    if from.dimension() == Dimension::Temperature && from.to_si(value) < 0.0 {
        return Err(format!(
            "{value} {from} is below absolute zero (0 K = -273.15 °C = -459.67 °F); check the unit"
        ));
    }
    convert(value, from, to).map_err(|e| e.to_string())
}

/// Both units. A word that serves two dimensions (`g`, `lb`, `K`) is read as the other unit wants it.
fn pair(from: &str, to: &str) -> Result<Pair, String> {
    let (a, b) = (unit(from)?, unit(to)?);
    if let Some(b) = Unit::find_in(to, a.dimension()) {
        return Ok((a, b));
    }
    match Unit::find_in(from, b.dimension()) {
        Some(a) => Ok((a, b)),
        None => Err(format!(
            "{a} is a unit of {}, {b} of {}: there is no conversion",
            a.dimension(),
            b.dimension()
        )),
    }
}

fn unit(word: &str) -> Result<&'static Unit, String> {
    Unit::find(word).ok_or_else(|| {
        let all: Vec<&str> = units().map(Unit::symbol).collect();
        format!("{word:?} is not a known unit; nearest: {}", nearest(word, &all))
    })
}
