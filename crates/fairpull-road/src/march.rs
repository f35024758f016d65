//! The equation of motion m_eff·dv/dt = T(v) − F(v) − m·g·sin θ, integrated over speed.
//!
//! With speed as the variable, t = ∫ m dv/(T − F) and x = ∫ m v dv/(T − F) are quadratures with a smooth integrand
//! between the kinks of the drive force, so ten Gauss points a panel reach rounding error; a start from rest with
//! constant power is regular. Rolling during shifts, and the last approach to the terminal speed, are stepped in time.

use crate::error::RoadError;
use crate::motion::Motion;
use crate::quadrature::pair;

/// Widest panel, m/s.
const PANEL: f64 = 0.5;
/// Time step of the classical Runge-Kutta method where speed is not a usable variable, s.
const STEP: f64 = 0.01;
/// Longest run, s.
const LONGEST: f64 = 3600.0;

/// A point of a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Node {
    pub(crate) t: f64,
    pub(crate) v: f64,
    pub(crate) x: f64,
    pub(crate) a: f64,
}

/// Where a run ends.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Goal {
    Speed(f64),
    Distance(f64),
}

struct Run<'a, 'b> {
    motion: &'a Motion<'b>,
    gear: usize,
    nodes: Vec<Node>,
}

/// Integrates from a speed (m/s) to the goal; the last node is the goal.
pub(crate) fn march(motion: &Motion<'_>, from: f64, goal: Goal) -> Result<Vec<Node>, RoadError> {
    let low = motion.start();
    if from < low * (1.0 - 1e-12) {
        return Err(RoadError::Field {
            field: "start speed".to_owned(),
            value: from * 3.6,
            unit: "km/h",
            expected: format!("at least {:.2} km/h, where the power curve begins", low * 3.6),
            mend: "extend the curve to lower speeds or start faster",
        });
    }
    let mut gear = 0;
    while motion.shift(gear).is_some_and(|(v, _)| from >= v * (1.0 - 1e-12)) {
        gear += 1;
    }
    let mut run = Run { motion, gear, nodes: vec![Node { t: 0.0, v: from, x: 0.0, a: 0.0 }] };
    run.nodes = vec![Node { a: run.acceleration(from)?, ..run.last() }];
    run.go(goal)?;
    Ok(run.nodes)
}

impl Run<'_, '_> {
    fn last(&self) -> Node {
        self.nodes.last().copied().unwrap_or(Node { t: 0.0, v: 0.0, x: 0.0, a: 0.0 })
    }

    fn mass(&self, v: f64) -> Result<f64, RoadError> {
        self.motion.mass(self.gear, !self.motion.slips(v, self.gear))
    }

    fn acceleration(&self, v: f64) -> Result<f64, RoadError> {
        let v = v.max(1e-3);
        Ok((self.motion.drive(v, self.gear) - self.motion.resistance(v)) / self.mass(v)?)
    }

    fn stalled(&self, goal: Goal) -> RoadError {
        let target = match goal {
            Goal::Speed(v) => format!("the speed {:.2} km/h", v * 3.6),
            Goal::Distance(x) => format!("the distance {x:.2} m"),
        };
        RoadError::NotReached { target, stalled_kmh: self.last().v * 3.6 }
    }

    fn go(&mut self, goal: Goal) -> Result<(), RoadError> {
        loop {
            let now = self.last();
            if reached(&now, goal) {
                return Ok(());
            }
            if now.t > LONGEST {
                return Err(self.stalled(goal));
            }
            if let Some((at, seconds)) = self.motion.shift(self.gear)
                && now.v >= at * (1.0 - 1e-12)
            {
                self.roll(seconds, goal)?;
                if reached(&self.last(), goal) {
                    return Ok(());
                }
                self.gear += 1;
                continue;
            }
            let end = self.motion.shift(self.gear).map_or(self.motion.end(self.gear), |(v, _)| v);
            if now.v >= end * (1.0 - 1e-12) {
                return Err(self.stalled(goal));
            }
            self.panel(now, end, goal)?;
        }
    }

