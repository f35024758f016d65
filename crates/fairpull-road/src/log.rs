//! Times and power from a log of speed: the inverse of [`crate::predict`].

use crate::car::{Conditions, few};
use crate::error::{RoadError, within};
use crate::interval::Interval;
use crate::load::RoadLoad;
use crate::measure::Measure;
use crate::pull::{pulls, shifts};
use crate::reader::Reader;
use crate::slope::{SlopeFound, slope_from_height};
use crate::smooth::{FEWEST, smooth};
use serde::{Deserialize, Serialize};

/// A log of one or more pulls: satellite or wheel speed at 5 to 100 Hz.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpeedLog {
    /// Time, s, rising; need not be evenly spaced.
    pub time_s: Vec<f64>,
    /// Speed, km/h.
    pub speed_kmh: Vec<f64>,
    /// Height above any level, m, to check the slope, NaN where missing; empty when not logged.
    #[serde(default)]
    pub height_m: Vec<f64>,
}

/// What has to be known of the car and the road to read power from a log.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LogSetup {
    /// Mass as driven, kg.
    pub mass_kg: f64,
    /// Its standard uncertainty, kg.
    #[serde(default)]
    pub mass_u_kg: f64,
    /// Factor λ of the rotating parts, one for each gear of the pull in order; the last stands for all later ones.
    pub mass_factors: Vec<f64>,
    /// Standard uncertainty of λ.
    #[serde(default)]
    pub mass_factor_u: f64,
    /// Road load.
    pub load: RoadLoad,
    /// Standard uncertainty of its constant part, N.
    #[serde(default)]
    pub f0_u_n: f64,
    /// Relative standard uncertainty of drag, air density included.
    #[serde(default)]
    pub drag_u_relative: f64,
    /// Air, slope and wind. A slope found from height takes the place of the one given here.
    pub conditions: Conditions,
    /// Standard uncertainty of the slope given, percent.
    #[serde(default)]
    pub slope_u_percent: f64,
    /// Standard uncertainty of the wind along the road, m/s.
    #[serde(default)]
    pub headwind_u_mps: f64,
    /// Relative standard uncertainty of the scale of speed: 0 for satellite speed, about 0.01 for wheel speed.
    #[serde(default)]
    pub speed_scale_u_relative: f64,
    /// Step of the power curve, km/h.
    pub curve_step_kmh: f64,
}

/// A time read from a log.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct LoggedTime {
    /// What was timed.
    pub measure: Measure,
    /// Its name.
    pub name: String,
    /// Time, s.
    pub time_s: Interval,
    /// Standard uncertainty from noise and sampling, s.
    pub run_u_s: f64,
    /// Standard uncertainty from the scale of speed, s.
    pub rig_u_s: f64,
    /// Distance during the timing, m.
    pub distance_m: f64,
    /// Speed at the end, km/h.
    pub end_speed_kmh: f64,
}

/// Power at the wheels at a road speed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct PowerAt {
    /// Road speed, km/h.
    pub speed_kmh: f64,
    /// Power at the contact of tyre and road, kW, power that accelerates rotating parts included.
    pub wheel_power_kw: Interval,
    /// Standard uncertainty from noise, kW: changes from run to run.
    pub run_u_kw: f64,
    /// Standard uncertainty from mass, road load, slope, wind and speed scale, kW: the same in every run.
    pub rig_u_kw: f64,
    /// Acceleration, m/s².
    pub acceleration_mps2: f64,
}

/// Highest power of a pull.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Peak {
    /// The point.
    pub at: PowerAt,
    /// False when power still rises or already falls at the edge of the log, so that the true peak may lie outside.
    pub interior: bool,
}

/// A shift found in a log.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct ShiftFound {
    /// Begins no earlier than, s.
    pub from_s: f64,
    /// Ends no later than, s.
    pub to_s: f64,
}

