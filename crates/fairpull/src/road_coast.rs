//! Question: what road load do coast-downs show?

use fairpull_road::{
    CAUTIONS, CoastDown, CoastDownRuns, Factor, SpeedLog, SpeedPoint, coast_down, interval_times,
};
use fairpull_units::Dimension as D;
use serde::Serialize;

use crate::AskError;
use crate::road_logs::{Driven, LogBytes, LogColumns, speed_log};
use crate::roads::road;
use crate::stated::quantity;

/// Schema of [`CoastDownAnswer`].
pub const COAST_DOWN_SCHEMA: &str = "fairpull-road-coastdown-1";

/// Coast-downs in both directions: times by speed, or the logs themselves.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
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
fairpull_tree::fields!(CoastDownQuestion default {
    mean_mass, rotating_mass, test_mass, temperature, pressure, wind, factor, points, speeds, half_width,
    columns,
});

/// Times of all runs through one reference speed.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
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
fairpull_tree::fields!(PointQuestion default { speed, half_width, a_s, b_s });

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
    let mut driven = Driven::default();
    let mut read_all = |logs: &[LogBytes<'_>]| {
        logs.iter()
            .map(|(file, bytes)| {
                let (log, remarks) = speed_log(&q.columns, file, bytes)?;
                driven.another(file, &log)?;
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
