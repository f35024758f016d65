//! `fairpull air`.

use fairpull::AirAnswer;

use crate::args::Air;
use crate::fail::Fail;
use crate::{out, table, unused};

pub fn run(a: &Air) -> Result<(), Fail> {
    let question = a.air.question();
    let answer = fairpull::air(&question)?;
    unused::note(&question, &answer, |q| fairpull::air(q).ok());
    if a.json { out::json(&answer) } else { out::text(&words(&answer)) }
}

/// The air as lines of text.
pub fn words(a: &AirAnswer) -> String {
    let mut rows = vec![
        row("station pressure", a.station_pressure_kpa * 10.0, 2, "hPa"),
        row("vapour pressure", a.vapour_pressure_kpa * 10.0, 2, "hPa"),
        row("dry pressure", a.dry_pressure_kpa * 10.0, 2, "hPa"),
        row("temperature", a.temperature_c, 2, "°C"),
        row("relative humidity", a.relative_humidity_percent, 1, "%"),
    ];
    if let Some(t) = a.dew_point_c {
        rows.push(row("dew point", t, 2, "°C"));
    }
    if let Some(t) = a.wet_bulb_c {
        rows.push(row("wet bulb", t, 2, "°C"));
    }
    if let Some(d) = a.density_kg_m3 {
        rows.push(row("density", d, 4, "kg/m³"));
    }
    rows.push(row("density altitude", a.density_altitude_m, 0, "m"));
    table::table(&["Air", ">", ""], &rows)
}

fn row(name: &str, value: f64, digits: usize, unit: &str) -> Vec<String> {
    vec![name.into(), format!("{value:.digits$}"), unit.into()]
}