/// What a log shows.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct LogResult {
    /// Start and end of the pull that was read, s.
    pub pull_s: [f64; 2],
    /// How many pulls the log holds; the one with the greatest gain of speed is read.
    pub pulls: usize,
    /// Samples per second.
    pub rate_hz: f64,
    /// Standard deviation of the noise of speed, km/h.
    pub noise_kmh: f64,
    /// Correlation of the noise of neighbouring samples; well above 0 the receiver filters its speed.
    pub noise_correlation: f64,
    /// Shifts.
    pub shifts: Vec<ShiftFound>,
    /// Slope from height.
    pub slope: Option<SlopeFound>,
    /// The times asked for.
    pub times: Vec<LoggedTime>,
    /// Power curve by road speed.
    pub power: Vec<PowerAt>,
    /// Highest power.
    pub peak: Option<Peak>,
    /// Remarks.
    pub notices: Vec<String>,
}

/// Reads times and power from the largest pull of a log.
///
/// Speed is smoothed as kinetic energy (see the crate's notes); crossings are interpolated; all intervals hold the
/// noise as the log itself shows it, its correlation included, and the stated uncertainties of mass, road load,
/// slope, wind and speed scale. A constant delay of the receiver cancels in times between two speeds.
///
/// # Errors
/// [`RoadError`]: too few samples, time not rising, speed never crossed, a value no car or log has.
pub fn analyse(log: &SpeedLog, setup: &LogSetup, measures: &[Measure]) -> Result<LogResult, RoadError> {
    setup.check()?;
    let v: Vec<f64> = log.speed_kmh.iter().map(|x| x / 3.6).collect();
    let t = &log.time_s;
    if t.len() != v.len() {
        return Err(RoadError::Unequal {
            left: "time_s",
            left_len: t.len(),
            right: "speed_kmh",
            right_len: v.len(),
        });
    }
    few("samples of the log", t.len(), FEWEST, "log faster or over a longer stretch")?;
    for (i, x) in v.iter().enumerate() {
        within(
            *x,
            -1.0,
            200.0,
            &format!("speed, sample {}", i + 1),
            "m/s",
            "check the unit of the speed column",
        )?;
    }
    let all = pulls(&v);
    let gain = |r: &core::ops::Range<usize>| {
        v.get(r.end - 1).copied().unwrap_or(0.0) - v.get(r.start).copied().unwrap_or(0.0)
    };
    let mut best: Option<&core::ops::Range<usize>> = None;
    for r in &all {
        if best.is_none_or(|b| gain(r) > gain(b)) {
            best = Some(r);
        }
    }
    let Some(range) = best.cloned() else {
        return Err(RoadError::NoAnswer {
            what: "the log holds no pull: speed never gains 18 km/h without falling back by 7 km/h"
                .to_owned(),
            mend: "log a pull with rising speed, and check the speed column and its unit",
        });
    };
    // Close to standstill energy carries no information on power; a standing start is extrapolated from above 1 m/s.
    let start = range.clone().find(|i| v.get(*i).is_some_and(|x| *x > 1.0)).unwrap_or(range.start);
    let span = start..range.end;
    let (pt, pv) = (t.get(span.clone()).unwrap_or(&[]), v.get(span.clone()).unwrap_or(&[]));
    few("samples of the pull", pt.len(), FEWEST, "log faster or over a longer stretch")?;
    crate::error::rising(pt, "time", "s")?;
    let found = shifts(pt, pv);
    let mut fresh = vec![false; pt.len()];
    for (a, b) in &found {
        for i in [a + 1, *b] {
            if let Some(f) = fresh.get_mut(i) {
                *f = true;
            }
        }
    }
    let curve = smooth(pt, pv, &fresh)?;
    let slope = slope_from_height(log, span.clone(), &v)?;
    let mut reader =
        Reader { curve: &curve, setup: setup.clone(), v: pv, found: &found, notices: Vec::new() };
    if let Some(s) = &slope {
        reader.take_slope(s);
    }
    let times = measures.iter().map(|m| reader.time(*m)).collect::<Result<Vec<_>, _>>()?;
    let power = reader.power_curve()?;
    let peak = reader.peak();
    let ends = [pt.first().copied().unwrap_or(0.0), pt.last().copied().unwrap_or(0.0)];
    let mut notices = core::mem::take(&mut reader.notices);
    if all.len() > 1 {
        notices.push(format!(
            "the log holds {} pulls; the one with the greatest gain of speed was read",
            all.len()
        ));
    }
    if curve.correlation > 0.5 {
        notices.push("the speed is filtered by its receiver: neighbouring samples are correlated and the intervals are wider for it".to_owned());
    }
    if setup.mass_factors.len() > 1 && setup.mass_factors.len() != found.len() + 1 {
        notices.push(format!(
            "{} mass factors were given but {} shifts were found; each factor was used for one gear in order",
            setup.mass_factors.len(),
            found.len()
        ));
    }
    let at = |i: usize| pt.get(i).copied().unwrap_or(0.0);
    Ok(LogResult {
        pull_s: ends,
        pulls: all.len(),
        rate_hz: (pt.len() - 1) as f64 / (ends[1] - ends[0]),
        noise_kmh: curve.noise * 3.6,
        noise_correlation: curve.correlation,
        shifts: found.iter().map(|(a, b)| ShiftFound { from_s: at(*a), to_s: at(*b) }).collect(),
        slope,
        times,
        power,
        peak,
        notices,
    })
}

