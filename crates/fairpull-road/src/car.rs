//! The vehicle and the road as plain data, and the forces they make.

use crate::error::{RoadError, rising, within};
use crate::inertia::RotatingParts;
use crate::load::RoadLoad;
use serde::{Deserialize, Serialize};

/// How the rotating parts are counted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Rotating {
    /// One factor λ on the mass for all gears.
    MassFactor(f64),
    /// From the parts, gear by gear.
    Parts(RotatingParts),
}

/// Largest drive force that the tyres pass on: friction × share of the weight on the driven wheels.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Traction {
    /// Coefficient of friction of tyre and road, 1.
    pub friction: f64,
    /// Share of the weight on the driven wheels while accelerating, 0 to 1.
    pub driven_share: f64,
}

/// Power at the wheels at a road speed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpeedPower {
    /// Road speed, km/h.
    pub speed_kmh: f64,
    /// Power at the wheels, kW.
    pub wheel_power_kw: f64,
}

/// A shift at a road speed, during which the car rolls without drive.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShiftAt {
    /// Road speed of the shift, km/h.
    pub speed_kmh: f64,
    /// Time without drive, s.
    pub seconds: f64,
}

/// Power at the crankshaft at an engine speed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EnginePower {
    /// Engine speed, 1/min.
    pub engine_speed_rpm: f64,
    /// Power at the crankshaft, kW.
    pub crank_power_kw: f64,
}

/// An engine curve with its gears.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Geared {
    /// Full-load curve, engine speed rising; linear in between.
    pub curve: Vec<EnginePower>,
    /// Power at the wheels over power at the crankshaft at constant speed, 0 to 1.
    pub driveline_efficiency: f64,
    /// Gear ratios, first gear first.
    pub gear_ratios: Vec<f64>,
    /// Final drive ratio.
    pub final_drive: f64,
    /// Rolling radius, m.
    pub tyre_radius_m: f64,
    /// Longitudinal slip of the driven wheels, 0 to 1.
    #[serde(default)]
    pub slip: f64,
    /// Engine speed of the shifts; the end of the curve when not given.
    #[serde(default)]
    pub shift_rpm: Option<f64>,
    /// Time without drive at a shift, s.
    pub shift_s: f64,
    /// Engine speed held by the slipping clutch while starting; the start of the curve when not given.
    #[serde(default)]
    pub launch_rpm: Option<f64>,
}

/// What drives the car.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Drive {
    /// The same power at the wheels at every speed.
    Constant {
        /// Power at the wheels, kW.
        wheel_power_kw: f64,
    },
    /// Power at the wheels by road speed, linear in between.
    BySpeed {
        /// The curve, speed rising.
        points: Vec<SpeedPower>,
        /// Shifts, speed rising.
        #[serde(default)]
        shifts: Vec<ShiftAt>,
    },
    /// An engine with gears.
    Geared(Geared),
}

/// A car that accelerates.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Car {
    /// Mass as driven, kg.
    pub mass_kg: f64,
    /// Rotating parts.
    pub rotating: Rotating,
    /// Road load.
    pub load: RoadLoad,
    /// Limit of the tyres; none when not given.
    #[serde(default)]
    pub traction: Option<Traction>,
    /// The drive.
    pub drive: Drive,
}

/// Air and road of a run.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Conditions {
    /// Air density, kg/m³.
    pub density_kg_per_m3: f64,
    /// Slope, percent: rise over run times 100, uphill positive.
    #[serde(default)]
    pub slope_percent: f64,
    /// Headwind along the road, m/s; tail wind negative.
    #[serde(default)]
    pub headwind_mps: f64,
}

impl Conditions {
    /// Level road and still air of the given density, kg/m³.
    #[must_use]
    pub const fn still(density_kg_per_m3: f64) -> Self {
        Self { density_kg_per_m3, slope_percent: 0.0, headwind_mps: 0.0 }
    }

    /// Sine of the slope angle.
    #[must_use]
    pub fn slope_sine(&self) -> f64 {
        let s = 0.01 * self.slope_percent;
        s / libm::sqrt(1.0 + s * s)
    }
}

impl Car {
    /// Refuses values that no car has.
    ///
    /// # Errors
    /// [`RoadError`] naming the field, or the gear hole.
    pub fn check(&self) -> Result<(), RoadError> {
        within(self.mass_kg, 30.0, 100_000.0, "mass", "kg", "give the mass as driven, with driver and fuel")?;
        match &self.rotating {
            Rotating::MassFactor(f) => {
                within(*f, 1.0, 3.0, "mass factor", "1", "1.03 to 1.10 is usual in high gears")?;
            }
            Rotating::Parts(parts) => {
                parts.engaged_kg(1.0)?;
            }
        }
        let air = "give the three coefficients or mass, drag area and rolling coefficient";
        within(self.load.f0_n, 0.0, 1e5, "f0", "N", air)?;
        within(self.load.f1_n_per_mps, -1e4, 1e4, "f1", "N/(m/s)", air)?;
        within(self.load.f2_n_per_mps2, 0.0, 100.0, "f2", "N/(m/s)²", air)?;
        within(self.load.density_kg_per_m3, 0.3, 2.0, "air density of the road load", "kg/m³", air)?;
        if let Some(t) = &self.traction {
            within(t.friction, 0.05, 3.0, "tyre friction", "1", "0.7 to 1.1 is usual on dry tarmac")?;
            within(t.driven_share, 0.05, 1.0, "driven share of the weight", "1", "give a share from 0 to 1")?;
        }
        match &self.drive {
            Drive::Constant { wheel_power_kw } => {
                within(*wheel_power_kw, 0.1, 10_000.0, "wheel power", "kW", "give a positive power")?;
            }
            Drive::BySpeed { points, shifts } => check_table(points, shifts)?,
            Drive::Geared(g) => g.check()?,
        }
        Ok(())
    }
}

