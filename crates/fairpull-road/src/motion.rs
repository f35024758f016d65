//! Forces and masses of a checked car on a road, gear by gear.

use crate::car::{Car, Conditions, Drive, Rotating};
use crate::error::{RoadError, within};
use crate::load::G;

/// Linear interpolation in a rising table; the end values beyond it.
pub(crate) fn table(points: impl Iterator<Item = (f64, f64)>, x: f64) -> f64 {
    let mut before: Option<(f64, f64)> = None;
    for (px, py) in points {
        if px >= x {
            return match before {
                Some((bx, by)) => by + (py - by) * ((x - bx) / (px - bx)),
                None => py,
            };
        }
        before = Some((px, py));
    }
    before.map_or(f64::NAN, |(_, y)| y)
}

/// A checked car on a road: forces and masses by gear.
pub(crate) struct Motion<'a> {
    pub(crate) car: &'a Car,
    pub(crate) on: Conditions,
    cap: f64,
    grade: f64,
}

impl<'a> Motion<'a> {
    pub(crate) fn new(car: &'a Car, on: Conditions) -> Result<Self, RoadError> {
        car.check()?;
        within(
            on.density_kg_per_m3,
            0.3,
            2.0,
            "air density",
            "kg/m³",
            "compute it from pressure and temperature",
        )?;
        within(on.slope_percent, -40.0, 40.0, "slope", "%", "give rise over run times 100")?;
        within(on.headwind_mps, -60.0, 60.0, "headwind", "m/s", "give the component along the road")?;
        let sine = on.slope_sine();
        let cosine = libm::sqrt(1.0 - sine * sine);
        let cap =
            car.traction.map_or(f64::INFINITY, |t| t.friction * t.driven_share * car.mass_kg * G * cosine);
        Ok(Self { car, on, cap, grade: car.mass_kg * G * sine })
    }

    fn ratio(&self, gear: usize) -> f64 {
        match &self.car.drive {
            Drive::Geared(g) => g.gear_ratios.get(gear).copied().unwrap_or(1.0),
            _ => 1.0,
        }
    }

    /// Effective mass with the gear engaged (`true`) or the clutch open.
    pub(crate) fn mass(&self, gear: usize, engaged: bool) -> Result<f64, RoadError> {
        Ok(match &self.car.rotating {
            Rotating::MassFactor(f) => f * self.car.mass_kg,
            Rotating::Parts(p) if engaged => self.car.mass_kg + p.engaged_kg(self.ratio(gear))?,
            Rotating::Parts(p) => self.car.mass_kg + p.clutch_open_kg(self.ratio(gear))?,
        })
    }

    pub(crate) fn resistance(&self, v: f64) -> f64 {
        self.car.load.force(v, self.on.headwind_mps, self.on.density_kg_per_m3) + self.grade
    }

    /// Drive force before the limit of the tyres, N; speed above 0.
    pub(crate) fn pull(&self, v: f64, gear: usize) -> f64 {
        match &self.car.drive {
            Drive::Constant { wheel_power_kw } => 1000.0 * wheel_power_kw / v,
            Drive::BySpeed { points, .. } => {
                1000.0 * table(points.iter().map(|p| (p.speed_kmh / 3.6, p.wheel_power_kw)), v) / v
            }
            Drive::Geared(g) => {
                let slipping = g.road_speed(g.launch(), self.ratio(gear));
                let at = if self.slips(v, gear) { slipping } else { v };
                let rpm = at / g.road_speed(1.0, self.ratio(gear));
                let kw = table(g.curve.iter().map(|p| (p.engine_speed_rpm, p.crank_power_kw)), rpm);
                1000.0 * kw * g.driveline_efficiency / at
            }
        }
    }

    /// True while the clutch slips: first gear below the launch speed.
    pub(crate) fn slips(&self, v: f64, gear: usize) -> bool {
        match &self.car.drive {
            Drive::Geared(g) => gear == 0 && v < g.road_speed(g.launch(), self.ratio(gear)),
            _ => false,
        }
    }

    pub(crate) fn limited(&self, v: f64, gear: usize) -> bool {
        self.pull(v, gear) > self.cap
    }

    pub(crate) fn drive(&self, v: f64, gear: usize) -> f64 {
        self.pull(v, gear).min(self.cap)
    }

    /// Speed (m/s) and duration (s) of the shift out of a gear; none in the last.
    pub(crate) fn shift(&self, gear: usize) -> Option<(f64, f64)> {
        match &self.car.drive {
            Drive::Geared(g) if gear + 1 < g.gear_ratios.len() => {
                Some((g.road_speed(g.shift(), self.ratio(gear)), g.shift_s))
            }
            Drive::BySpeed { shifts, .. } => shifts.get(gear).map(|s| (s.speed_kmh / 3.6, s.seconds)),
            _ => None,
        }
    }

    /// Fastest speed, m/s, that the drive is known for in a gear.
    pub(crate) fn end(&self, gear: usize) -> f64 {
        match &self.car.drive {
            Drive::Constant { .. } => f64::INFINITY,
            Drive::BySpeed { points, .. } => points.last().map_or(0.0, |p| p.speed_kmh / 3.6),
            Drive::Geared(g) => g.road_speed(g.ends().1, self.ratio(gear)),
        }
    }

    /// Slowest speed, m/s, that the drive is known for.
    pub(crate) fn start(&self) -> f64 {
        match &self.car.drive {
            Drive::BySpeed { points, .. } => points.first().map_or(0.0, |p| p.speed_kmh / 3.6),
            _ => 0.0,
        }
    }

    /// The next kink of the drive force above `v`, m/s.
    pub(crate) fn kink(&self, v: f64, gear: usize) -> f64 {
        let mut next = f64::INFINITY;
        let mut see = |x: f64| {
            if x > v * (1.0 + 1e-12) && x < next {
                next = x;
            }
        };
        match &self.car.drive {
            Drive::Constant { .. } => {}
            Drive::BySpeed { points, .. } => points.iter().for_each(|p| see(p.speed_kmh / 3.6)),
            Drive::Geared(g) => {
                let ratio = self.ratio(gear);
                g.curve.iter().for_each(|p| see(g.road_speed(p.engine_speed_rpm, ratio)));
                if gear == 0 {
                    see(g.road_speed(g.launch(), ratio));
                }
            }
        }
        next
    }
}
