//! Questions: what does a road log show, what do coast-downs show, and does the rig agree with the road?

use fairpull_recordings::{Column, Layout, Role, guess, read};
use fairpull_road::{
    BothDirections, CAUTIONS, CoastDown, CoastDownRuns, CrossCheck, Factor, LogResult, LogSetup, RigPower,
    SpeedLog, SpeedPoint, analyse, both_directions, coast_down, cross_check, interval_times,
};
use fairpull_units::Dimension as D;
use serde::{Deserialize, Serialize};

use crate::AskError;
use crate::roads::{CarQuestion, measures, road};
use crate::stated::quantity;

/// Schema of [`RoadLogAnswer`].
pub const ROAD_LOG_SCHEMA: &str = "fairpull-road-log-1";
/// Schema of [`CoastDownAnswer`].
pub const COAST_DOWN_SCHEMA: &str = "fairpull-road-coastdown-1";

/// A car, and how its log is to be read.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct RoadLogQuestion {
    /// The car: mass, road load, air; power and gears are not used.
    pub car: CarQuestion,
    /// What is to be timed; the usual speeds inside the log when left out.
    pub measures: Vec<String>,
    /// Columns of the log.
    pub columns: LogColumns,
    /// Factor of the rotating parts, one for each gear of the pull; `car.mass_factor` when left out.
    pub mass_factors: Vec<f64>,
    /// Standard uncertainty of the scale of speed: 0 % for satellite speed (default), about 1 % for wheel speed.
    pub speed_scale: Option<String>,
    /// Step of the power curve [default: 5 km/h].
    pub step: Option<String>,
    /// Power of the rig at the same air, by road speed.
    pub rig: Vec<RigQuestion>,
}

/// Columns of a road log by name; a guess from the header when left out.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct LogColumns {
    /// Column of time.
    pub time: Option<String>,
    /// Its unit, where the log does not say.
    pub time_unit: Option<String>,
    /// Column of speed.
    pub speed: Option<String>,
    /// Its unit, where the log does not say.
    pub speed_unit: Option<String>,
    /// Column of height, to check the slope.
    pub height: Option<String>,
    /// Its unit, where the log does not say.
    pub height_unit: Option<String>,
}

/// Power of the rig at a road speed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct RigQuestion {
    /// Road (roller surface) speed.
    pub speed: String,
    /// Power at the wheels with standard uncertainty, restated to the air of the road run.
    pub wheel_power: String,
    /// Power at the crankshaft at the same point.
    pub crank_power: Option<String>,
}

/// What the logs show.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RoadLogAnswer {
    /// [`ROAD_LOG_SCHEMA`].
    pub schema: &'static str,
    /// The logs in the order given.
    pub logs: Vec<NamedLog>,
    /// Both directions averaged, when a log of the other direction is given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub both_directions: Option<BothDirections>,
    /// Rig against road, when the rig's power is given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rig: Option<CrossCheck>,
    /// What was assumed, in words.
    pub assumed: Vec<String>,
    /// Cautions for road tests.
    pub cautions: Vec<&'static str>,
}

/// One log.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NamedLog {
    /// File.
    pub file: String,
    /// What it shows.
    #[serde(flatten)]
    pub result: LogResult,
}

/// A log as bytes with its name.
pub type LogBytes<'a> = (&'a str, &'a [u8]);

