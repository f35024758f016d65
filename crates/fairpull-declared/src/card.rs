//! From fields to a card and its formulas.

use crate::fields::Fields;
use crate::rule::Rule;
use crate::{DeclarationError, Declared, intern};
use fairpull_core::{
    AbsolutePressure, Air, Alias, Applicability, ChargeCooling, Charging, Cite, Compensation,
    CorrectionStandard, Engine, Example, Ignition, PressureBasis, Rating, Reading, ReferenceAir, Source,
    StandardCard, Status, Temperature, TestWindow, VapourPressure,
};
use std::collections::BTreeMap;
use std::sync::Mutex;

type Answer<T> = Result<T, DeclarationError>;
type Kept<T> = Mutex<BTreeMap<String, &'static [T]>>;

static SOURCES: Kept<Source> = Mutex::new(BTreeMap::new());
static GAPS: Kept<&'static str> = Mutex::new(BTreeMap::new());
static ALIASES: Kept<Alias> = Mutex::new(BTreeMap::new());
static EXAMPLES: Kept<Example> = Mutex::new(BTreeMap::new());

const READINGS: &[(&str, Reading)] = &[
    ("derived", Reading::Derived),
    ("read", Reading::Read),
    ("corroborated", Reading::Corroborated),
    ("remembered", Reading::Remembered),
    ("doubtful", Reading::Doubtful),
];
const IGNITIONS: &[(&str, Ignition)] = &[("spark", Ignition::Spark), ("compression", Ignition::Compression)];
const CHARGINGS: &[(&str, Charging)] = &[
    ("none", Charging::None),
    ("supercharged", Charging::Supercharged),
    ("turbocharged", Charging::Turbocharged),
];

pub(crate) fn declared(fields: &Fields<'_>) -> Answer<Declared> {
    let reference = reference(&fields.table("reference", "the reference air")?)?;
    let sources = sources(fields)?;
    let first = sources.first().map_or(Cite::new("", "", Reading::Doubtful), |s| s.cite);
    let (spark, spark_window) = ignition(fields, "spark", reference.basis, first)?;
    let (compression, compression_window) = ignition(fields, "compression", reference.basis, first)?;
    if spark.is_none() && compression.is_none() {
        let message = "missing: give a formula for spark ignition, for compression ignition, or for both";
        return Err(fields.error("spark", None, message.to_owned()));
    }
    let formula = match fields.text_or_none("formula", "the formula in the text's own symbols")? {
        Some(own) => own.to_owned(),
        None => [("spark: ", spark), ("compression: ", compression)]
            .iter()
            .filter_map(|(name, rule)| rule.map(|r| format!("{name}{}", r.formula(&reference))))
            .collect::<Vec<_>>()
            .join("; "),
    };
    let (compensation, compensates_spark_only) = compensation(fields)?;
    let card = intern::card(StandardCard {
        id: id(fields, "id")?,
        designation: intern::text(fields.text("designation", "the designation, e.g. \"XY 1234\"")?),
        title: intern::text(fields.text("title", "a short title")?),
        edition: intern::text(fields.text("edition", "the edition or year")?),
        status: status(fields)?,
        rating: fields.choice(
            "rating",
            &[("net", Rating::Net), ("gross", Rating::Gross), ("either", Rating::Either)],
        )?,
        applies: Applicability {
            spark: spark.is_some(),
            compression: compression.is_some(),
            charged: fields.truth("charged")?,
        },
        reference,
        spark: spark_window,
        compression: compression_window,
        formula: intern::text(&formula),
        compensation,
        compensates_spark_only,
        sources: intern::list(&SOURCES, sources),
        gaps: intern::list(&GAPS, fields.texts("gaps")?.into_iter().map(intern::text).collect()),
        aliases: intern::list(&ALIASES, aliases(fields)?),
        examples: intern::list(&EXAMPLES, examples(fields)?),
    });
    fields.finish()?;
    let declared = Declared { card, spark, compression };
    for (example, place) in card.examples.iter().zip(fields.tables("example", "a table with a worked case")?)
    {
        if let Err(message) = reproduced(&declared, example) {
            return Err(place.error("printed", None, message));
        }
    }
    Ok(declared)
}

