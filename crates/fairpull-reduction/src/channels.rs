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
        let room = || Vec::with_capacity(rows.len());
        let mut r = Readings { role: c.role, time: room(), value: room() };
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

#[cfg(test)]
mod tests {
    use super::*;

    fn readings(role: Role, time: &[f64], value: &[f64]) -> Readings {
        Readings { role, time: time.to_vec(), value: value.to_vec() }
    }

    /// Readings half way to the neighbours count; at the ends of the grid those within 50 ms.
    #[test]
    fn means_around_the_grid() {
        let time: Vec<f64> = (0..41).map(|i| 0.25 * f64::from(i)).collect();
        let value: Vec<f64> = time.iter().map(|t| 100.0 * t).collect();
        let r = readings(Role::OilTemperature, &time, &value);
        let got = on_grid(&r, &[1.0, 2.0, 5.0, 7.01, 9.0]);
        // 0.95 to 1.5: 1, 1.25, 1.5; 1.5 to 3.5; 3.5 to 6.005; 6.005 to 8.005; 8.005 to 9.05
        for (got, expected) in got.iter().zip([125.0, 250.0, 475.0, 712.5, 862.5]) {
            assert!((got - expected).abs() < 1e-9, "{got} {expected}");
        }
        let one = on_grid(&r, &[1.1]);
        assert!(one[0].is_nan(), "{one:?}");
        assert_eq!(on_grid(&r, &[1.04]), [100.0]);
        assert_eq!(on_grid(&r, &[0.96]), [100.0]);
        assert!(on_grid(&r, &[1.0502])[0].is_nan() && on_grid(&r, &[0.9498])[0].is_nan());
        // a neighbour that is not reached is none
        let got = on_grid(&r, &[f64::NAN, 2.01, f64::NAN]);
        assert_eq!(got[1], 200.0);
        assert!(got[0].is_nan() && got[2].is_nan());
    }

    #[test]
    fn a_channel_of_a_state() {
        let (a, b) = (
            [readings(Role::Lambda, &[0.0, 1.0, 2.0], &[0.9, 0.8, 0.95])],
            [readings(Role::Lambda, &[0.0, 1.0, 2.0], &[0.7, 0.84, 0.9])],
        );
        let curve = |x: &[f64]| vec![(Role::Lambda, x.to_vec())];
        let pulls = [
            (a.as_slice(), curve(&[0.9, 0.8, 0.82, f64::NAN])),
            (b.as_slice(), curve(&[0.94, 0.84, 0.88, 0.9])),
            ([].as_slice(), Vec::new()),
        ];
        let found = of_state(&pulls, 1..3, 2);
        assert_eq!(found.len(), 1);
        let c = &found[0];
        let near = |got: f64, expected: f64| assert!((got - expected).abs() < 1e-12, "{got} {expected}");
        c.per_pull.iter().zip([0.81, 0.86]).for_each(|(got, expected)| near(*got, expected));
        near(c.mean.value, 0.835);
        // two values 0.05 apart: t at one degree of freedom times half of that
        near(c.mean.high - c.mean.value, coverage_factor(1.0) * 0.025);
        near(c.scatter.0, 0.05 / libm::sqrt(2.0));
        assert_eq!(c.scatter.1, 2);
        near(c.at_peak.value, 0.85);
        near(c.at_peak.value - c.at_peak.low, coverage_factor(1.0) * 0.03);
        assert_eq!(c.extremes, (0.7, 0.95));
        c.curve.iter().zip([0.92, 0.82, 0.85, 0.9]).for_each(|(got, expected)| near(*got, expected));
        // nothing of it in the band, nothing to say; one pull has no interval
        let outside = [(a.as_slice(), curve(&[0.9, f64::NAN, f64::NAN, 0.8]))];
        assert!(of_state(&outside, 1..3, 0).is_empty());
        let single = of_state(&pulls[..1], 1..3, 3);
        near(single[0].mean.value, 0.81);
        assert!(single[0].mean.low.is_nan() && single[0].at_peak.value.is_nan());
    }
}