impl LogSetup {
    fn check(&self) -> Result<(), RoadError> {
        within(self.mass_kg, 30.0, 100_000.0, "mass", "kg", "give the mass as driven, with driver and fuel")?;
        few(
            "mass factors",
            self.mass_factors.len(),
            1,
            "give at least one; 1.04 is usual in third or fourth gear",
        )?;
        for f in &self.mass_factors {
            within(*f, 1.0, 3.0, "mass factor", "1", "1.03 to 1.10 is usual in high gears")?;
        }
        within(self.curve_step_kmh, 0.1, 100.0, "step of the power curve", "km/h", "5 km/h is usual")?;
        within(
            self.conditions.density_kg_per_m3,
            0.3,
            2.0,
            "air density",
            "kg/m³",
            "compute it from pressure and temperature",
        )?;
        within(
            self.load.density_kg_per_m3,
            0.3,
            2.0,
            "air density of the road load",
            "kg/m³",
            "state the density that f2 belongs to",
        )?;
        for (field, value, most, unit) in [
            ("f0 of the road load", self.load.f0_n, 2e5, "N"),
            ("f1 of the road load", self.load.f1_n_per_mps, 1e4, "N per m/s"),
            ("f2 of the road load", self.load.f2_n_per_mps2, 100.0, "N per (m/s)²"),
        ] {
            within(
                value,
                -most,
                most,
                field,
                unit,
                "check the unit the coefficients are for: m/s, not km/h",
            )?;
        }
        within(self.conditions.slope_percent, -40.0, 40.0, "slope", "%", "give rise over run times 100")?;
        within(
            self.conditions.headwind_mps,
            -60.0,
            60.0,
            "headwind",
            "m/s",
            "give the component along the road",
        )?;
        for (field, u) in [
            ("uncertainty of the mass", self.mass_u_kg),
            ("uncertainty of the mass factor", self.mass_factor_u),
            ("uncertainty of f0", self.f0_u_n),
            ("uncertainty of drag", self.drag_u_relative),
            ("uncertainty of the slope", self.slope_u_percent),
            ("uncertainty of the wind", self.headwind_u_mps),
            ("uncertainty of the speed scale", self.speed_scale_u_relative),
        ] {
            within(u, 0.0, 1e4, field, "as its field says", "give a standard uncertainty, 0 or more")?;
        }
        Ok(())
    }
}