/// Times and power of one log, or of two in opposite directions.
///
/// # Errors
/// [`AskError`] naming the field, or the log with its line and column.
pub fn road_log(
    question: &RoadLogQuestion,
    there: LogBytes<'_>,
    back: Option<LogBytes<'_>>,
) -> Result<RoadLogAnswer, AskError> {
    let r = question.car.rolling()?;
    let mut assumed = r.assumed.clone();
    let scale = question
        .speed_scale
        .as_deref()
        .map_or(Ok(0.0), |t| quantity("speed_scale", t, D::Ratio).map(|s| s.value))?;
    let step =
        question.step.as_deref().map_or(Ok(5.0), |t| quantity("step", t, D::Speed).map(|s| 3.6 * s.value))?;
    let mass_factors =
        if question.mass_factors.is_empty() { vec![r.factor.value] } else { question.mass_factors.clone() };
    let setup = LogSetup {
        mass_kg: r.mass.value,
        mass_u_kg: r.mass.uncertainty,
        mass_factors,
        mass_factor_u: r.factor.uncertainty,
        load: r.load,
        f0_u_n: r.f0_u,
        drag_u_relative: libm::hypot(r.drag_relative, r.density_relative),
        conditions: r.on,
        slope_u_percent: r.slope_u,
        headwind_u_mps: r.wind_u,
        speed_scale_u_relative: scale,
        curve_step_kmh: step,
    };
    let mut logs = Vec::new();
    for (file, bytes) in core::iter::once(there).chain(back) {
        let (log, remarks) = speed_log(&question.columns, file, bytes)?;
        assumed.extend(remarks);
        let asked = wanted(question, &log)?;
        let result = analyse(&log, &setup, &asked).map_err(|e| road(file, &e))?;
        logs.push(NamedLog { file: file.into(), result });
    }
    let both = match logs.as_slice() {
        [a, b] => Some(both_directions(&a.result, &b.result).map_err(|e| road(&b.file, &e))?),
        _ => None,
    };
    let rig = if question.rig.is_empty() {
        None
    } else {
        let rig = rig_curve(&question.rig)?;
        let one = logs.first().map_or(&[][..], |l| &l.result.power);
        let curve = both.as_ref().map_or(one, |b| &b.power);
        Some(cross_check(&rig, curve, &setup).map_err(|e| road("rig", &e))?)
    };
    Ok(RoadLogAnswer {
        schema: ROAD_LOG_SCHEMA,
        logs,
        both_directions: both,
        rig,
        assumed,
        cautions: CAUTIONS.to_vec(),
    })
}

/// The measures asked for; without any, the usual pairs of speeds that the log crosses.
fn wanted(q: &RoadLogQuestion, log: &SpeedLog) -> Result<Vec<fairpull_road::Measure>, AskError> {
    if !q.measures.is_empty() {
        return measures(&q.measures);
    }
    let low = log.speed_kmh.iter().copied().fold(f64::INFINITY, f64::min);
    let high = log.speed_kmh.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let usual = measures(&[])?;
    Ok(usual
        .into_iter()
        .filter(|m| match m {
            fairpull_road::Measure::Speeds { from_kmh, to_kmh, .. } => {
                // a standing start is extrapolated from a walking pace
                (*from_kmh > low || (*from_kmh == 0.0 && low < 3.6)) && *to_kmh < high
            }
            _ => false,
        })
        .collect())
}

fn rig_curve(rows: &[RigQuestion]) -> Result<Vec<RigPower>, AskError> {
    let one = |(i, r): (usize, &RigQuestion)| {
        let field = |name: &str| format!("rig[{}].{name}", i + 1);
        let power = quantity(&field("wheel_power"), &r.wheel_power, D::Power)?;
        let crank =
            r.crank_power.as_deref().map(|t| quantity(&field("crank_power"), t, D::Power)).transpose()?;
        Ok(RigPower {
            speed_kmh: quantity(&field("speed"), &r.speed, D::Speed)?.value * 3.6,
            wheel_power_kw: power.value / 1e3,
            u_kw: power.uncertainty / 1e3,
            crank_power_kw: crank.map(|c| c.value / 1e3),
        })
    };
    rows.iter().enumerate().map(one).collect()
}

