//! `fairpull fuel`.

use fairpull::report::escape::clean_line;
use fairpull::{FuelEntry, FuelQuestion, Spread};

use crate::fail::Fail;
use crate::figures::{K95, alone, with_half};
use crate::{out, table};

/// `fairpull fuel`.
#[derive(clap::Args)]
pub struct Fuel {
    /// Grade id (en-228-95), octane numbers ("RON 98 MON 88", "RON 98 S 10", "AKI 93") or a blend by volume
    /// ("70% en-228-95 + 30% ethanol"); every grade when left out.
    #[arg(allow_hyphen_values = true)]
    pub fuel: Option<String>,
    /// JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

pub fn run(a: &Fuel) -> Result<(), Fail> {
    let answer = fairpull::fuel(&FuelQuestion { fuel: a.fuel.clone() })?;
    if a.json {
        return out::json(&answer);
    }
    let mut text = match answer.fuels.as_slice() {
        [one] => whole(one),
        all => list(all),
    };
    text += &format!("\nCaution: {}.\n", answer.caution);
    out::text(&text)
}

fn octane(s: &Option<Spread>) -> String {
    s.map_or_else(|| "-".into(), |s| format!("{:.1}", s.value))
}

fn list(all: &[FuelEntry]) -> String {
    let rows: Vec<Vec<String>> = all
        .iter()
        .map(|f| {
            vec![
                f.id.clone(),
                octane(&f.ron),
                octane(&f.mon),
                octane(&f.aki),
                format!("{:.1}", f.lower_heating_value_mj_kg.value),
                format!("{:.2}", f.stoichiometric_ratio.value),
                f.kind.clone(),
                f.title.clone(),
            ]
        })
        .collect();
    let heading = ["Id", ">RON", ">MON", ">AKI", ">MJ/kg", ">A/F", "Kind", "Name"];
    let mut text = table::table(&heading, &rows);
    text += "\npump: minima that a standard fixes; practice: what sellers claim; neat: a pure substance.\n";
    text +=
        "fairpull fuel ID shows ranges, assumptions and sources; octane numbers and blends are read too.\n";
    text
}

fn whole(f: &FuelEntry) -> String {
    let mut rows = Vec::new();
    let mut add = |name: &str, s: Option<Spread>, unit: &str| {
        let Some(s) = s else { return };
        let range = match (s.low, s.high) {
            (Some(a), Some(b)) if a != b => format!("{} to {}", alone(a), alone(b)),
            (Some(a), None) => format!("at least {}", alone(a)),
            (None, Some(b)) => format!("at most {}", alone(b)),
            _ => String::new(),
        };
        rows.push(vec![name.into(), with_half(s.value, K95 * s.uncertainty), unit.into(), range]);
    };
    add("research octane number RON", f.ron, "");
    add("motor octane number MON", f.mon, "");
    add("antiknock index AKI", f.aki, "");
    add("sensitivity RON - MON", f.sensitivity, "");
    add("density at 15 °C", Some(f.density_kg_m3), "kg/m³");
    add("lower heating value", Some(f.lower_heating_value_mj_kg), "MJ/kg");
    add("stoichiometric air-fuel ratio", Some(f.stoichiometric_ratio), "kg/kg");
    add("heat of vaporisation", Some(f.heat_of_vaporisation_kj_kg), "kJ/kg");
    add("molar mass", Some(f.molar_mass_g_mol), "g/mol");
    add("ethanol by volume", f.ethanol_percent, "%");
    rows.push(vec![
        "heat per air at stoichiometry".into(),
        alone(f.heat_per_air_mj_kg),
        "MJ/kg".into(),
        String::new(),
    ]);
    let mut text = format!("{} ({})\n\n", clean_line(&f.title), clean_line(&f.id));
    text += &table::table(&["Property", ">Value ± 95 %", "", "Range stated by the source"], &rows);
    if !f.note.is_empty() {
        text += &format!("\n{}\n", table::wrap(&f.note, 110).join("\n"));
    }
    for a in &f.assumed {
        text += &format!("Assumed: {}\n", table::wrap(a, 100).join("\n  "));
    }
    if !f.sources.is_empty() {
        let lines: Vec<Vec<String>> =
            f.sources.iter().map(|(a, b, r)| vec![a.clone(), format!("{b}: {r}")]).collect();
        text += &format!("\n{}", table::table(&["What", "Source and grade of reading"], &lines));
    }
    text
}
