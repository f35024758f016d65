//! Two runs in opposite directions: slope and wind leave most of the mean.

use crate::error::{RoadError, within};
use crate::interval::Interval;
use crate::load::RoadLoad;
use crate::log::{LogResult, PowerAt};
use serde::{Deserialize, Serialize};

/// Mean of two directions.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BothDirections {
    /// Names and times of the measures that both runs hold.
    pub times: Vec<(String, Interval)>,
    /// Power at the speeds that both runs hold.
    pub power: Vec<PowerAt>,
}

/// Harmonic mean of the times of two opposite directions: the mean acceleration. A slope of ±1 % leaves 0.01 % of it
/// (0.2 % of the arithmetic mean), a wind of ±3 m/s leaves f2·w² of force, see [`still_air`].
///
/// # Errors
/// [`RoadError::Field`] for a time that is not positive.
pub fn harmonic_mean(a_s: f64, b_s: f64) -> Result<f64, RoadError> {
    for t in [a_s, b_s] {
        within(t, 1e-3, 1e5, "time", "s", "give the times of both directions")?;
    }
    Ok(2.0 / (1.0 / a_s + 1.0 / b_s))
}

/// Takes the remaining effect of wind out of a harmonic mean: f2·w² over the mean accelerating force
/// m_eff·(v2 − v1)/T, speeds in km/h, wind along the road in m/s.
#[must_use]
pub fn still_air(
    time_s: f64,
    from_kmh: f64,
    to_kmh: f64,
    effective_mass_kg: f64,
    load: &RoadLoad,
    wind_mps: f64,
) -> f64 {
    let mean_force = effective_mass_kg * (to_kmh - from_kmh) / 3.6 / time_s;
    time_s * (1.0 - load.f2_n_per_mps2 * wind_mps * wind_mps / mean_force)
}

/// Averages two logs of opposite directions, both read with slope 0 and wind 0: times by the harmonic mean, power at
/// equal speed by the mean. Noise averages; the shared uncertainties of mass and road load do not.
///
/// # Errors
/// [`RoadError::NoAnswer`] when the logs share no measure and no speed.
pub fn both_directions(a: &LogResult, b: &LogResult) -> Result<BothDirections, RoadError> {
    let mut times = Vec::new();
    for x in &a.times {
        let Some(y) = b.times.iter().find(|y| y.measure == x.measure) else { continue };
        let (ta, tb) = (x.time_s.value, y.time_s.value);
        let mean = harmonic_mean(ta, tb)?;
        let (ca, cb) = (0.5 * (mean / ta) * (mean / ta), 0.5 * (mean / tb) * (mean / tb));
        let run = libm::hypot(ca * x.run_u_s, cb * y.run_u_s);
        let rig = ca * x.rig_u_s + cb * y.rig_u_s;
        times.push((x.name.clone(), Interval::normal(mean, libm::hypot(run, rig))));
    }
    let mut power = Vec::new();
    for x in &a.power {
        let same = |y: &&PowerAt| libm::fabs(y.speed_kmh - x.speed_kmh) < 1e-6 * x.speed_kmh;
        let Some(y) = b.power.iter().find(same) else { continue };
        let run = 0.5 * libm::hypot(x.run_u_kw, y.run_u_kw);
        let rig = 0.5 * (x.rig_u_kw + y.rig_u_kw);
        let value = 0.5 * (x.wheel_power_kw.value + y.wheel_power_kw.value);
        power.push(PowerAt {
            speed_kmh: x.speed_kmh,
            wheel_power_kw: Interval::normal(value, libm::hypot(run, rig)),
            run_u_kw: run,
            rig_u_kw: rig,
            acceleration_mps2: 0.5 * (x.acceleration_mps2 + y.acceleration_mps2),
        });
    }
    if times.is_empty() && power.is_empty() {
        return Err(RoadError::NoAnswer {
            what: "the two runs share no timed measure and no speed of the power curve".to_owned(),
            mend: "read both logs with the same measures and step, over the same speeds",
        });
    }
    Ok(BothDirections { times, power })
}
