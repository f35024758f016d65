//! The car on the rig.

use crate::{Response, TorqueCurve};

/// Drag of driveline and tyres at the contact: a + b·v + c·v², mildly falling as oil and tyres warm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drag {
    /// N.
    pub a: f64,
    /// N per m/s.
    pub b: f64,
    /// N per (m/s)².
    pub c: f64,
    /// Relative change per kelvin of driveline temperature, negative as a rule.
    pub per_kelvin: f64,
}

impl Drag {
    /// Force at a roller speed in m/s, N, with the driveline `warmer` kelvin above the first pull.
    #[must_use]
    pub fn at(&self, v: f64, warmer: f64) -> f64 {
        (self.a + v * (self.b + v * self.c)) * (1.0 + self.per_kelvin * warmer)
    }
}

/// A car in one gear.
#[derive(Clone, Debug, PartialEq)]
pub struct Vehicle {
    /// Invented name.
    pub name: String,
    /// Full-load torque on reference air.
    pub torque: TorqueCurve,
    /// Answer to the ambient.
    pub response: Response,
    /// Turbocharged, else naturally aspirated.
    pub turbocharged: bool,
    /// Displacement, cm³.
    pub displacement_cm3: f64,
    /// Cylinders.
    pub cylinders: u32,
    /// Stroke, mm.
    pub stroke_mm: f64,
    /// Driven wheels.
    pub driven_wheels: u32,
    /// Tyre radius, m.
    pub tyre_radius_m: f64,
    /// Engine revolutions per wheel revolution.
    pub ratio: f64,
    /// Engine, flywheel and clutch, kg·m².
    pub engine_inertia: f64,
    /// Gearbox referred to the engine, kg·m².
    pub gearbox_inertia: f64,
    /// Each driven wheel, kg·m².
    pub wheel_inertia: f64,
    /// Share of crank power lost in meshes, 0 to 1.
    pub load_share: f64,
    /// Drag at the contact.
    pub drag: Drag,
    /// Slip per newton of tractive force, 1/N; 0 for a rigid contact.
    pub slip_per_newton: f64,
    /// Relative loss of torque per kelvin of heat soak in the charge.
    pub torque_per_soak_kelvin: f64,
    /// Idle, 1/min.
    pub idle_rpm: f64,
    /// Start of the pull, 1/min.
    pub start_rpm: f64,
    /// End of the pull, 1/min.
    pub end_rpm: f64,
    /// Fuel grade in words.
    pub fuel: String,
}

impl Vehicle {
    /// Rotating mass at the contact with the gear engaged and the clutch closed or open, kg.
    #[must_use]
    pub fn rotating_mass(&self, clutch_closed: bool) -> f64 {
        let behind = self.gearbox_inertia + if clutch_closed { self.engine_inertia } else { 0.0 };
        let at_wheel = f64::from(self.driven_wheels) * self.wheel_inertia + behind * self.ratio * self.ratio;
        at_wheel / (self.tyre_radius_m * self.tyre_radius_m)
    }

    /// Roller speed at an engine speed without slip, m/s.
    #[must_use]
    pub fn speed_at(&self, rpm: f64) -> f64 {
        rpm * core::f64::consts::TAU / 60.0 / self.ratio * self.tyre_radius_m
    }
}
