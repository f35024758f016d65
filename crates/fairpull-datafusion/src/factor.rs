//! `correction_factor` and `correction`: what a standard makes of an air and an engine.

use std::sync::Arc;

use arrow::array::{ArrayRef, Float64Builder, StringViewBuilder};
use arrow::datatypes::{DataType, Fields};
use datafusion_common::Result;
use fairpull::core::{
    Charging, CorrectionStandard, Engine, Factor, Ignition, Notice, Refusal, StandardCard, TestWindow,
};

use crate::air::{AirColumns, moist};
use crate::arguments::{Literals, Parameter, number, text};
use crate::parsed::Parsed;
use crate::read;
use crate::records::{Records, fields};
use crate::scalar::{Batch, Calculation};

const PARAMETERS: &[Parameter] = &[
    text("standard"),
    number("pressure", "kPa"),
    number("temperature", "°C"),
    number("humidity", "%"),
    text("engine"),
];
const COUNTS: &[usize] = &[4, 5];

/// What the facade takes an engine for of which nothing is said: spark ignition, naturally aspirated.
const UNSAID: Engine = Engine::new(Ignition::Spark, Charging::None);

fn plan(literals: &Literals<'_>) -> Result<(), String> {
    let standard = literals.text(0).map(read::standard).transpose()?;
    let engine = literals.text(4).map(read::engine).transpose()?;
    match (standard, engine) {
        (Some(s), Some(e)) => admitted(s.card(), &e),
        _ => Ok(()),
    }
}

fn admitted(card: &'static StandardCard, engine: &Engine) -> Result<(), String> {
    card.admit(engine).map_err(|e| format!("{}: {e}", card.designation))
}

/// The answer of the standard for a row.
struct Rows<'a> {
    standard: Parsed<'a, &'static dyn CorrectionStandard>,
    air: AirColumns<'a>,
    engine: Option<Parsed<'a, Engine>>,
}

type Answer = (&'static StandardCard, Ignition, Result<Factor, Refusal>);

impl<'a> Rows<'a> {
    fn new(batch: &Batch<'a>) -> Result<Self> {
        let engine = batch.has(4).then(|| batch.parsed(4, read::engine)).transpose()?;
        Ok(Self { standard: batch.parsed(0, read::standard)?, air: AirColumns::new(batch, 1)?, engine })
    }

    fn at(&mut self, row: usize) -> Result<Option<Answer>, String> {
        let engine = match &mut self.engine {
            None => UNSAID,
            Some(column) => match column.at(row) {
                None => return Ok(None),
                Some(engine) => engine?,
            },
        };
        let (Some(standard), Some(air)) = (self.standard.at(row), self.air.at(row)) else { return Ok(None) };
        let standard = standard?;
        let air = moist(air).map_err(|e| e.to_string())?;
        Ok(Some((standard.card(), engine.ignition, standard.factor(&air, &engine))))
    }
}

/// The ranges that were left, in words; empty when none was.
fn left(factor: &Factor) -> String {
    let outside = factor.notices().each().filter_map(|n| match n {
        Notice::OutsideRange(out) => Some(out.to_string()),
        _ => None,
    });
    outside.collect::<Vec<_>>().join("; ")
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct CorrectionFactor;

impl Calculation for CorrectionFactor {
    const NAME: &'static str = "correction_factor";
    const PARAMETERS: &'static [Parameter] = PARAMETERS;
    const COUNTS: &'static [usize] = COUNTS;

    fn returns() -> DataType {
        DataType::Float64
    }

    fn plan(literals: &Literals<'_>) -> Result<(), String> {
        plan(literals)
    }

    fn run(batch: &Batch<'_>) -> Result<ArrayRef> {
        let mut rows = Rows::new(batch)?;
        let mut out = Float64Builder::with_capacity(batch.len());
        batch.each(
            |i| {
                let Some((card, _, answer)) = rows.at(i)? else { return Ok(None) };
                let factor = answer.map_err(|e| format!("{}: {e}", card.designation))?;
                if factor.outside_range() {
                    return Err(format!("outside the range of {}: {}", card.designation, left(&factor)));
                }
                Ok(Some(factor.value()))
            },
            |x| out.append_option(x),
        )?;
        Ok(Arc::new(out.finish()))
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Correction;

fn shape() -> Fields {
    fields(&["factor", "blind_factor"], &[("status", DataType::Utf8View), ("why", DataType::Utf8View)])
}

impl Calculation for Correction {
    const NAME: &'static str = "correction";
    const PARAMETERS: &'static [Parameter] = PARAMETERS;
    const COUNTS: &'static [usize] = COUNTS;

    fn returns() -> DataType {
        DataType::Struct(shape())
    }

    fn plan(literals: &Literals<'_>) -> Result<(), String> {
        literals.text(0).map(read::standard).transpose()?;
        literals.text(4).map(read::engine).transpose().map(drop)
    }

    fn run(batch: &Batch<'_>) -> Result<ArrayRef> {
        let mut rows = Rows::new(batch)?;
        let mut out = Records::<2>::with_capacity(batch.len());
        let mut status = StringViewBuilder::with_capacity(batch.len());
        let mut why = StringViewBuilder::with_capacity(batch.len());
        batch.each(
            |i| rows.at(i),
            |answer| match answer {
                None => {
                    out.push(None);
                    status.append_null();
                    why.append_null();
                }
                Some((_, _, Err(refusal))) => {
                    out.push(Some([f64::NAN; 2]));
                    status.append_value("not-applicable");
                    why.append_value(refusal.to_string());
                }
                Some((card, ignition, Ok(factor))) => {
                    out.push(Some([factor.value(), factor.blind()]));
                    if factor.outside_range() {
                        status.append_value("outside");
                        why.append_value(left(&factor));
                    } else {
                        let open = *card.window(ignition) == TestWindow::OPEN;
                        status.append_value(if open { "no-range-known" } else { "within" });
                        why.append_value("");
                    }
                }
            },
        )?;
        out.finish(shape(), vec![Arc::new(status.finish()), Arc::new(why.finish())])
    }
}
