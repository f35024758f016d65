//! Reading evidence: each reader returns a checked number in SI units or the refusal that names it.

use core::marker::PhantomData;
use fairpull_core::uom::si::f64::{AngularVelocity, Velocity};
use fairpull_core::{
    Cite, DrivePoint, EngineSpeed, Limit, Notice, PowerAtWheels, Reading, Refusal, RoadSpeed,
};

/// What is physically possible on a road or a rig: wide enough never to bind on a real car.
const HERE: Cite = Cite::new("fairpull", "what a vehicle on a test rig can be", Reading::Derived);

const fn limit(what: &'static str, unit: &'static str, low: f64, high: f64) -> Limit {
    Limit { what, unit, low, high, cite: HERE }
}

const WHEEL: Limit = limit("wheel power", "W", 0.0, 1.0e7);
const ROAD: Limit = limit("road speed", "m/s", 0.0, 200.0);
const ENGINE: Limit = limit("engine speed", "1/min", 50.0, 30_000.0);
const TORQUE: Limit = limit("largest input torque of the gearbox", "N·m", 1.0, 20_000.0);
const SHARE: Limit = limit("load-proportional share", "1", 0.0, 0.5);

/// `Ok(value)` inside the limit; a non-finite value is refused as such.
pub(crate) fn within(limit: Limit, value: f64) -> Result<f64, Refusal> {
    if value.is_finite() {
        Ok(limit.check(value)?)
    } else {
        Err(Refusal::NotFinite { what: limit.what, unit: limit.unit })
    }
}

/// A standard uncertainty: finite and not negative.
fn uncertainty(what: &'static str, unit: &'static str, value: f64) -> Result<f64, Refusal> {
    within(limit(what, unit, 0.0, f64::MAX), value)
}

/// Wheel power, W.
pub(crate) fn wheel(power: PowerAtWheels) -> Result<f64, Refusal> {
    within(WHEEL, power.watts())
}

/// Road speed, m/s.
pub(crate) fn road_speed(at: &DrivePoint, cite: Cite) -> Result<f64, Refusal> {
    let v = at.road_speed.ok_or(Refusal::Missing {
        what: "road speed",
        mend: "give the roller surface speed of the point in m/s",
        cite,
    })?;
    within(ROAD, v.metres_per_second())
}

/// Engine speed as (rad/s, 1/min).
pub(crate) fn engine_speed(at: &DrivePoint, cite: Cite) -> Result<(f64, f64), Refusal> {
    let n = at.engine_speed.ok_or(Refusal::Missing {
        what: "engine speed",
        mend: "give the engine speed of the point in 1/min",
        cite,
    })?;
    Ok((n.radians_per_second(), within(ENGINE, n.rpm())?))
}

/// Largest permitted input torque of the gearbox, N·m.
pub(crate) fn max_torque(given: Option<f64>, cite: Cite) -> Result<f64, Refusal> {
    let t = given.ok_or(Refusal::Missing {
        what: "largest input torque of the gearbox",
        mend: "give the gearbox's rated input torque, or the engine's peak torque, in N·m",
        cite,
    })?;
    within(TORQUE, t)
}

/// A share of crankshaft power with its standard uncertainty, both 0 to 0.5.
pub(crate) fn share(given: (f64, f64)) -> Result<(f64, f64), Refusal> {
    Ok((within(SHARE, given.0)?, uncertainty("uncertainty of the load-proportional share", "1", given.1)?))
}

/// A power with its standard uncertainty, W; may be negative where the caller allows it.
pub(crate) fn power(what: &'static str, given: (f64, f64), low: f64) -> Result<(f64, f64), Refusal> {
    Ok((within(limit(what, "W", low, 1.0e7), given.0)?, uncertainty(what, "W", given.1)?))
}

/// The notice that goes with evidence of the vehicle's inertia: absent means not added, and the figure says so.
pub(crate) const NOT_ADDED: Notice = Notice::Convention {
    what: "the power that accelerates engine and driveline is not added: right for a steady run, low for a sweep",
};

/// A road speed for a card's example, m/s.
pub(crate) const fn at_road_speed(value: f64) -> RoadSpeed {
    RoadSpeed::new(Velocity { dimension: PhantomData, units: PhantomData, value })
}

/// An engine speed for a card's example, rad/s.
pub(crate) const fn at_engine_speed(value: f64) -> EngineSpeed {
    EngineSpeed::new(AngularVelocity { dimension: PhantomData, units: PhantomData, value })
}
