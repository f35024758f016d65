//! `fairpull road`.

use std::path::{Path, PathBuf};

use fairpull::road::Interval;
use fairpull::{
    CarQuestion, CoastDownAnswer, CoastDownQuestion, LogBytes, LogColumns, PredictAnswer, PredictQuestion,
    RoadLogAnswer, RoadLogQuestion,
};

use crate::fail::Fail;
use crate::figures::{alone, with_half};
use crate::knock::replace;
use crate::road_car::CarArgs;
use crate::{files, out, table, unused};

/// `fairpull road`. Closed road, local law.
#[derive(clap::Args)]
pub struct Road {
    /// Which question.
    #[command(subcommand)]
    pub what: What,
}

/// The road questions.
#[derive(clap::Subcommand)]
pub enum What {
    /// Which times a car of this power, mass and drag will show, with interval
    Predict(Box<Predict>),
    /// Which times and which power a log of road speed shows
    Log(Box<Log>),
    /// Road load from coast-downs in both directions
    Coastdown(Box<Coastdown>),
}

/// `fairpull road predict`.
#[derive(clap::Args)]
pub struct Predict {
    /// What is timed: 100-200km/h, 60-130mph, quarter-mile, kilometre, 1000m, "1000m from 80km/h",
    /// "0-60mph rollout" [default: the usual ones].
    pub measures: Vec<String>,
    /// Question as TOML or JSON; flags replace its fields.
    #[arg(long, value_name = "FILE")]
    pub question: Option<PathBuf>,
    /// The car.
    #[command(flatten)]
    pub car: CarArgs,
    /// JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

/// `fairpull road log`.
#[derive(clap::Args)]
pub struct Log {
    /// Log of the pull: delimited text, or a GPX or NMEA track.
    pub log: PathBuf,
    /// Log of a pull in the opposite direction.
    #[arg(long, value_name = "FILE")]
    pub back: Option<PathBuf>,
    /// What is timed; may stand several times [default: the usual speeds inside the log].
    #[arg(long, value_name = "MEASURE", allow_hyphen_values = true)]
    pub measure: Vec<String>,
    /// Question as TOML or JSON; flags replace its fields.
    #[arg(long, value_name = "FILE")]
    pub question: Option<PathBuf>,
    /// Standard uncertainty of the scale of speed: 0% for satellite speed, about 1% for wheel speed [default: 0%].
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub speed_scale: Option<String>,
    /// Step of the power curve [default: 5km/h].
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub step: Option<String>,
    /// Power of the rig at the wheels by road speed, at the same air: "140km/h=150kW ± 2kW"; may stand several times.
    #[arg(long, value_name = "SPEED=POWER", allow_hyphen_values = true)]
    pub rig: Vec<String>,
    /// The columns.
    #[command(flatten)]
    pub columns: ColumnArgs,
    /// The car.
    #[command(flatten)]
    pub car: CarArgs,
    /// JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

/// `fairpull road coastdown`.
#[derive(clap::Args)]
pub struct Coastdown {
    /// Question as TOML or JSON with [[points]] of speed, a_s and b_s; flags replace its fields.
    pub question: Option<PathBuf>,
    /// Log of a coast-down in one direction, in the order of the pairs; may stand several times.
    #[arg(long, value_name = "FILE")]
    pub there: Vec<PathBuf>,
    /// Log of a coast-down in the other direction, in the same order; may stand several times.
    #[arg(long, value_name = "FILE")]
    pub back: Vec<PathBuf>,
    /// Mean of the mass before and after the runs.
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    pub mean_mass: Option<String>,
    /// Equivalent mass of rotating parts [default: 3 % of the mean mass].
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    pub rotating_mass: Option<String>,
    /// Mass that the result is wanted for [default: the mean mass].
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    pub test_mass: Option<String>,
    /// Mean air temperature.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub temperature: Option<String>,
    /// Mean air pressure.
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub pressure: Option<String>,
    /// Mean wind along the track over both directions.
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub wind: Option<String>,
    /// Half the width of the timed interval in logs [default: 5km/h].
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub half_width: Option<String>,
    /// The columns.
    #[command(flatten)]
    pub columns: ColumnArgs,
    /// JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

/// Columns of a log.
#[derive(clap::Args, Clone, Default)]
#[command(next_help_heading = "Columns of the log (a guess from the header when left out)")]
pub struct ColumnArgs {
    /// Column of time.
    #[arg(long, value_name = "NAME")]
    pub time_column: Option<String>,
    /// Its unit, where the log does not say.
    #[arg(long, value_name = "UNIT")]
    pub time_unit: Option<String>,
    /// Column of speed.
    #[arg(long, value_name = "NAME")]
    pub speed_column: Option<String>,
    /// Its unit, where the log does not say.
    #[arg(long, value_name = "UNIT")]
    pub speed_unit: Option<String>,
    /// Column of height, to check the slope.
    #[arg(long, value_name = "NAME")]
    pub height_column: Option<String>,
    /// Its unit, where the log does not say.
    #[arg(long, value_name = "UNIT")]
    pub height_unit: Option<String>,
}

impl ColumnArgs {
    fn replace(&self, q: &mut LogColumns) {
        replace!(q, self; time = time_column, time_unit = time_unit, speed = speed_column, speed_unit = speed_unit,
            height = height_column, height_unit = height_unit);
    }
}

pub fn run(a: &Road) -> Result<(), Fail> {
    match &a.what {
        What::Predict(p) => forward(p),
        What::Log(l) => log(l),
        What::Coastdown(c) => coastdown(c),
    }
}

fn forward(a: &Predict) -> Result<(), Fail> {
    let mut q: PredictQuestion = files::question(a.question.as_deref())?;
    if !a.measures.is_empty() {
        q.measures.clone_from(&a.measures);
    }
    a.car.replace(&mut q.car)?;
    let catalogue = fairpull::builtin();
    let answer = fairpull::road_predict(&q, &catalogue)?;
    unused::note(&q, &answer, |q| fairpull::road_predict(q, &catalogue).ok());
    if a.json { out::json(&answer) } else { out::text(&times(&answer)) }
}

fn half(i: &Interval) -> f64 {
    0.5 * (i.hi95 - i.lo95)
}

fn times(a: &PredictAnswer) -> String {
    let rows: Vec<Vec<String>> = a
        .times
        .iter()
        .map(|t| match (&t.predicted, &t.why) {
            (Some(p), _) => vec![
                t.name.clone(),
                with_half(p.time_s.value, half(&p.time_s)),
                format!("{:.0}", p.distance_m),
                format!("{:.1}", p.end_speed_kmh),
                String::new(),
            ],
            (None, why) => {
                vec![
                    t.name.clone(),
                    "-".into(),
                    String::new(),
                    String::new(),
                    why.clone().unwrap_or_default(),
                ]
            }
        })
        .collect();
    let mut text = table::table(&["Measure", ">Time, s ± 95 %", ">Way, m", ">End, km/h", "Why not"], &rows);
    text += &remarks(&a.assumed, "Assumed");
    text + &remarks(&a.cautions, "Caution")
}

fn remarks<T: AsRef<str>>(all: &[T], word: &str) -> String {
    let mut text = String::new();
    for (i, r) in all.iter().enumerate() {
        let gap = if i == 0 { "\n" } else { "" };
        text += &format!("{gap}{word}: {}\n", table::wrap(r.as_ref(), 100).join("\n  "));
    }
    text
}

/// A log; a satellite track (GPX, NMEA 0183) becomes one, and standard error says what was left out.
fn bytes(path: &Path) -> Result<(String, Vec<u8>), Fail> {
    let name = out::name(path);
    let bytes = files::read(path).map_err(|e| Fail::plain(format!("{name}: {e}")))?;
    if !fairpull_tracks::is_track(&bytes) {
        return Ok((name, bytes));
    }
    let track = fairpull_tracks::read(&bytes, &name).map_err(|e| Fail::plain(e.to_string()))?;
    if track.left_out > 0 {
        Fail::note(&format!("{name}: {} rows without time, fix or speed were left out", track.left_out));
    }
    if track.from_positions {
        Fail::note(&format!(
            "{name}: the receiver wrote no speed; it is taken from positions, which is noisier, and its noise is in the intervals"
        ));
    }
    Ok((name, track.to_csv().into_bytes()))
}

fn borrowed(all: &[(String, Vec<u8>)]) -> Vec<LogBytes<'_>> {
    all.iter().map(|(n, b)| (n.as_str(), b.as_slice())).collect()
}

fn log(a: &Log) -> Result<(), Fail> {
    let mut q: RoadLogQuestion = files::question(a.question.as_deref())?;
    if !a.measure.is_empty() {
        q.measures.clone_from(&a.measure);
    }
    replace!(q, a; speed_scale = speed_scale, step = step);
    a.columns.replace(&mut q.columns);
    a.car.replace(&mut q.car)?;
    for t in &a.rig {
        let (speed, power) = t
            .split_once('=')
            .ok_or_else(|| Fail::plain(format!("--rig {t:?}: there is no =; write e.g. 140km/h=150kW")))?;
        q.rig.push(fairpull::RigQuestion {
            speed: speed.trim().into(),
            wheel_power: power.trim().into(),
            crank_power: None,
        });
    }
    let there = bytes(&a.log)?;
    let back = a.back.as_deref().map(bytes).transpose()?;
    let back = back.as_ref().map(|(n, b)| (n.as_str(), b.as_slice()));
    idle(&q.car);
    let answer = fairpull::road_log(&q, (&there.0, &there.1), back)?;
    if a.json { out::json(&answer) } else { out::text(&shown(&answer)) }
}

/// A log shows the power itself; what only a prediction needs is said to be idle.
fn idle(car: &CarQuestion) {
    let texts = [
        ("power", &car.power),
        ("site", &car.site),
        ("driveline_efficiency", &car.driveline_efficiency),
        ("tyre_radius", &car.tyre_radius),
        ("shift_time", &car.shift_time),
        ("shift_speed", &car.shift_speed),
        ("launch_speed", &car.launch_speed),
        ("friction", &car.friction),
        ("driven", &car.driven),
    ];
    let mut given: Vec<&str> = texts.iter().filter(|(_, t)| t.is_some()).map(|(name, _)| *name).collect();
    let lists = [
        ("gears", !car.gears.is_empty()),
        ("final_drive", car.final_drive.is_some()),
        ("curve", !car.curve.is_empty()),
    ];
    given.extend(lists.iter().filter(|(_, there)| *there).map(|(name, _)| *name));
    for name in given {
        Fail::note(&format!(
            "car.{name} changes nothing in this answer: a log needs mass, road load and air"
        ));
    }
}

fn shown(a: &RoadLogAnswer) -> String {
    let mut text = String::new();
    for l in &a.logs {
        let r = &l.result;
        text += &format!(
            "{}: pull from {:.1} to {:.1} s at {:.0} Hz, noise {:.2} km/h, {} shift(s)\n\n",
            l.file,
            r.pull_s[0],
            r.pull_s[1],
            r.rate_hz,
            r.noise_kmh,
            r.shifts.len()
        );
        let rows: Vec<Vec<String>> = r
            .times
            .iter()
            .map(|t| {
                vec![
                    t.name.clone(),
                    with_half(t.time_s.value, half(&t.time_s)),
                    format!("{:.0}", t.distance_m),
                ]
            })
            .collect();
        if !rows.is_empty() {
            text += &format!("{}\n", table::table(&["Measure", ">Time, s ± 95 %", ">Way, m"], &rows));
        }
        if let Some(p) = &r.peak {
            let w = p.at.wheel_power_kw;
            let edge =
                if p.interior { "" } else { " (at the edge of the log: the true peak may lie outside)" };
            text += &format!(
                "Peak power at the wheels {} kW at {:.0} km/h{edge}\n",
                with_half(w.value, half(&w)),
                p.at.speed_kmh
            );
        }
        if let Some(s) = &r.slope {
            let v = s.slope_percent;
            text += &format!("Slope from height {} %\n", with_half(v.value, half(&v)));
        }
        text += &remarks(&r.notices, "Note");
        text.push('\n');
    }
    if let Some(b) = &a.both_directions {
        let rows: Vec<Vec<String>> =
            b.times.iter().map(|(n, t)| vec![n.clone(), with_half(t.value, half(t))]).collect();
        text += &table::table(&["Both directions", ">Time, s ± 95 %"], &rows);
        text.push('\n');
    }
    let curve = a
        .both_directions
        .as_ref()
        .map_or_else(|| a.logs.first().map_or(&[][..], |l| &l.result.power), |b| &b.power);
    let rows: Vec<Vec<String>> = curve
        .iter()
        .map(|p| {
            let w = p.wheel_power_kw;
            vec![alone(p.speed_kmh), with_half(w.value, half(&w)), format!("{:.2}", p.acceleration_mps2)]
        })
        .collect();
    text += &table::table(&[">km/h", ">Wheel power, kW ± 95 %", ">m/s²"], &rows);
    if let Some(c) = &a.rig {
        text += &format!("\nRig against road: {}\n", c.finding);
    }
    text += &remarks(&a.assumed, "Assumed");
    text + &remarks(&a.cautions, "Caution")
}

fn coastdown(a: &Coastdown) -> Result<(), Fail> {
    let mut q: CoastDownQuestion = files::question(a.question.as_deref())?;
    replace!(q, a; mean_mass = mean_mass, rotating_mass = rotating_mass, test_mass = test_mass,
        temperature = temperature, pressure = pressure, wind = wind, half_width = half_width);
    a.columns.replace(&mut q.columns);
    let read = |paths: &[PathBuf]| paths.iter().map(|p| bytes(p)).collect::<Result<Vec<_>, _>>();
    let (there, back) = (read(&a.there)?, read(&a.back)?);
    let ask = |q: &CoastDownQuestion| fairpull::road_coast_down(q, &borrowed(&there), &borrowed(&back));
    let answer = ask(&q)?;
    unused::note(&q, &answer, |q| ask(q).ok());
    if a.json { out::json(&answer) } else { out::text(&road_load(&answer)) }
}

fn road_load(a: &CoastDownAnswer) -> String {
    let r = &a.result;
    let rows: Vec<Vec<String>> = r
        .points
        .iter()
        .map(|p| {
            vec![
                alone(p.speed_kmh),
                format!("{:.2}", p.time_s),
                format!("{:.2}", 100.0 * p.precision),
                with_half(p.force_n.value, half(&p.force_n)),
                format!("{:+.2}", p.residual_n),
                if p.precise { "" } else { "outside the criterion of 3 %" }.into(),
            ]
        })
        .collect();
    let mut text = table::table(
        &[">km/h", ">Time, s", ">Precision, %", ">Force, N ± 95 %", ">Residual, N", "Remark"],
        &rows,
    );
    let row = |what: &str, f: [f64; 3]| vec![what.into(), alone(f[0]), alone(f[1]), format!("{:.5}", f[2])];
    let rows = [row("as measured", r.measured_kmh), row("20 °C, 100 kPa, still air", r.corrected_kmh)];
    text +=
        &format!("\n{}", table::table(&["Road load", ">f0, N", ">f1, N/(km/h)", ">f2, N/(km/h)²"], &rows));
    text += &format!("\nDrag area of the quadratic part: {} m²\n", alone(a.drag_area_m2));
    text += &remarks(&r.notices, "Note");
    text += &remarks(&a.assumed, "Assumed");
    text + &remarks(&a.cautions, "Caution")
}
