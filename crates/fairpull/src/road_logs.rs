//! Questions: what does a road log show, and does the rig agree with the road?

use fairpull_recordings::{Column, Layout, Role, guess, read};
use fairpull_road::{
    BothDirections, CAUTIONS, CrossCheck, LogResult, LogSetup, RigPower, SpeedLog, analyse, both_directions,
    cross_check,
};
use fairpull_units::Dimension as D;
use serde::Serialize;

use crate::AskError;
use crate::engine::within;
use crate::road_car::CarQuestion;
use crate::roads::{measures, road};
use crate::stated::quantity;

/// Schema of [`RoadLogAnswer`].
pub const ROAD_LOG_SCHEMA: &str = "fairpull-road-log-1";

/// A car, and how its log is to be read.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
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
fairpull_tree::fields!(RoadLogQuestion default {
    car, measures, columns, mass_factors, speed_scale, step, rig,
});

/// Columns of a road log by name; a guess from the header when left out.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
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
fairpull_tree::fields!(LogColumns default { time, time_unit, speed, speed_unit, height, height_unit });

/// Power of the rig at a road speed.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct RigQuestion {
    /// Road (roller surface) speed.
    pub speed: String,
    /// Power at the wheels with standard uncertainty, restated to the air of the road run.
    pub wheel_power: String,
    /// Power at the crankshaft at the same point.
    pub crank_power: Option<String>,
}
fairpull_tree::fields!(RigQuestion default { speed, wheel_power, crank_power });

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
    let scale = question.speed_scale.as_deref().map_or(Ok(0.0), |t| {
        let scale = quantity("speed_scale", t, D::Ratio)?.value;
        within("speed_scale", t, scale, 0.0, 0.2, "as a ratio; write e.g. 1%")
    })?;
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
    let mut driven = Driven::default();
    for (file, bytes) in core::iter::once(there).chain(back) {
        let (log, remarks) = speed_log(&question.columns, file, bytes)?;
        driven.another(file, &log)?;
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

/// Logs given so far: one run is no run in the other direction, and no repeat of itself.
#[derive(Default)]
pub(crate) struct Driven(Vec<(String, Vec<f64>)>);

impl Driven {
    /// Refuses a log whose speeds agree with those of an earlier one in every digit, which no two runs do.
    pub fn another(&mut self, file: &str, log: &SpeedLog) -> Result<(), AskError> {
        if let Some((other, _)) = self.0.iter().find(|(_, speeds)| *speeds == log.speed_kmh) {
            let rows = log.speed_kmh.len();
            return Err(AskError::new(
                "log",
                file,
                format!(
                    "holds the same {rows} speeds to the last digit as {other}: one run is no second one"
                ),
                "name each run once, and one of the other direction as such",
            ));
        }
        self.0.push((file.to_owned(), log.speed_kmh.clone()));
        Ok(())
    }
}

/// Speed and height of a log, and what had to be guessed.
pub(crate) fn speed_log(
    columns: &LogColumns,
    file: &str,
    bytes: &[u8],
) -> Result<(SpeedLog, Vec<String>), AskError> {
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
