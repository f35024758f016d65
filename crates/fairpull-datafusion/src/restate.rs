//! `restate`: a power on another basis, with its interval.

use std::collections::HashMap;

use arrow::array::ArrayRef;
use arrow::datatypes::{DataType, Fields};
use datafusion_common::{DataFusionError, Result};
use fairpull::builtin;
use fairpull::core::{AbsolutePressure, Engine, Temperature};
use fairpull::restate::{
    Figure, Humidity, Knowledge, KnownAir, Restater, Scaling, Site, Span, Target, Treatment,
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
    /// Keeps the factors of the draws from row to row.
    restater: Restater<'static>,
    kilowatt: &'static Unit,
    power: Numbers<'a>,
    from: Parsed<'a, Treatment>,
    site: Parsed<'a, Site>,
    to: Parsed<'a, Treatment>,
    to_site: Parsed<'a, Site>,
    air: Option<AirColumns<'a>>,
    engine: Option<Parsed<'a, Engine>>,
    /// What is known of rows that differ in nothing but the power; `None` where the air is a column.
    known: Option<Known<'a>>,
}

/// The texts of a row.
type Texts<'a> = [Option<&'a str>; 5];

/// Rows by their texts.
#[derive(Default)]
struct Known<'a> {
    places: HashMap<Texts<'a>, usize>,
    last: Option<(Texts<'a>, usize)>,
    all: Vec<Alike>,
}

/// Rows that differ in nothing but the power. The draws behind an interval cost a millisecond: they are made once where
/// the power is only multiplied, and once for each different power where the site changes.
struct Alike {
    question: Question,
    scaling: Option<Scaling>,
    answers: HashMap<u64, [f64; 3]>,
}

/// What is asked of a power.
struct Question {
    figure: Figure,
    target: Target,
    knowledge: Knowledge<'static>,
}

impl Question {
    fn answer(&self, power: f64, restater: &Restater<'_>) -> Result<[f64; 3], String> {
        let figure = Figure { value: power, ..self.figure.clone() };
        let r = restater.restate(&figure, &self.target, &self.knowledge).map_err(|e| e.to_string())?;
        Ok([r.value, r.lo95, r.hi95])
    }
}

impl Alike {
    fn new(question: Question, restater: &Restater<'_>) -> Self {
        let scaling = restater.scaling(&question.figure, &question.target, &question.knowledge);
        Self { question, scaling, answers: HashMap::new() }
    }

    fn answer(&mut self, power: f64, restater: &Restater<'_>) -> Result<[f64; 3], String> {
        if let Some(ends) = self.scaling.as_ref().and_then(|s| s.ends(power)) {
            return Ok(ends);
        }
        if let Some(answer) = self.answers.get(&power.to_bits()) {
            return Ok(*answer);
        }
        let answer = self.question.answer(power, restater)?;
        self.answers.insert(power.to_bits(), answer);
        Ok(answer)
    }
}

impl<'a> Known<'a> {
    fn place(&mut self, texts: &Texts<'a>) -> Option<usize> {
        if let Some((last, place)) = &self.last
            && last == texts
        {
            return Some(*place);
        }
        let place = *self.places.get(texts)?;
        self.last = Some((*texts, place));
        Some(place)
    }

    fn add(&mut self, texts: Texts<'a>, alike: Alike) {
        self.places.insert(texts, self.all.len());
        self.all.push(alike);
    }
}

impl<'a> Rows<'a> {
    fn new(batch: &Batch<'a>) -> Result<Self> {
        let kilowatt = Unit::find("kW")
            .ok_or_else(|| DataFusionError::Internal("the table of units has no kW".to_owned()))?;
        Ok(Self {
            restater: Restater::new(builtin()),
            kilowatt,
            power: batch.numbers(0)?,
            from: batch.parsed(1, read::treatment)?,
            site: batch.parsed(2, read::site)?,
            to: batch.parsed(3, read::treatment)?,
            to_site: batch.parsed(4, read::site)?,
            air: batch.has(5).then(|| AirColumns::new(batch, 5)).transpose()?,
            engine: batch.has(8).then(|| batch.parsed(8, read::engine)).transpose()?,
            known: batch.constant(5..8).then(Known::default),
        })
    }

    fn at(&mut self, row: usize) -> Result<Option<[f64; 3]>, String> {
        let Some(power) = self.power.at(row) else { return Ok(None) };
        let sound = power.is_finite() && power >= 0.0;
        let texts = self.texts(row);
        if let (Some(known), true) = (&mut self.known, sound)
            && let Some(alike) = known.place(&texts).and_then(|p| known.all.get_mut(p))
        {
            return alike.answer(power, &self.restater).map(Some);
        }
        let Some(question) = self.question(row)? else { return Ok(None) };
        if !sound {
            return Err(format!("power is {power} kW, not a finite number of at least 0 kW"));
        }
        let Some(known) = &mut self.known else { return question.answer(power, &self.restater).map(Some) };
        let mut alike = Alike::new(question, &self.restater);
        let answer = alike.answer(power, &self.restater);
        known.add(texts, alike);
        answer.map(Some)
    }

    fn texts(&self, row: usize) -> Texts<'a> {
        let engine = self.engine.as_ref().and_then(|e| e.text(row));
        [self.from.text(row), self.site.text(row), self.to.text(row), self.to_site.text(row), engine]
    }

    /// The question of a row, whatever its power; `None` where an argument is NULL.
    fn question(&mut self, row: usize) -> Result<Option<Question>, String> {
        let (Some(from), Some(site)) = (self.from.at(row), self.site.at(row)) else { return Ok(None) };
        let (Some(to), Some(to_site)) = (self.to.at(row), self.to_site.at(row)) else { return Ok(None) };
        let mut knowledge = Knowledge::new();
        if let Some(column) = &mut self.engine {
            let Some(engine) = column.at(row) else { return Ok(None) };
            knowledge.engine = Some(engine?);
        }
        let mut figure = Figure::new(0.0, self.kilowatt).ok_or("kW is no unit of power")?.at(site?);
        figure.treatment = Some(from?);
        if let Some(columns) = &self.air {
            let Some(air) = columns.at(row) else { return Ok(None) };
            figure = figure.in_air(known(air)?);
        }
        Ok(Some(Question { figure, target: Target { site: to_site?, treatment: to? }, knowledge }))
    }
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