fn id(fields: &Fields<'_>, key: &'static str) -> Answer<&'static str> {
    const WHAT: &str = "a lower-case designation such as \"xy-1234\"";
    let word = fields.text(key, WHAT)?;
    let plain = word.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-' || b == b'.');
    if plain && word.starts_with(|c: char| c.is_ascii_lowercase()) && !word.ends_with('-') {
        Ok(intern::text(word))
    } else {
        let message =
            format!("\"{}\" where {WHAT} was expected: letters a to z, digits, hyphens", word.escape_debug());
        Err(fields.error(key, None, message))
    }
}

fn cite(fields: &Fields<'_>) -> Answer<Cite> {
    Ok(Cite::new(
        intern::text(fields.text("document", "the document's designation and year")?),
        fields.text_or_none("clause", "clause, table or page")?.map_or("", intern::text),
        fields.choice("reading", READINGS)?,
    ))
}

fn status(fields: &Fields<'_>) -> Answer<Status> {
    let successor = fields.text_or_none("superseded-by", "the designation of the successor")?;
    const WORDS: &[(&str, u8)] = &[("current", 0), ("withdrawn", 1), ("historic", 2), ("unknown", 3)];
    match (fields.choice("status", WORDS)?, successor) {
        (1, s) => Ok(Status::Withdrawn(s.map_or("", intern::text))),
        (_, Some(_)) => {
            let message = "given, but only a withdrawn text has a successor: set status = \"withdrawn\" or leave it out";
            Err(fields.error("superseded-by", None, message.to_owned()))
        }
        (0, None) => Ok(Status::Current),
        (2, None) => Ok(Status::Historic),
        (_, None) => Ok(Status::Unknown),
    }
}

fn reference(fields: &Fields<'_>) -> Answer<ReferenceAir> {
    let air = ReferenceAir {
        basis: fields.choice("basis", &[("dry", PressureBasis::Dry), ("total", PressureBasis::Total)])?,
        pressure_kpa: fields.number("pressure-kpa", (50.0, 120.0), " kPa")?,
        vapour_kpa: fields.number("vapour-kpa", (0.0, 10.0), " kPa")?,
        temperature_c: fields.number("temperature-c", (-20.0, 60.0), " °C")?,
        kelvin_offset: fields.number("kelvin-offset", (272.0, 274.0), ": what the text adds to °C")?,
    };
    fields.finish()?;
    Ok(air)
}

fn ignition(
    fields: &Fields<'_>,
    key: &'static str,
    basis: PressureBasis,
    first: Cite,
) -> Answer<(Option<Rule>, TestWindow)> {
    let Some(inner) = fields.table_or_none(key, "a table with family and its constants")? else {
        return Ok((None, TestWindow::OPEN));
    };
    let own = inner.table_or_none("limits", "a citation of the ranges")?;
    let limits = match &own {
        Some(table) => {
            let cite = cite(table)?;
            table.finish()?;
            cite
        }
        None => first,
    };
    let formula = inner.table_or_none("clause", "a citation of the formula")?;
    let clause = match &formula {
        Some(table) => {
            let cite = cite(table)?;
            table.finish()?;
            cite
        }
        None => first,
    };
    let rule = Rule::read(&inner, clause)?;
    let window = TestWindow::new(
        basis,
        inner.range_or_none("temperature-k", (200.0, 400.0))?,
        inner.range_or_none("pressure-kpa", (40.0, 120.0))?,
        inner.range_or_none("factor", (0.1, 10.0))?,
        limits,
    );
    inner.finish()?;
    Ok((Some(rule), window))
}

fn sources(fields: &Fields<'_>) -> Answer<Vec<Source>> {
    let tables = fields.tables("source", "a table with what, document, clause and reading")?;
    if tables.is_empty() {
        let message = "missing: a formula needs at least one source with what, document and reading";
        return Err(fields.error("source", None, message.to_owned()));
    }
    tables
        .iter()
        .map(|t| {
            let source =
                Source { what: intern::text(t.text("what", "what rests on the source")?), cite: cite(t)? };
            t.finish()?;
            Ok(source)
        })
        .collect()
}

