//! What a loss model may be told of the driveline. Every model reads what it needs and refuses by name without it.

use crate::{EngineSpeed, RoadSpeed};

/// Where on the pull a loss is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct DrivePoint {
    /// Speed of the roller surface or of the vehicle.
    pub road_speed: Option<RoadSpeed>,
    /// Engine speed.
    pub engine_speed: Option<EngineSpeed>,
}

impl DrivePoint {
    /// Nothing known of the point.
    #[must_use]
    pub const fn unknown() -> Self {
        Self { road_speed: None, engine_speed: None }
    }

    /// A point with both speeds.
    #[must_use]
    pub const fn new(road_speed: RoadSpeed, engine_speed: EngineSpeed) -> Self {
        Self { road_speed: Some(road_speed), engine_speed: Some(engine_speed) }
    }
}

/// Kind of gearbox, as far as published loss models tell them apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Gearbox {
    /// Manual, automated manual or dual clutch.
    ToothClutch,
    /// Planetary automatic with more than two friction shift clutches.
    Planetary,
    /// Planetary or other with a hydrodynamic converter in use.
    Converter,
}

/// One element of a transmission in series between crankshaft and measuring point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Element {
    /// Spur gear wheel mesh.
    SpurGear,
    /// Helical gear wheel mesh.
    HelicalGear,
    /// Bevel gear mesh.
    BevelGear,
    /// Roller chain.
    RollerChain,
    /// Silent (toothed) chain.
    SilentChain,
    /// Cogged belt.
    CoggedBelt,
    /// Vee belt.
    VeeBelt,
    /// Hydraulic coupling, not locked.
    HydraulicCoupling,
    /// Hydraulic converter, not locked.
    HydraulicConverter,
}

/// Drag measured on a coast-down: force at the tyre = a + b·v + c·v², with standard uncertainties and correlation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoastDownForce {
    /// N.
    pub a: f64,
    /// N per m/s.
    pub b: f64,
    /// N per (m/s)².
    pub c: f64,
    /// Covariance of (a, b, c), row by row.
    pub covariance: [[f64; 3]; 3],
}

impl CoastDownForce {
    /// Force at speed `v` in m/s, N.
    #[must_use]
    pub fn at(&self, v: f64) -> f64 {
        self.a + v * (self.b + v * self.c)
    }

    /// Standard uncertainty of the force at speed `v` in m/s, N.
    #[must_use]
    pub fn uncertainty_at(&self, v: f64) -> f64 {
        let g = [1.0, v, v * v];
        let mut sum = 0.0;
        for (row, gi) in self.covariance.iter().zip(g) {
            for (s, gj) in row.iter().zip(g) {
                sum += gi * s * gj;
            }
        }
        libm::sqrt(if sum > 0.0 { sum } else { 0.0 })
    }
}

/// Evidence about the driveline between crankshaft and measuring point.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Driveline<'a> {
    /// Drag from a coast-down of the same vehicle on the same rig.
    pub coast_down: Option<CoastDownForce>,
    /// Load-proportional share of crankshaft power lost in meshes, 0 to 1, and its standard uncertainty.
    pub load_share: Option<(f64, f64)>,
    /// Constant drag power, W, and its standard uncertainty.
    pub constant_drag: Option<(f64, f64)>,
    /// Power that accelerates rotating parts of engine and driveline, W, and its standard uncertainty.
    pub accelerating: Option<(f64, f64)>,
    /// Kind of gearbox.
    pub gearbox: Option<Gearbox>,
    /// True in a direct gear.
    pub direct_gear: Option<bool>,
    /// True with an angle drive after the gearbox.
    pub angle_drive: bool,
    /// Largest permitted input torque of the gearbox, N·m.
    pub max_input_torque: Option<f64>,
    /// True when gearbox and oil are at running temperature.
    pub warm: bool,
    /// Number of driven wheels.
    pub driven_wheels: Option<u8>,
    /// Transmission elements in series.
    pub elements: &'a [Element],
}

impl Driveline<'_> {
    /// Nothing known.
    #[must_use]
    pub const fn unknown() -> Self {
        Self {
            coast_down: None,
            load_share: None,
            constant_drag: None,
            accelerating: None,
            gearbox: None,
            direct_gear: None,
            angle_drive: false,
            max_input_torque: None,
            warm: true,
            driven_wheels: None,
            elements: &[],
        }
    }
}