fn check_table(points: &[SpeedPower], shifts: &[ShiftAt]) -> Result<(), RoadError> {
    few("power by road speed", points.len(), 2, "give at least two points")?;
    for p in points {
        within(p.speed_kmh, 0.0, 700.0, "road speed of the curve", "km/h", "check the unit")?;
        within(p.wheel_power_kw, 0.0, 10_000.0, "wheel power of the curve", "kW", "check the unit")?;
    }
    let speeds: Vec<f64> = points.iter().map(|p| p.speed_kmh).collect();
    rising(&speeds, "road speed of the curve", "km/h")?;
    for s in shifts {
        within(s.seconds, 0.0, 10.0, "shift time", "s", "give seconds without drive")?;
    }
    let at: Vec<f64> = shifts.iter().map(|s| s.speed_kmh).collect();
    rising(&at, "road speed of the shifts", "km/h")
}

pub(crate) fn few(what: &str, got: usize, need: usize, mend: &'static str) -> Result<(), RoadError> {
    if got >= need { Ok(()) } else { Err(RoadError::TooFew { what: what.to_owned(), got, need, mend }) }
}

impl Geared {
    fn check(&self) -> Result<(), RoadError> {
        few("power curve", self.curve.len(), 2, "give at least two points of the full-load curve")?;
        for p in &self.curve {
            within(
                p.engine_speed_rpm,
                100.0,
                30_000.0,
                "engine speed of the curve",
                "1/min",
                "check the unit",
            )?;
            within(p.crank_power_kw, 0.0, 10_000.0, "crank power of the curve", "kW", "check the unit")?;
        }
        let speeds: Vec<f64> = self.curve.iter().map(|p| p.engine_speed_rpm).collect();
        rising(&speeds, "engine speed of the curve", "1/min")?;
        let share = "give wheel power over crank power, a share from 0 to 1";
        within(self.driveline_efficiency, 0.3, 1.0, "driveline efficiency", "1", share)?;
        within(self.final_drive, 0.2, 50.0, "final drive ratio", "1", "give input turns per output turn")?;
        within(self.tyre_radius_m, 0.05, 2.0, "tyre radius", "m", "give the rolling radius")?;
        within(self.slip, 0.0, 0.3, "slip", "1", "a driven wheel on dry tarmac slips 0.01 to 0.05")?;
        within(self.shift_s, 0.0, 10.0, "shift time", "s", "give seconds without drive")?;
        few("gear ratios", self.gear_ratios.len(), 1, "give the ratio of every gear, first gear first")?;
        for r in &self.gear_ratios {
            within(*r, 0.05, 50.0, "gear ratio", "1", "give input turns per output turn")?;
        }
        let (first, last) = self.ends();
        let shift = self.shift();
        within(shift, first, last, "shift speed", "1/min", "shift inside the power curve")?;
        within(self.launch(), first, last, "launch speed", "1/min", "hold a speed inside the power curve")?;
        for (i, pair) in self.gear_ratios.windows(2).enumerate() {
            let [lower, upper] = *pair else { continue };
            let field = format!("ratio of gear {}", i + 2);
            within(
                upper,
                0.01,
                lower * (1.0 - 1e-9),
                &field,
                "1",
                "ratios fall from gear to gear: sort them",
            )?;
            let after = shift * upper / lower;
            if after < first {
                return Err(RoadError::GearHole {
                    lower: i + 1,
                    upper: i + 2,
                    shift_rpm: shift,
                    after_rpm: after,
                    first_rpm: first,
                    lower_ratio: lower,
                    upper_ratio: upper,
                });
            }
        }
        Ok(())
    }

    pub(crate) fn ends(&self) -> (f64, f64) {
        let first = self.curve.first().map_or(0.0, |p| p.engine_speed_rpm);
        (first, self.curve.last().map_or(0.0, |p| p.engine_speed_rpm))
    }

    pub(crate) fn shift(&self) -> f64 {
        self.shift_rpm.unwrap_or(self.ends().1)
    }

    pub(crate) fn launch(&self) -> f64 {
        self.launch_rpm.unwrap_or(self.ends().0)
    }

    /// Road speed, m/s, at an engine speed in a gear: v = 2π·r·n·(1 − s)/(60·i_g·i_f).
    #[must_use]
    pub fn road_speed(&self, engine_speed_rpm: f64, gear_ratio: f64) -> f64 {
        let turn = 2.0 * core::f64::consts::PI * self.tyre_radius_m * (1.0 - self.slip);
        engine_speed_rpm / 60.0 * turn / (gear_ratio * self.final_drive)
    }
}