/// Speed and height of a log, and what had to be guessed.
fn speed_log(columns: &LogColumns, file: &str, bytes: &[u8]) -> Result<(SpeedLog, Vec<String>), AskError> {
    let fail = |e: fairpull_recordings::RecordingError| AskError::new("log", "", e.to_string(), "");
    let guessed = guess(bytes, file).map_err(fail)?;
    let mut remarks = Vec::new();
    let mut layout = Vec::new();
    let wanted = [
        (Role::Time, &columns.time, &columns.time_unit, "time"),
        (Role::RoadSpeed, &columns.speed, &columns.speed_unit, "speed"),
        (Role::Height, &columns.height, &columns.height_unit, "height"),
    ];
    for (role, name, unit, key) in wanted {
        let found = guessed.columns.iter().find(|c| match name {
            Some(n) => c.name == *n,
            None => c.role == Some(role),
        });
        let (name, from_log) = match (name, found) {
            (Some(n), f) => (n.clone(), f.and_then(|c| c.unit.clone())),
            (None, Some(c)) => {
                remarks.push(format!("{file}: column {:?} is read as {} ({})", c.name, role.words(), c.why));
                (c.name.clone(), c.unit.clone())
            }
            (None, None) if role == Role::Height => continue,
            (None, None) => {
                let names: Vec<&str> = guessed.columns.iter().map(|c| c.name.as_str()).collect();
                return Err(AskError::new(
                    &format!("columns.{key}"),
                    "",
                    format!("no column of {file} looks like {}", role.words()),
                    format!("name one of: {}", names.join(", ")),
                ));
            }
        };
        let mut column = Column::new(role, &name);
        if let Some(u) = unit.clone().or(from_log) {
            column = column.unit(&u);
        }
        layout.push(column);
    }
    let recording = read(bytes, file, &Layout::of(layout)).map_err(fail)?;
    let (log, more) = SpeedLog::from_recording(&recording).map_err(|e| road(file, &e))?;
    remarks.extend(more);
    remarks.extend(recording.repairs.iter().map(|r| format!("{file}: {r}")));
    Ok((log, remarks))
}

/// Coast-downs in both directions: times by speed, or the logs themselves.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct CoastDownQuestion {
    /// Mean of the mass before and after the runs.
    pub mean_mass: Option<String>,
    /// Equivalent mass of rotating parts; 3 % of the mean mass when left out.
    pub rotating_mass: Option<String>,
    /// Mass that the result is wanted for; the mean mass when left out.
    pub test_mass: Option<String>,
    /// Mean air temperature.
    pub temperature: Option<String>,
    /// Mean air pressure.
    pub pressure: Option<String>,
    /// Mean wind along the track over both directions [default: 0].
    pub wind: Option<String>,
    /// Factor of the precision criterion.
    pub factor: Factor,
    /// Times by reference speed.
    pub points: Vec<PointQuestion>,
    /// Reference speeds for logs [default: every 10 km/h that all logs cross].
    pub speeds: Vec<String>,
    /// Half the width of the interval for logs [default: 5 km/h].
    pub half_width: Option<String>,
    /// Columns of the logs.
    pub columns: LogColumns,
}

/// Times of all runs through one reference speed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct PointQuestion {
    /// Reference speed.
    pub speed: String,
    /// Half the width of the interval [default: 5 km/h].
    pub half_width: Option<String>,
    /// Times in one direction, s, in the order of the pairs.
    pub a_s: Vec<f64>,
    /// Times in the other direction, s, in the same order.
    pub b_s: Vec<f64>,
}

/// Road load from coast-downs.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CoastDownAnswer {
    /// [`COAST_DOWN_SCHEMA`].
    pub schema: &'static str,
    /// The road load.
    #[serde(flatten)]
    pub result: CoastDown,
    /// Drag area that the quadratic part amounts to, m².
    pub drag_area_m2: f64,
    /// What was assumed, in words.
    pub assumed: Vec<String>,
    /// Cautions for road tests.
    pub cautions: Vec<&'static str>,
}

