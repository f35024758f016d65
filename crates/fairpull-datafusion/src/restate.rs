//! `restate`: a power on another basis, with its interval.

use std::collections::HashMap;

use arrow::array::ArrayRef;
use arrow::datatypes::{DataType, Fields};
use datafusion_common::{DataFusionError, Result};
use fairpull::builtin;
use fairpull::core::{AbsolutePressure, Catalogue, Engine, Temperature};
use fairpull::restate::{
    Figure, Humidity, Knowledge, KnownAir, Restated, Site, Span, Target, Treatment, restate,
};
use fairpull::units::Unit;

use crate::air::{AirColumns, moist};
use crate::arguments::{Literals, Numbers, Parameter, number, text};
use crate::parsed::Parsed;
use crate::read;
use crate::records::{Records, fields};
use crate::scalar::{Batch, Calculation};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Restate;

fn shape() -> Fields {
    fields(&["value", "low", "high"], &[])
}

impl Calculation for Restate {
    const NAME: &'static str = "restate";
    const PARAMETERS: &'static [Parameter] = &[
        number("power", "kW"),
        text("from"),
        text("site"),
        text("to"),
        text("to_site"),
        number("pressure", "kPa"),
        number("temperature", "°C"),
        number("humidity", "%"),
        text("engine"),
    ];
    const COUNTS: &'static [usize] = &[5, 8, 9];

    fn returns() -> DataType {
        DataType::Struct(shape())
    }

    fn plan(literals: &Literals<'_>) -> Result<(), String> {
        for position in [1, 3] {
            literals.text(position).map(read::treatment).transpose()?;
        }
        for position in [2, 4] {
            literals.text(position).map(read::site).transpose()?;
        }
        literals.text(8).map(read::engine).transpose().map(drop)
    }

    fn run(batch: &Batch<'_>) -> Result<ArrayRef> {
        let mut rows = Rows::new(batch)?;
        let mut out = Records::<3>::with_capacity(batch.len());
        batch.each(|i| rows.at(i), |row| out.push(row))?;
        out.finish(shape(), Vec::new())
    }
}

struct Rows<'a> {
    catalogue: Catalogue<'static>,
    kilowatt: &'static Unit,
    power: Numbers<'a>,
    from: Parsed<'a, Treatment>,
    site: Parsed<'a, Site>,
    to: Parsed<'a, Treatment>,
    to_site: Parsed<'a, Site>,
    air: Option<AirColumns<'a>>,
    engine: Option<Parsed<'a, Engine>>,
    /// Answers by the bits of the power, where nothing else differs from row to row: the draws behind an interval cost
    /// a millisecond, and powers in an archive repeat.
    known: Option<HashMap<u64, [f64; 3]>>,
}

impl<'a> Rows<'a> {
    fn new(batch: &Batch<'a>) -> Result<Self> {
        let kilowatt = Unit::find("kW")
            .ok_or_else(|| DataFusionError::Internal("the table of units has no kW".to_owned()))?;
        Ok(Self {
            catalogue: builtin(),
            kilowatt,
            power: batch.numbers(0)?,
            from: batch.parsed(1, read::treatment)?,
            site: batch.parsed(2, read::site)?,
            to: batch.parsed(3, read::treatment)?,
            to_site: batch.parsed(4, read::site)?,
            air: batch.has(5).then(|| AirColumns::new(batch, 5)).transpose()?,
            engine: batch.has(8).then(|| batch.parsed(8, read::engine)).transpose()?,
            known: batch.constant_but(0).then(HashMap::new),
        })
    }

    fn at(&mut self, row: usize) -> Result<Option<[f64; 3]>, String> {
        let Some(power) = self.power.at(row) else { return Ok(None) };
        if let Some(known) = self.known.as_ref().and_then(|k| k.get(&power.to_bits())) {
            return Ok(Some(*known));
        }
        let answer = self.answer(row, power)?;
        if let (Some(known), Some(answer)) = (&mut self.known, answer) {
            known.insert(power.to_bits(), answer);
        }
        Ok(answer)
    }

    fn answer(&mut self, row: usize, power: f64) -> Result<Option<[f64; 3]>, String> {
        let (Some(from), Some(site)) = (self.from.at(row), self.site.at(row)) else { return Ok(None) };
        let (Some(to), Some(to_site)) = (self.to.at(row), self.to_site.at(row)) else { return Ok(None) };
        if !(power.is_finite() && power >= 0.0) {
            return Err(format!("power is {power} kW, not a finite number of at least 0 kW"));
        }
        let mut knowledge = Knowledge::new();
        if let Some(column) = &mut self.engine {
            let Some(engine) = column.at(row) else { return Ok(None) };
            knowledge.engine = Some(engine?);
        }
        let figure = Figure::new(power, self.kilowatt).ok_or("kW is no unit of power")?;
        let mut figure = figure.at(site?);
        figure.treatment = Some(from?);
        if let Some(columns) = &self.air {
            let Some(air) = columns.at(row) else { return Ok(None) };
            figure = figure.in_air(known(air)?);
        }
        let target = Target { site: to_site?, treatment: to? };
        let restated = restate(&figure, &target, &self.catalogue, &knowledge).map_err(|e| e.to_string())?;
        Ok(Some(ends(&restated)))
    }
}

fn ends(r: &Restated) -> [f64; 3] {
    [r.value, r.lo95, r.hi95]
}

/// The air as the facade states it, after the checks that name an impossible reading.
fn known(readings: [f64; 3]) -> Result<KnownAir, String> {
    moist(readings).map_err(|e| e.to_string())?;
    let [pressure, temperature, humidity] = readings;
    Ok(KnownAir {
        pressure_kpa: Some(Span::exact(AbsolutePressure::from_kilopascals(pressure).kilopascals())),
        temperature_c: Some(Span::exact(Temperature::from_celsius(temperature).celsius())),
        humidity: Some(Humidity::Relative(Span::exact(humidity / 100.0))),
    })
}
