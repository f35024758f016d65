//! What the power costs the engine: the other channels of the pulls, on the same engine-speed grid.

use fairpull_recordings::{PressureReference, Recording, Role};
use fairpull_uncertainty::{coverage_factor, mean_and_deviation};

use crate::outcome::{Bounded, ChannelOutcome};

/// Roles that carry the power itself.
const POWER: [Role; 10] = [
    Role::Time,
    Role::RollerSpeed,
    Role::RollerRotation,
    Role::RoadSpeed,
    Role::EngineSpeed,
    Role::BrakeForce,
    Role::HubTorque,
    Role::HubRotation,
    Role::Throttle,
    Role::Pedal,
];

/// One channel of one pull: time and SI value of every reading, gauge pressures put on the barometer.
#[derive(Clone, Debug)]
pub(crate) struct Readings {
    pub role: Role,
    pub time: Vec<f64>,
    pub value: Vec<f64>,
}

/// All channels of a pull beside the power. `rows` are the rows of the recording and their times.
pub(crate) fn collect(rec: &Recording, rows: &[(usize, f64)], barometer: f64) -> Vec<Readings> {
    let mut out = Vec::new();
    for c in rec.channels.iter().filter(|c| !POWER.contains(&c.role)) {
        let gauge = c.reference == Some(PressureReference::Gauge);
        let mut r = Readings { role: c.role, time: Vec::new(), value: Vec::new() };
        for (k, t) in rows {
            if let Some(v) = c.values.get(*k).map(|v| if gauge { v + barometer } else { *v })
                && v.is_finite()
            {
                r.time.push(*t);
                r.value.push(v);
            }
        }
        if r.value.len() >= 3 {
            out.push(r);
        }
    }
    out
}

/// Mean of the readings while the pull passes each grid speed (half way to its neighbours).
pub(crate) fn on_grid(r: &Readings, times: &[f64]) -> Vec<f64> {
    let n = times.len();
    (0..n)
        .map(|i| {
            let t = times[i];
            let before = if i > 0 { times[i - 1] } else { f64::NAN };
            let after = if i + 1 < n { times[i + 1] } else { f64::NAN };
            let low = if before.is_finite() { 0.5 * (before + t) } else { t - 0.05 };
            let high = if after.is_finite() { 0.5 * (after + t) } else { t + 0.05 };
            // the readings of a pull are in the order of time
            let first = r.time.partition_point(|x| *x < low);
            let end = r.time.partition_point(|x| *x <= high);
            let inside = r.value.get(first..end).unwrap_or(&[]);
            if inside.is_empty() { f64::NAN } else { inside.iter().sum::<f64>() / inside.len() as f64 }
        })
        .collect()
}

/// Channels of a state from its pulls' curves. `band` are the grid indices of the compared band; `peak` the index of
/// peak power.
pub(crate) fn of_state(
    pulls: &[(&[Readings], Vec<(Role, Vec<f64>)>)],
    band: core::ops::Range<usize>,
    peak: usize,
) -> Vec<ChannelOutcome> {
    let mut roles: Vec<Role> = Vec::new();
    for (_, curves) in pulls {
        for (role, _) in curves {
            if !roles.contains(role) {
                roles.push(*role);
            }
        }
    }
    roles.into_iter().filter_map(|role| one(role, pulls, band.clone(), peak)).collect()
}

fn one(
    role: Role,
    pulls: &[(&[Readings], Vec<(Role, Vec<f64>)>)],
    band: core::ops::Range<usize>,
    peak: usize,
) -> Option<ChannelOutcome> {
    let mut per_pull = Vec::new();
    let mut at_peak = Vec::new();
    let mut curves: Vec<&Vec<f64>> = Vec::new();
    let (mut smallest, mut largest) = (f64::INFINITY, f64::NEG_INFINITY);
    for (readings, grids) in pulls {
        let Some((_, curve)) = grids.iter().find(|(r, _)| *r == role) else { continue };
        let inside: Vec<f64> =
            curve.get(band.clone()).unwrap_or(&[]).iter().copied().filter(|v| v.is_finite()).collect();
        if inside.is_empty() {
            continue;
        }
        per_pull.push(inside.iter().sum::<f64>() / inside.len() as f64);
        if let Some(v) = curve.get(peak).filter(|v| v.is_finite()) {
            at_peak.push(*v);
        }
        for v in readings.iter().filter(|r| r.role == role).flat_map(|r| &r.value) {
            smallest = smallest.min(*v);
            largest = largest.max(*v);
        }
        curves.push(curve);
    }
    let first = curves.first()?;
    let curve = (0..first.len())
        .map(|i| {
            let here: Vec<f64> =
                curves.iter().filter_map(|c| c.get(i)).copied().filter(|v| v.is_finite()).collect();
            if here.is_empty() { f64::NAN } else { here.iter().sum::<f64>() / here.len() as f64 }
        })
        .collect();
    let (mean, deviation) = mean_and_deviation(&per_pull);
    Some(ChannelOutcome {
        role,
        mean: interval(&per_pull).unwrap_or(Bounded { value: mean, low: f64::NAN, high: f64::NAN }),
        scatter: (deviation, per_pull.len()),
        per_pull,
        at_peak: interval(&at_peak).unwrap_or(Bounded { value: f64::NAN, low: f64::NAN, high: f64::NAN }),
        extremes: (smallest, largest),
        curve,
    })
}

/// Mean with Student interval; the ends are NaN for a single value.
fn interval(x: &[f64]) -> Option<Bounded> {
    if x.is_empty() {
        return None;
    }
    let (mean, deviation) = mean_and_deviation(x);
    let n = x.len() as f64;
    Some(Bounded::absolute(mean, coverage_factor(n - 1.0) * deviation / libm::sqrt(n)))
}
