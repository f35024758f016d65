//! `fairpull knock`.

use std::path::PathBuf;

use fairpull::fuels::{KnockReport, Verdict};
use fairpull::units::Quoted;
use fairpull::{AnchorQuestion, ChangesQuestion, CycleQuestion, KnockQuestion};

use crate::fail::Fail;
use crate::figures::{K95, with_half};
use crate::{files, out, table, unused};

/// `fairpull knock`.
#[derive(clap::Args)]
pub struct Knock {
    /// Fuels: grade ids, octane numbers ("RON 98 MON 88") or blends ("70% en-228-95 + 30% ethanol").
    #[arg(allow_negative_numbers = true)]
    pub fuels: Vec<String>,
    /// Question as TOML or JSON; flags replace its fields.
    #[arg(long, value_name = "FILE")]
    pub question: Option<PathBuf>,
    /// Knock model [default: end-gas autoignition with a cycle, slopes with changes, else the octane index].
    #[arg(long, value_name = "ID")]
    pub model: Option<String>,
    /// Octane index at which the engine is just borderline, "96 ± 2".
    #[arg(long, value_name = "ON", allow_hyphen_values = true)]
    pub requirement: Option<String>,
    /// Weight of the sensitivity, "-0.2 ± 0.3", or boosted-direct, port, hot for a published prior.
    #[arg(long, value_name = "K", allow_hyphen_values = true)]
    pub k: Option<String>,
    /// Fuel that was measured just borderline at the cycle: anchors the model.
    #[arg(long, value_name = "FUEL", allow_hyphen_values = true)]
    pub anchor_fuel: Option<String>,
    /// Standard uncertainty of that "just borderline", octane numbers [default: 1].
    #[arg(long, value_name = "ON", allow_hyphen_values = true)]
    pub anchor_uncertainty: Option<f64>,
    /// The cycle.
    #[command(flatten)]
    pub cycle: CycleArgs,
    /// The changes.
    #[command(flatten)]
    pub changes: ChangeArgs,
    /// JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

/// The cycle at which the margin is wanted.
#[derive(clap::Args, Clone, Default)]
#[command(next_help_heading = "Cycle (angles after firing top dead centre, negative before)")]
pub struct CycleArgs {
    /// Bore, e.g. 83mm.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub bore: Option<String>,
    /// Stroke.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub stroke: Option<String>,
    /// Connecting-rod length.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub rod: Option<String>,
    /// Compression ratio.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub compression_ratio: Option<f64>,
    /// Engine speed.
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub engine_speed: Option<String>,
    /// Pressure at intake valve closing, 180kPa(a); gauge needs --barometer.
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub pressure: Option<String>,
    /// Station pressure.
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub barometer: Option<String>,
    /// Temperature at intake valve closing, residual gas included.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub temperature: Option<String>,
    /// Intake valve closing, e.g. -130deg.
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    pub intake_closing: Option<String>,
    /// Start of burning: spark angle plus ignition lag.
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    pub burn_start: Option<String>,
    /// Burn duration to 99.3 % burned: 2.016 times the 10 to 90 % duration.
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    pub burn_duration: Option<String>,
    /// Air-fuel ratio by mass.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub air_fuel_ratio: Option<f64>,
    /// Residual gas fraction [default: 5%].
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub residual: Option<String>,
}

/// What differs from the state in which the requirement was determined.
#[derive(clap::Args, Clone, Default)]
#[command(next_help_heading = "Changes since the requirement was determined (new less old)")]
pub struct ChangeArgs {
    /// Spark advance, e.g. 2deg.
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    pub change_spark: Option<String>,
    /// Intake or charge temperature, e.g. 15K.
    #[arg(long, value_name = "DIFFERENCE", allow_hyphen_values = true)]
    pub change_intake_temperature: Option<String>,
    /// Intake pressure, e.g. 20kPa.
    #[arg(long, value_name = "DIFFERENCE", allow_hyphen_values = true)]
    pub change_intake_pressure: Option<String>,
    /// Exhaust back pressure, e.g. -30kPa.
    #[arg(long, value_name = "DIFFERENCE", allow_hyphen_values = true)]
    pub change_exhaust_pressure: Option<String>,
    /// Compression ratio, e.g. 0.5.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub change_compression_ratio: Option<f64>,
    /// Coolant temperature.
    #[arg(long, value_name = "DIFFERENCE", allow_hyphen_values = true)]
    pub change_coolant_temperature: Option<String>,
    /// Water in dry air, e.g. 4g/kg.
    #[arg(long, value_name = "DIFFERENCE", allow_hyphen_values = true)]
    pub change_humidity: Option<String>,
    /// Altitude, e.g. 300m.
    #[arg(long, value_name = "DIFFERENCE", allow_hyphen_values = true)]
    pub change_altitude: Option<String>,
}

/// Replaces the fields that a flag states; true when any does.
macro_rules! replace {
    ($into:expr, $from:expr; $($a:ident = $b:ident),+ $(,)?) => {{
        let mut any = false;
        $(if $from.$b.is_some() { $into.$a.clone_from(&$from.$b); any = true; })+
        any
    }};
}
pub(crate) use replace;

pub fn run(a: &Knock) -> Result<(), Fail> {
    let question = question(a)?;
    let catalogue = fairpull::builtin();
    let models = catalogue.knocks();
    let answer = fairpull::knock(&question, models)?;
    let fuels = &answer.report.fuels;
    let refused: Vec<String> = fuels
        .iter()
        .filter_map(|f| f.refused.as_ref().map(|why| format!("fuel {}: {why}", Quoted(&f.name))))
        .collect();
    if refused.is_empty() {
        unused::note(&question, &answer, |q| fairpull::knock(q, models).ok());
    }
    if a.json {
        out::json(&answer)?;
    } else if refused.len() < fuels.len() {
        out::text(&words(&answer.report))?;
    }
    Fail::unless(refused)
}

fn question(a: &Knock) -> Result<KnockQuestion, Fail> {
    let mut q: KnockQuestion = files::question(a.question.as_deref())?;
    if !a.fuels.is_empty() {
        q.fuels.clone_from(&a.fuels);
    }
    replace!(q, a; model = model, requirement = requirement, k = k);
    let mut cycle = q.cycle.take().unwrap_or_default();
    let c = &a.cycle;
    replace!(cycle, c; bore = bore, stroke = stroke, rod = rod, compression_ratio = compression_ratio,
        engine_speed = engine_speed, pressure = pressure, barometer = barometer, temperature = temperature,
        intake_closing = intake_closing, burn_start = burn_start, burn_duration = burn_duration,
        air_fuel_ratio = air_fuel_ratio, residual = residual);
    q.cycle = (cycle != CycleQuestion::default()).then_some(cycle);
    let mut changes = q.changes.take().unwrap_or_default();
    let c = &a.changes;
    replace!(changes, c; spark_advance = change_spark, intake_temperature = change_intake_temperature,
        intake_pressure = change_intake_pressure, exhaust_pressure = change_exhaust_pressure,
        compression_ratio = change_compression_ratio, coolant_temperature = change_coolant_temperature,
        humidity = change_humidity, altitude = change_altitude);
    q.changes = (changes != ChangesQuestion::default()).then_some(changes);
    if let Some(fuel) = &a.anchor_fuel {
        let anchor = q.anchor.get_or_insert_with(AnchorQuestion::default);
        anchor.fuel.clone_from(fuel);
    }
    match (a.anchor_uncertainty, q.anchor.as_mut()) {
        (Some(u), Some(anchor)) => anchor.uncertainty = Some(u),
        (Some(u), None) => {
            return Err(Fail::plain(format!(
                "--anchor-uncertainty {u}: there is no anchor to be uncertain of; name its fuel with --anchor-fuel"
            )));
        }
        (None, _) => {}
    }
    Ok(q)
}

fn words(r: &KnockReport) -> String {
    let rows: Vec<Vec<String>> = r
        .fuels
        .iter()
        .map(|f| {
            let margin = f.margin_on.map(|m| with_half(m.value, K95 * m.uncertainty));
            let verdict = match (&f.refused, f.verdict) {
                (Some(why), _) => format!("no margin: {why}"),
                (None, Some(v)) => {
                    let level = if f.anchored {
                        ""
                    } else {
                        " (not anchored: levels may move by several octane numbers)"
                    };
                    format!("{}{level}", Verdict::words(v))
                }
                (None, None) => String::new(),
            };
            vec![
                f.name.clone(),
                margin.unwrap_or_else(|| "-".into()),
                f.spark_deg.map_or_else(String::new, |d| format!("{d:+.1}")),
                verdict,
            ]
        })
        .collect();
    let mut text = format!("{} ({})\n\n", r.title, r.model);
    text += &table::table(&["Fuel", ">Margin, ON ± 95 %", ">Spark, °", "Verdict"], &rows);
    let mut seen: Vec<&str> = vec![r.caution];
    for n in r.fuels.iter().flat_map(|f| f.assumed.iter().chain(&f.notices)) {
        if !seen.contains(&n.as_str()) && !n.contains(r.caution) {
            seen.push(n);
            text += &format!("\nNote: {}", table::wrap(n, 104).join("\n  "));
        }
    }
    text += &format!("\n\nLeaves out: {}\n", table::wrap(&r.leaves_out, 98).join("\n  "));
    text += &format!("Caution: {}.\n", r.caution);
    text
}