/// Road load from times, or from logs of both directions in the order of the pairs.
///
/// # Errors
/// [`AskError`] naming the field, or the log.
pub fn road_coast_down(
    q: &CoastDownQuestion,
    there: &[LogBytes<'_>],
    back: &[LogBytes<'_>],
) -> Result<CoastDownAnswer, AskError> {
    let mut assumed = Vec::new();
    let must = |name: &str, text: &Option<String>, example: &str, d: D| {
        let t = text
            .as_deref()
            .ok_or_else(|| AskError::new(name, "", "is missing", format!("give e.g. {example}")))?;
        quantity(name, t, d).map(|s| s.value)
    };
    let optional = |name: &str, text: &Option<String>, d: D| {
        text.as_deref().map(|t| quantity(name, t, d).map(|s| s.value)).transpose()
    };
    let mean_mass_kg = must("mean_mass", &q.mean_mass, "1603kg", D::Mass)?;
    let rotating_mass_kg = optional("rotating_mass", &q.rotating_mass, D::Mass)?.unwrap_or_else(|| {
        assumed.push("rotating parts weigh 3 % of the mean mass".into());
        0.03 * mean_mass_kg
    });
    let mut points = q.points.iter().enumerate().map(stated_point).collect::<Result<Vec<_>, _>>()?;
    if !there.is_empty() || !back.is_empty() {
        points.extend(logged_points(q, there, back, &mut assumed)?);
    }
    let runs = CoastDownRuns {
        points,
        mean_mass_kg,
        rotating_mass_kg,
        test_mass_kg: optional("test_mass", &q.test_mass, D::Mass)?,
        temperature_c: must("temperature", &q.temperature, "12C", D::Temperature)? - 273.15,
        pressure_kpa: must("pressure", &q.pressure, "1002hPa", D::Pressure)? / 1e3,
        wind_mps: optional("wind", &q.wind, D::Speed)?.unwrap_or(0.0),
        factor: q.factor,
    };
    let result = coast_down(&runs).map_err(|e| road("coast-down", &e))?;
    let drag_area_m2 = result.load.drag_area();
    Ok(CoastDownAnswer {
        schema: COAST_DOWN_SCHEMA,
        result,
        drag_area_m2,
        assumed,
        cautions: CAUTIONS.to_vec(),
    })
}

fn half(field: &str, text: &Option<String>) -> Result<f64, AskError> {
    text.as_deref().map_or(Ok(5.0), |t| quantity(field, t, D::Speed).map(|s| 3.6 * s.value))
}

fn stated_point((i, p): (usize, &PointQuestion)) -> Result<SpeedPoint, AskError> {
    let field = |name: &str| format!("points[{}].{name}", i + 1);
    Ok(SpeedPoint {
        speed_kmh: 3.6 * quantity(&field("speed"), &p.speed, D::Speed)?.value,
        half_width_kmh: half(&field("half_width"), &p.half_width)?,
        a_s: p.a_s.clone(),
        b_s: p.b_s.clone(),
    })
}

fn logged_points(
    q: &CoastDownQuestion,
    there: &[LogBytes<'_>],
    back: &[LogBytes<'_>],
    assumed: &mut Vec<String>,
) -> Result<Vec<SpeedPoint>, AskError> {
    let width = half("half_width", &q.half_width)?;
    let mut read_all = |logs: &[LogBytes<'_>]| {
        logs.iter()
            .map(|(file, bytes)| {
                let (log, remarks) = speed_log(&q.columns, file, bytes)?;
                assumed.extend(remarks);
                Ok(((*file).to_owned(), log))
            })
            .collect::<Result<Vec<_>, AskError>>()
    };
    let (a, b) = (read_all(there)?, read_all(back)?);
    let mut speeds = q
        .speeds
        .iter()
        .map(|t| quantity("speeds", t, D::Speed).map(|s| 3.6 * s.value))
        .collect::<Result<Vec<_>, _>>()?;
    if speeds.is_empty() {
        let all = || a.iter().chain(&b).map(|(_, l)| &l.speed_kmh);
        let least = |v: &Vec<f64>| v.iter().copied().fold(f64::INFINITY, f64::min);
        let most = |v: &Vec<f64>| v.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let low = all().map(least).fold(f64::NEG_INFINITY, f64::max);
        let high = all().map(most).fold(f64::INFINITY, f64::min);
        // no road vehicle coasts down from more than 300 km/h
        speeds =
            (1..=30).map(|i| 10.0 * f64::from(i)).filter(|v| v - width > low && v + width < high).collect();
    }
    let times = |logs: &[(String, SpeedLog)]| {
        logs.iter()
            .map(|(file, log)| interval_times(log, &speeds, width).map_err(|e| road(file, &e)))
            .collect::<Result<Vec<_>, _>>()
    };
    let (ta, tb) = (times(&a)?, times(&b)?);
    let column = |runs: &[Vec<fairpull_road::Interval>], i: usize| {
        runs.iter().filter_map(|r| r.get(i)).map(|t| t.value).collect::<Vec<f64>>()
    };
    Ok(speeds
        .iter()
        .enumerate()
        .map(|(i, v)| SpeedPoint {
            speed_kmh: *v,
            half_width_kmh: width,
            a_s: column(&ta, i),
            b_s: column(&tb, i),
        })
        .collect())
}
