//! Acceleration times of a car, with interval: what the road will show if the power is what it is said to be.

use crate::car::{Car, Conditions, Drive, Rotating};
use crate::error::{RoadError, within};
use crate::interval::Interval;
use crate::march::{Goal, Node, changeover, march};
use crate::measure::{Measure, ROLLOUT_M};
use crate::motion::Motion;
use serde::{Deserialize, Serialize};

/// Result of one run.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Timed {
    /// Time, s.
    pub time_s: f64,
    /// Distance during the timing, m.
    pub distance_m: f64,
    /// Speed at the end, km/h.
    pub end_speed_kmh: f64,
}

/// Times one measure without uncertainty.
///
/// # Errors
/// [`RoadError`] for bad input or a target that is not reached.
pub fn time(car: &Car, on: Conditions, measure: Measure) -> Result<Timed, RoadError> {
    measure.check()?;
    let motion = Motion::new(car, on)?;
    let (from, goal, rollout) = match measure {
        Measure::Speeds { from_kmh, to_kmh, rollout } => (from_kmh, Goal::Speed(to_kmh / 3.6), rollout),
        Measure::Distance { distance_m, from_kmh, rollout } => {
            let extra = if rollout { ROLLOUT_M } else { 0.0 };
            (from_kmh, Goal::Distance(distance_m + extra), rollout)
        }
    };
    let last = |nodes: Vec<Node>| nodes.last().copied().unwrap_or(Node { t: 0.0, v: 0.0, x: 0.0, a: 0.0 });
    let end = last(march(&motion, from / 3.6, goal)?);
    let start = if rollout {
        last(march(&motion, 0.0, Goal::Distance(ROLLOUT_M))?)
    } else {
        Node { t: 0.0, v: 0.0, x: 0.0, a: 0.0 }
    };
    Ok(Timed { time_s: end.t - start.t, distance_m: end.x - start.x, end_speed_kmh: end.v * 3.6 })
}

/// Speed, km/h, over time at equal steps (s), from a start speed until an end speed, both km/h: for plots and for
/// making test logs.
///
/// # Errors
/// As [`time`]; [`RoadError::Field`] for a step that is not positive.
pub fn trace(
    car: &Car,
    on: Conditions,
    from_kmh: f64,
    to_kmh: f64,
    step_s: f64,
) -> Result<Vec<[f64; 2]>, RoadError> {
    Measure::kmh(from_kmh, to_kmh).check()?;
    within(step_s, 1e-4, 60.0, "time step", "s", "give a positive step")?;
    let motion = Motion::new(car, on)?;
    let nodes = march(&motion, from_kmh / 3.6, Goal::Speed(to_kmh / 3.6))?;
    let end = nodes.last().map_or(0.0, |n| n.t);
    let count = libm::floor(end / step_s + 1e-9) as usize;
    let at = |i: usize| {
        let t = step_s * i as f64;
        crate::march::speed_at(&nodes, t).map(|v| [t, v * 3.6])
    };
    Ok((0..=count).filter_map(at).collect())
}

/// Standard uncertainties of the inputs of a prediction; 0 leaves one out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct CarUncertainty {
    /// Of the mass, kg.
    pub mass_kg: f64,
    /// Of the power, relative (0.01 is 1 %).
    pub power_relative: f64,
    /// Of the equivalent mass of the rotating parts, as a share of the vehicle's mass.
    pub mass_factor: f64,
    /// Of the constant part of the road load, N.
    pub f0_n: f64,
    /// Of the drag area or f2, relative.
    pub drag_relative: f64,
    /// Of the air density, relative.
    pub density_relative: f64,
    /// Of the friction of the tyres, 1.
    pub friction: f64,
    /// Of the slope, percent.
    pub slope_percent: f64,
    /// Of the wind along the road, m/s.
    pub headwind_mps: f64,
    /// Of the time of one shift, s.
    pub shift_s: f64,
    /// Of the model and the driver, relative on the time.
    pub model_relative: f64,
}

/// What one input adds to the uncertainty of a time.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// Name of the input.
    pub input: String,
    /// Change of the time per standard uncertainty of the input, s.
    pub effect_s: f64,
}

/// A predicted time.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Predicted {
    /// What is timed.
    pub measure: Measure,
    /// Its name.
    pub name: String,
    /// Time, s.
    pub time_s: Interval,
    /// Distance during the timing, m.
    pub distance_m: f64,
    /// Speed at the end, km/h.
    pub end_speed_kmh: f64,
    /// Contributions to the uncertainty, in the order of [`CarUncertainty`].
    pub shares: Vec<Share>,
}

/// Predicts times with 95 % intervals: first-order propagation (JCGM 100:2008, 5.1.2) with the differences taken over
/// one standard uncertainty to either side.
///
/// # Errors
/// [`RoadError`] for bad input or a target that is not reached with the best values.
pub fn predict(
    car: &Car,
    on: Conditions,
    u: &CarUncertainty,
    measures: &[Measure],
) -> Result<Vec<Predicted>, RoadError> {
    measures.iter().map(|m| one(car, on, u, *m)).collect()
}