fn aliases(fields: &Fields<'_>) -> Answer<Vec<Alias>> {
    fields
        .tables("alias", "a table with id, designation, document, clause and reading")?
        .iter()
        .map(|t| {
            let designation = intern::text(t.text("designation", "the other designation")?);
            let alias = Alias { id: id(t, "id")?, designation, cite: cite(t)? };
            t.finish()?;
            Ok(alias)
        })
        .collect()
}

fn compensation(fields: &Fields<'_>) -> Answer<(Compensation, bool)> {
    let Some(inner) = fields.table_or_none("compensation", "a table with rule and its citation")? else {
        return Ok((Compensation::None, false));
    };
    let rule = inner.choice("rule", &[("none", 0), ("factor-one", 1), ("factor-one-by-later-text", 2)])?;
    let spark_only = inner.truth_or("spark-only", false)?;
    let compensation = match rule {
        0 => Compensation::None,
        1 => Compensation::FactorOne(cite(&inner)?),
        _ => Compensation::FactorOneByLaterText(cite(&inner)?),
    };
    inner.finish()?;
    Ok((compensation, spark_only))
}

fn examples(fields: &Fields<'_>) -> Answer<Vec<Example>> {
    fields.tables("example", "a table with a worked case")?.iter().map(example).collect()
}

fn example(t: &Fields<'_>) -> Answer<Example> {
    let mut engine = Engine::new(t.choice("ignition", IGNITIONS)?, t.choice("charging", CHARGINGS)?);
    if t.text_or_none("charge-cooling", "air or liquid")?.is_some() {
        engine = engine.cooled(
            t.choice("charge-cooling", &[("air", ChargeCooling::Air), ("liquid", ChargeCooling::Liquid)])?,
        );
    }
    engine.fuel_per_cycle = t.number_or_none("fuel-per-cycle", (0.0, 1000.0), " mg/(l·cycle)")?;
    engine.charge_pressure_ratio = t.number_or_none("charge-pressure-ratio", (1.0, 10.0), "")?;
    engine.mechanical_efficiency = t.number_or_none("mechanical-efficiency", (0.1, 1.0), "")?;
    let example = Example {
        what: intern::text(t.text("what", "what the case is")?),
        engine,
        total_kpa: t.number("total-kpa", (40.0, 120.0), " kPa")?,
        vapour_kpa: t.number("vapour-kpa", (0.0, 20.0), " kPa")?,
        temperature_c: t.number("temperature-c", (-60.0, 80.0), " °C")?,
        printed: intern::text(
            t.text("printed", "the factor as printed, as text: its last digit sets the tolerance")?,
        ),
        cite: cite(t)?,
    };
    t.finish()?;
    Ok(example)
}

/// Whether the formula gives the printed factor to half a unit of its last digit.
fn reproduced(standard: &Declared, example: &Example) -> Result<(), String> {
    let printed: f64 = example
        .printed
        .parse()
        .ok()
        .filter(|x: &f64| x.is_finite() && !example.printed.contains(['e', 'E']))
        .ok_or_else(|| {
            format!("printed = \"{}\" where a decimal number was expected", example.printed.escape_debug())
        })?;
    let decimals = example.printed.split_once('.').map_or(0, |(_, d)| d.len());
    let mut half = 0.5;
    for _ in 0..decimals {
        half /= 10.0;
    }
    let air = Air::new(
        AbsolutePressure::from_kilopascals(example.total_kpa),
        Temperature::from_celsius(example.temperature_c),
        VapourPressure::from_kilopascals(example.vapour_kpa),
    )
    .map_err(|e| e.to_string())?;
    let got = standard.factor(&air, &example.engine).map_err(|e| e.to_string())?.value();
    // A billionth of the tolerance and the spacing of floats near 1 are left for the decimal text itself.
    if (got - printed).abs() <= half * (1.0 + 1e-9) + 4e-16 {
        Ok(())
    } else {
        Err(format!(
            "printed {}, but the declared formula gives {got}: mend the constants or the example",
            example.printed
        ))
    }
}
