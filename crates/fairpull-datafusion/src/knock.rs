//! `knock_margin`: octane index of a fuel against the requirement of an engine.

use std::sync::Arc;

use arrow::array::{ArrayRef, StringViewBuilder};
use arrow::datatypes::{DataType, Fields};
use datafusion_common::Result;
use fairpull::core::{KnockModel, KnockPoint, Span};
use fairpull::fuels::{OctaneIndex, Verdict};

use crate::arguments::{Literals, Parameter, number, text};
use crate::read;
use crate::records::{Records, fields};
use crate::scalar::{Batch, Calculation};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct KnockMargin;

fn shape() -> Fields {
    fields(&["margin", "standard_uncertainty"], &[("verdict", DataType::Utf8View)])
}

impl Calculation for KnockMargin {
    const NAME: &'static str = "knock_margin";
    const PARAMETERS: &'static [Parameter] =
        &[text("fuel"), number("requirement", ""), number("requirement_uncertainty", ""), text("k")];
    const COUNTS: &'static [usize] = &[4];

    fn returns() -> DataType {
        DataType::Struct(shape())
    }

    fn plan(literals: &Literals<'_>) -> Result<(), String> {
        literals.text(0).map(read::fuel).transpose()?;
        literals.text(3).map(read::k).transpose().map(drop)
    }

    fn run(batch: &Batch<'_>) -> Result<ArrayRef> {
        let mut fuel = batch.parsed(0, read::fuel)?;
        let (requirement, uncertainty) = (batch.numbers(1)?, batch.numbers(2)?);
        let mut k = batch.parsed(3, read::k)?;
        let mut out = Records::<2>::with_capacity(batch.len());
        let mut verdicts = StringViewBuilder::with_capacity(batch.len());
        batch.each(
            |i| {
                let (Some(fuel), Some(k)) = (fuel.at(i), k.at(i)) else { return Ok(None) };
                let (Some(r), Some(u)) = (requirement.at(i), uncertainty.at(i)) else { return Ok(None) };
                if !(u.is_finite() && u >= 0.0) {
                    return Err(format!("requirement_uncertainty is {u}, not a finite number of at least 0"));
                }
                let mut point = KnockPoint::unknown();
                point.k = Some(k?);
                point.requirement = Some(Span::new(r, u));
                OctaneIndex.margin(&fuel?, &point).map(Some).map_err(|e| e.to_string())
            },
            |margin| {
                out.push(margin.map(|m| [m.octane.value, m.octane.uncertainty]));
                verdicts.append_option(margin.map(|m| Verdict::of(&m).words()));
            },
        )?;
        out.finish(shape(), vec![Arc::new(verdicts.finish())])
    }
}