    /// One panel of quadrature, or one step in time close to the terminal speed.
    fn panel(&mut self, now: Node, end: f64, goal: Goal) -> Result<(), RoadError> {
        let (motion, gear) = (self.motion, self.gear);
        let mut to = (now.v + PANEL).min(end).min(motion.kink(now.v, gear));
        if let Goal::Speed(v) = goal {
            to = to.min(v);
        }
        let first = now.v.max(1e-6);
        if motion.limited(first, gear) && !motion.limited(to, gear) {
            to = changeover(|v| motion.limited(v, gear), first, to);
        }
        if motion.drive(first, gear) <= motion.resistance(first) {
            return Err(self.stalled(goal));
        }
        let tight = |v: f64| motion.drive(v, gear) < 1.02 * motion.resistance(v);
        if tight(to) {
            return match goal {
                Goal::Distance(_) => self.step(true, STEP, goal),
                Goal::Speed(_) => {
                    // The integrand has its pole at the terminal speed: keep the panel far from it in its own width.
                    let excess =
                        |v: f64| (motion.drive(v, gear) - motion.resistance(v)) / motion.resistance(v);
                    let mut width = to - now.v;
                    while excess(now.v + width) < 0.5 * excess(first) && width > 1e-6 {
                        width *= 0.5;
                    }
                    if width <= 1e-6 {
                        return Err(self.stalled(goal));
                    }
                    self.quadrature(now, now.v + width, goal)
                }
            };
        }
        self.quadrature(now, to, goal)
    }

    fn quadrature(&mut self, now: Node, to: f64, goal: Goal) -> Result<(), RoadError> {
        let mass = self.mass(0.5 * (now.v + to))?;
        let (motion, gear) = (self.motion, self.gear);
        let integral = |to: f64| {
            pair(now.v, to, |v| {
                let slowness = mass / (motion.drive(v, gear) - motion.resistance(v));
                [slowness, v * slowness]
            })
        };
        let mut to = to;
        let mut got = integral(to);
        if !(got[0] > 0.0 && got[1].is_finite()) {
            return Err(self.stalled(goal));
        }
        if let Goal::Distance(x) = goal
            && now.x + got[1] > x
        {
            to = changeover(|v| now.x + integral(v)[1] < x, now.v, to);
            got = integral(to);
            got[1] = x - now.x;
        }
        let a = self.acceleration(to)?;
        self.nodes.push(Node { t: now.t + got[0], v: to, x: now.x + got[1], a });
        Ok(())
    }

    fn roll(&mut self, seconds: f64, goal: Goal) -> Result<(), RoadError> {
        let steps = libm::ceil(seconds / STEP).max(1.0);
        for _ in 0..steps as usize {
            self.step(false, seconds / steps, goal)?;
            if reached(&self.last(), goal) {
                return Ok(());
            }
        }
        Ok(())
    }

    /// One step of the classical Runge-Kutta method.
    fn step(&mut self, driven: bool, h: f64, goal: Goal) -> Result<(), RoadError> {
        let now = self.last();
        let mass = if driven { self.mass(now.v)? } else { self.motion.mass(self.gear, false)? };
        let (motion, gear) = (self.motion, self.gear);
        let f = |v: f64| {
            let v = v.max(1e-3);
            let pull = if driven { motion.drive(v, gear) } else { 0.0 };
            (pull - motion.resistance(v)) / mass
        };
        let advance = |h: f64| {
            let k1 = f(now.v);
            let k2 = f(now.v + 0.5 * h * k1);
            let k3 = f(now.v + 0.5 * h * k2);
            let k4 = f(now.v + h * k3);
            let v = now.v + h / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
            let x = now.x + h * now.v + h * h / 6.0 * (k1 + k2 + k3);
            Node { t: now.t + h, v, x, a: f(v) }
        };
        let mut next = advance(h);
        if let Goal::Distance(x) = goal
            && next.x > x
        {
            next = advance(changeover(|h| advance(h).x < x, 0.0, h));
            next.x = x;
        }
        if next.v <= 0.0 {
            return Err(self.stalled(goal));
        }
        self.nodes.push(next);
        Ok(())
    }
}

fn reached(now: &Node, goal: Goal) -> bool {
    match goal {
        Goal::Speed(v) => now.v >= v,
        Goal::Distance(x) => now.x >= x,
    }
}

/// Where a predicate that is true at `low` and false at `high` changes, by bisection to machine precision.
pub(crate) fn changeover(is_low: impl Fn(f64) -> bool, mut low: f64, mut high: f64) -> f64 {
    for _ in 0..200 {
        let mid = 0.5 * (low + high);
        if mid <= low || mid >= high {
            break;
        }
        if is_low(mid) {
            low = mid;
        } else {
            high = mid;
        }
    }
    high
}

/// Speed, m/s, at a time within a run, by the cubic through speeds and accelerations of the two nodes around it.
pub(crate) fn speed_at(nodes: &[Node], t: f64) -> Option<f64> {
    let after = nodes.partition_point(|n| n.t < t);
    let (b, a) = (nodes.get(after)?, nodes.get(after.saturating_sub(1))?);
    let h = b.t - a.t;
    if h <= 0.0 {
        return Some(b.v);
    }
    let s = (t - a.t) / h;
    let (p, q) = (s * s * (3.0 - 2.0 * s), s * (1.0 - s));
    Some(a.v + (b.v - a.v) * p + h * q * ((1.0 - s) * a.a - s * b.a))
}
