//! The plain questions, by name.

use fairpull::core::Catalogue;
use fairpull::restate::{BasisRow, Figure, Humidity, Restated, Restater, Span};
use fairpull::{AirQuestion, FactorsQuestion, RestateQuestion, air, card, catalogue, convert, factors};
#[cfg(feature = "advice")]
use fairpull::{
    FuelQuestion, KnockQuestion, PredictQuestion, StressQuestion, VetQuestion, fuel, knock, road_predict,
    stress, vet_with,
};
use fairpull_tree::{Field, Node};
use serde::Serialize;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::Fault;

/// Asks a question by its name; both texts are JSON.
///
/// # Errors
/// The JSON text of a [`Fault`].
#[wasm_bindgen]
pub fn ask(name: &str, question: &str) -> Result<String, JsValue> {
    answer(name, question).map_err(|f| JsValue::from_str(&f.json()))
}

/// The same for Rust callers.
///
/// # Errors
/// [`Fault`] naming the field.
pub fn answer(name: &str, question: &str) -> Result<String, Fault> {
    let c = plug_ins();
    match name {
        "version" => text(&Version { version: env!("CARGO_PKG_VERSION") }),
        "units" => text(&units()),
        "convert" => {
            let q: ConvertQuestion = read(question)?;
            text(&convert(&q.quantity, &q.unit)?)
        }
        "air" => text(&air(&read::<AirQuestion>(question)?)?),
        "factors" => text(&factors(&read::<FactorsQuestion>(question)?, &c)?),
        "catalogue" => text(&catalogue(&c)),
        "card" => text(&card(&c, &read::<CardQuestion>(question)?.id)?),
        "figure" => text(&notation(&read::<RestateQuestion>(question)?.parsed()?)),
        "restate" => text(&kept(|r| read::<RestateQuestion>(question)?.answer_with(r).map_err(Fault::from))?),
        "restate_all" => text(&kept(|r| rows(&read::<RestateQuestion>(question)?, r))?),
        #[cfg(feature = "advice")]
        "fuel" => text(&fuel(&read::<FuelQuestion>(question)?)?),
        #[cfg(feature = "advice")]
        "knock" => text(&knock(&read::<KnockQuestion>(question)?, c.knocks())?),
        #[cfg(feature = "advice")]
        "stress" => text(&stress(&read::<StressQuestion>(question)?)?),
        #[cfg(feature = "advice")]
        "road" => text(&road_predict(&read::<PredictQuestion>(question)?, &c)?),
        #[cfg(feature = "advice")]
        "vet" => text(&kept(|r| vet_with(&read::<VetQuestion>(question)?, r).map_err(Fault::from))?),
        _ => Err(Fault::new("name", name, "is no question of this module", "")),
    }
}

thread_local! {
    static RESTATER: Restater<'static> = Restater::new(plug_ins());
}

/// With what earlier questions drew: the next key in a field finds it made.
fn kept<T>(answer: impl FnOnce(&Restater<'static>) -> Result<T, Fault>) -> Result<T, Fault> {
    RESTATER.with(answer)
}

/// The plug-ins of this module: no question of the calculator asks a knock model.
pub(crate) fn plug_ins() -> Catalogue<'static> {
    #[cfg(feature = "advice")]
    return fairpull::builtin();
    #[cfg(not(feature = "advice"))]
    fairpull::bases()
}

pub(crate) fn read<T: Field>(question: &str) -> Result<T, Fault> {
    match fairpull_tree::json(question).and_then(Node::read) {
        Ok(read) => Ok(read),
        Err(e) => Err(unread(question, e)),
    }
}

/// The same for questions of every type.
#[inline(never)]
fn unread(question: &str, e: fairpull_tree::Fault) -> Fault {
    let (line, column) = e.place(question);
    Fault { line, column, ..Fault::new("question", "", e.message, "see the types of the package") }
}

pub(crate) fn text<T: Serialize>(answer: &T) -> Result<String, Fault> {
    Ok(fairpull_tree::compact(answer)?)
}

#[derive(Default)]
struct ConvertQuestion {
    quantity: String,
    unit: String,
}
fairpull_tree::fields!(ConvertQuestion { quantity, unit });

#[derive(Default)]
struct CardQuestion {
    id: String,
}
fairpull_tree::fields!(CardQuestion { id });

#[derive(Serialize)]
struct Version {
    version: &'static str,
}

/// A unit with its kind of quantity, so that a page can offer what fits.
#[derive(Serialize)]
struct UnitEntry {
    symbol: &'static str,
    dimension: String,
    definition: &'static str,
}

fn units() -> Vec<UnitEntry> {
    fairpull::units::units()
        .map(|u| UnitEntry {
            symbol: u.symbol(),
            dimension: u.dimension().to_string(),
            definition: u.definition(),
        })
        .collect()
}

/// A figure field by field and in both forms of its notation.
#[derive(Serialize)]
struct Notation {
    value: f64,
    unit: &'static str,
    quantity: &'static str,
    engine_speed_rpm: Option<f64>,
    site: Option<&'static str>,
    treatment: Option<String>,
    rating: Option<String>,
    pressure_kpa: Option<[f64; 2]>,
    temperature_c: Option<[f64; 2]>,
    humidity_kind: Option<&'static str>,
    humidity: Option<[f64; 2]>,
    fuel: Option<String>,
    text: String,
    link: String,
}

fn notation(f: &Figure) -> Notation {
    let span = |s: Span| [s.low, s.high];
    let (humidity_kind, humidity) = match f.air.humidity {
        Some(Humidity::Relative(s)) => (Some("relative"), Some(span(s))),
        Some(Humidity::DewPoint(s)) => (Some("dew_point_c"), Some(span(s))),
        Some(Humidity::Vapour(s)) => (Some("vapour_kpa"), Some(span(s))),
        _ => (None, None),
    };
    Notation {
        value: f.value,
        unit: f.unit.symbol(),
        quantity: f.quantity().word(),
        engine_speed_rpm: f.engine_speed_rpm,
        site: f.site.map(|s| s.word()),
        treatment: f.treatment.as_ref().map(ToString::to_string),
        rating: f.rating.map(|r| r.to_string()),
        pressure_kpa: f.air.pressure_kpa.map(span),
        temperature_c: f.air.temperature_c.map(span),
        humidity_kind,
        humidity,
        fuel: f.fuel.clone(),
        text: f.to_string(),
        link: format!("{f:#}"),
    }
}

/// A figure on one of all bases, or why it cannot stand there.
#[derive(Serialize)]
struct Row {
    site: &'static str,
    treatment: String,
    designation: Option<&'static str>,
    result: Option<Restated>,
    why: Option<String>,
}

fn rows(q: &RestateQuestion, restater: &Restater<'_>) -> Result<Vec<Row>, Fault> {
    let row = |r: BasisRow| {
        let treatment = r.target.treatment.to_string();
        let designation = restater.catalogue().standard(&treatment).map(|s| s.card().designation);
        let (result, why) = match r.result {
            Ok(x) => (Some(x), None),
            Err(e) => (None, Some(e.to_string())),
        };
        Row { site: r.target.site.word(), treatment, designation, result, why }
    };
    Ok(q.all_with(restater)?.into_iter().map(row).collect())
}
