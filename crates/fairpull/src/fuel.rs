//! Question: what is this fuel?

use fairpull_core::{Cite, Span};
use fairpull_fuels::{CAUTION, GRADES, Grade, Kind, NamedFuel, Property, Stock, parse_fuel};
use serde::{Deserialize, Serialize};

use crate::AskError;

/// Schema of [`FuelAnswer`].
pub const FUEL_SCHEMA: &str = "fairpull-fuel-1";

/// A fuel, or nothing for all grades.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct FuelQuestion {
    /// Grade id (`en-228-95`), octane numbers (`RON 98 MON 88`, `RON 98 S 10`, `AKI 93`) or a blend by volume
    /// (`70% en-228-95 + 30% ethanol`); every grade when left out.
    pub fuel: Option<String>,
}
fairpull_tree::fields!(FuelQuestion default { fuel });

/// Fuels with their properties.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FuelAnswer {
    /// [`FUEL_SCHEMA`].
    pub schema: String,
    /// The fuels.
    pub fuels: Vec<FuelEntry>,
    /// The caution.
    pub caution: String,
}

/// A property with its standard uncertainty and, for a grade, the range that its source states.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// Value to calculate with.
    pub value: f64,
    /// Standard uncertainty.
    pub uncertainty: f64,
    /// Smallest value that the source allows.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub low: Option<f64>,
    /// Largest value that the source allows.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub high: Option<f64>,
}

/// One fuel.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FuelEntry {
    /// Id of the grade, or the text asked for.
    pub id: String,
    /// Name.
    pub title: String,
    /// `pump` (a standard fixes it), `practice` (the seller claims it), `neat` substance, or `stated` by the question.
    pub kind: String,
    /// Research octane number.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub ron: Option<Spread>,
    /// Motor octane number.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub mon: Option<Spread>,
    /// Antiknock index (RON + MON)/2.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub aki: Option<Spread>,
    /// Sensitivity RON − MON.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub sensitivity: Option<Spread>,
    /// Density at 15 °C, kg/m³.
    pub density_kg_m3: Spread,
    /// Lower heating value, MJ/kg.
    pub lower_heating_value_mj_kg: Spread,
    /// Stoichiometric air-fuel ratio by mass.
    pub stoichiometric_ratio: Spread,
    /// Heat of vaporisation at 25 °C, kJ/kg.
    pub heat_of_vaporisation_kj_kg: Spread,
    /// Mean molar mass, g/mol.
    pub molar_mass_g_mol: Spread,
    /// Heat per kilogram of air at stoichiometry, MJ/kg: nearly the same for petrol and alcohols.
    pub heat_per_air_mj_kg: f64,
    /// Ethanol by volume, percent; for a grade.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub ethanol_percent: Option<Spread>,
    /// What a reader has to know.
    pub note: String,
    /// What was assumed.
    pub assumed: Vec<String>,
    /// Property, source, grade of reading.
    pub sources: Vec<(String, String, String)>,
}

/// The fuel of a question, or every grade.
///
/// # Errors
/// [`AskError`] naming the field, with the nearest id and the forms that are read.
pub fn fuel(question: &FuelQuestion) -> Result<FuelAnswer, AskError> {
    let fuels = match question.fuel.as_deref().map(str::trim) {
        None => GRADES.iter().map(of_grade).collect::<Result<Vec<_>, _>>()?,
        Some(text) => match fairpull_fuels::grade(&text.to_ascii_lowercase()) {
            Some(g) => vec![of_grade(g)?],
            None => {
                let named = parse_fuel(text).map_err(|e| AskError::new("fuel", text, e.to_string(), ""))?;
                vec![of_text(text, &named)]
            }
        },
    };
    Ok(FuelAnswer { schema: FUEL_SCHEMA.into(), fuels, caution: CAUTION.into() })
}

fn spread(s: Span, scale: f64) -> Spread {
    Spread { value: s.value * scale, uncertainty: s.uncertainty * scale, low: None, high: None }
}

fn ranged(s: Span, p: &Property, scale: f64) -> Spread {
    Spread { low: p.low.map(|x| x * scale), high: p.high.map(|x| x * scale), ..spread(s, scale) }
}

fn line(what: &str, cite: Cite) -> (String, String, String) {
    (what.into(), cite.to_string(), cite.reading.words().into())
}

fn of_grade(g: &Grade) -> Result<FuelEntry, AskError> {
    let read = g.stock().map_err(|e| AskError::new("fuel", g.id, e.to_string(), ""))?;
    let mut e = of_stock(g.id, g.title, &read.stock);
    e.kind = match g.kind {
        Kind::Practice => "practice",
        Kind::Neat => "neat",
        _ => "pump",
    }
    .into();
    let octane = |entry: &mut Option<Spread>, p: &Option<Property>| {
        if let (Some(x), Some(p)) = (entry.as_mut(), p) {
            (x.low, x.high) = (p.low, p.high);
        }
    };
    octane(&mut e.ron, &g.ron);
    octane(&mut e.mon, &g.mon);
    octane(&mut e.aki, &g.aki);
    let s = &read.stock;
    e.density_kg_m3 = ranged(s.density, &g.density, 1.0);
    e.lower_heating_value_mj_kg = ranged(s.lower_heating_value, &g.lower_heating_value, 1e-6);
    e.stoichiometric_ratio = ranged(s.stoichiometric_ratio, &g.stoichiometric_ratio, 1.0);
    e.heat_of_vaporisation_kj_kg = ranged(s.heat_of_vaporisation, &g.heat_of_vaporisation, 1e-3);
    e.molar_mass_g_mol = ranged(s.molar_mass, &g.molar_mass, 1.0);
    e.ethanol_percent = g.ethanol.best().map(|b| ranged(b, &g.ethanol, 1.0));
    e.note = g.note.into();
    e.assumed = read.assumed.iter().flatten().map(|a| format!("{}: {}", a.what, a.cite)).collect();
    e.sources = g.cites().map(|(what, cite)| line(what, cite)).collect();
    Ok(e)
}

fn of_text(text: &str, named: &NamedFuel) -> FuelEntry {
    let mut e = of_stock(text, &named.name, &named.stock);
    e.assumed.clone_from(&named.assumed);
    e
}

fn of_stock(id: &str, title: &str, s: &Stock) -> FuelEntry {
    FuelEntry {
        id: id.into(),
        title: title.into(),
        kind: "stated".into(),
        ron: s.ron.map(|x| spread(x, 1.0)),
        mon: s.mon.map(|x| spread(x, 1.0)),
        aki: s.antiknock_index().map(|x| spread(x, 1.0)),
        sensitivity: s.sensitivity().map(|x| spread(x, 1.0)),
        density_kg_m3: spread(s.density, 1.0),
        lower_heating_value_mj_kg: spread(s.lower_heating_value, 1e-6),
        stoichiometric_ratio: spread(s.stoichiometric_ratio, 1.0),
        heat_of_vaporisation_kj_kg: spread(s.heat_of_vaporisation, 1e-3),
        molar_mass_g_mol: spread(s.molar_mass, 1.0),
        heat_per_air_mj_kg: s.heat_per_air() * 1e-6,
        ethanol_percent: None,
        note: String::new(),
        assumed: Vec::new(),
        sources: Vec::new(),
    }
}