fn one(car: &Car, on: Conditions, u: &CarUncertainty, measure: Measure) -> Result<Predicted, RoadError> {
    let best = time(car, on, measure)?;
    let mut shares = Vec::new();
    let mut sum = 0.0;
    for (input, size, change) in inputs(u) {
        within(
            size,
            0.0,
            1e6,
            &format!("uncertainty of {input}"),
            "as stated",
            "give a standard uncertainty, 0 or more",
        )?;
        if size == 0.0 {
            continue;
        }
        let at = |s: f64| {
            let (mut c, mut o) = (car.clone(), on);
            change(&mut c, &mut o, s);
            time(&c, o, measure).map(|t| t.time_s)
        };
        // A step that leaves the permitted range on one side is taken on the other side alone.
        let effect = match (at(size), at(-size)) {
            (Ok(up), Ok(down)) => 0.5 * (up - down),
            (Ok(up), Err(_)) => up - best.time_s,
            (Err(_), Ok(down)) => best.time_s - down,
            (Err(e), Err(_)) => return Err(e),
        };
        sum += effect * effect;
        shares.push(Share { input: input.to_owned(), effect_s: effect });
    }
    if u.model_relative > 0.0 {
        let effect = u.model_relative * best.time_s;
        sum += effect * effect;
        shares.push(Share { input: "model and driver".to_owned(), effect_s: effect });
    }
    Ok(Predicted {
        measure,
        name: measure.name(),
        time_s: Interval::normal(best.time_s, libm::sqrt(sum)),
        distance_m: best.distance_m,
        end_speed_kmh: best.end_speed_kmh,
        shares,
    })
}

type Change = fn(&mut Car, &mut Conditions, f64);

fn inputs(u: &CarUncertainty) -> [(&'static str, f64, Change); 10] {
    [
        ("mass", u.mass_kg, |c, _, s| c.mass_kg += s),
        ("power", u.power_relative, |c, _, s| scale_power(&mut c.drive, 1.0 + s)),
        ("rotating parts", u.mass_factor, |c, _, s| {
            // As extra road-bound inertia: for parts it is added on the wheels, where it acts in every gear alike.
            match &mut c.rotating {
                Rotating::MassFactor(f) => *f += s,
                Rotating::Parts(p) => {
                    let j = s * c.mass_kg * p.tyre_radius_m * p.tyre_radius_m / f64::from(p.wheels.max(1));
                    p.wheel_inertia_kg_m2 += j;
                }
            }
        }),
        ("constant road load", u.f0_n, |c, _, s| c.load.f0_n += s),
        ("drag", u.drag_relative, |c, _, s| c.load.f2_n_per_mps2 *= 1.0 + s),
        ("air density", u.density_relative, |_, o, s| o.density_kg_per_m3 *= 1.0 + s),
        ("tyre friction", u.friction, |c, _, s| {
            if let Some(t) = &mut c.traction {
                t.friction += s;
            }
        }),
        ("slope", u.slope_percent, |_, o, s| o.slope_percent += s),
        ("wind", u.headwind_mps, |_, o, s| o.headwind_mps += s),
        ("shift time", u.shift_s, |c, _, s| match &mut c.drive {
            Drive::Geared(g) => g.shift_s += s,
            Drive::BySpeed { shifts, .. } => shifts.iter_mut().for_each(|x| x.seconds += s),
            Drive::Constant { .. } => {}
        }),
    ]
}

/// Multiplies the power of a drive at every speed.
pub fn scale_power(drive: &mut Drive, factor: f64) {
    match drive {
        Drive::Constant { wheel_power_kw } => *wheel_power_kw *= factor,
        Drive::BySpeed { points, .. } => points.iter_mut().for_each(|p| p.wheel_power_kw *= factor),
        Drive::Geared(g) => g.curve.iter_mut().for_each(|p| p.crank_power_kw *= factor),
    }
}

/// The factor on the power of the car with which it does a measure in the given time, s.
///
/// # Errors
/// [`RoadError::NoAnswer`] when no factor between 0.05 and 20 gives the time: the limit of the tyres or the shifts
/// may alone take longer.
pub fn power_factor_for(car: &Car, on: Conditions, measure: Measure, time_s: f64) -> Result<f64, RoadError> {
    within(time_s, 0.05, 3600.0, "time", "s", "give the measured time")?;
    time(car, on, measure).map(|_| ()).or_else(|e| match e {
        RoadError::NotReached { .. } => Ok(()),
        other => Err(other),
    })?;
    let slower = |log_factor: f64| {
        let mut c = car.clone();
        scale_power(&mut c.drive, libm::exp(log_factor));
        time(&c, on, measure).map_or(true, |t| t.time_s > time_s)
    };
    let (low, high) = (libm::log(0.05), libm::log(20.0));
    if !slower(low) || slower(high) {
        return Err(RoadError::NoAnswer {
            what: format!(
                "no power from 1/20 to 20 times the given one does {} in {time_s} s",
                measure.name()
            ),
            mend: "check the time, the tyre limit, the shifts and the mass",
        });
    }
    Ok(libm::exp(changeover(slower, low, high)))
}
