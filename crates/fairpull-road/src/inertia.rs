//! Rotating inertia of the vehicle, gear by gear.

use crate::error::{RoadError, within};
use serde::{Deserialize, Serialize};

/// What turns with the wheels, referred to the road by squares of speed ratios (elementary mechanics).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RotatingParts {
    /// Rolling radius, m.
    pub tyre_radius_m: f64,
    /// Number of wheels that turn: all on the road, the driven ones on a bench.
    pub wheels: u32,
    /// Wheel with tyre, brake and half shaft, kg·m² each.
    pub wheel_inertia_kg_m2: f64,
    /// Propeller shaft, turning at final-drive input speed, kg·m².
    pub propshaft_inertia_kg_m2: f64,
    /// Gearbox shafts referred to the gearbox input, kg·m².
    pub gearbox_inertia_kg_m2: f64,
    /// Engine with flywheel and clutch, kg·m².
    pub engine_inertia_kg_m2: f64,
    /// Final drive ratio.
    pub final_drive: f64,
}

impl RotatingParts {
    /// Equivalent mass of the rotating parts with a gear engaged and the clutch closed, kg:
    /// n·J_w/r² + J_p·i_f²/r² + (J_g + J_e)·(i_g·i_f)²/r².
    ///
    /// # Errors
    /// [`RoadError::Field`] for a radius, inertia or ratio that no vehicle has.
    pub fn engaged_kg(&self, gear_ratio: f64) -> Result<f64, RoadError> {
        self.sum(gear_ratio, self.gearbox_inertia_kg_m2 + self.engine_inertia_kg_m2)
    }

    /// The same with the clutch open and the gear engaged: the engine does not turn with the wheels.
    ///
    /// # Errors
    /// As [`RotatingParts::engaged_kg`].
    pub fn clutch_open_kg(&self, gear_ratio: f64) -> Result<f64, RoadError> {
        self.sum(gear_ratio, self.gearbox_inertia_kg_m2)
    }

    fn sum(&self, gear: f64, input_side: f64) -> Result<f64, RoadError> {
        let r = within(self.tyre_radius_m, 0.05, 2.0, "tyre radius", "m", "give the rolling radius")?;
        within(gear, 0.05, 50.0, "gear ratio", "1", "give input turns per output turn")?;
        within(self.final_drive, 0.2, 50.0, "final drive ratio", "1", "give input turns per output turn")?;
        for (field, j) in [
            ("wheel inertia", self.wheel_inertia_kg_m2),
            ("propeller shaft inertia", self.propshaft_inertia_kg_m2),
            ("gearbox inertia", self.gearbox_inertia_kg_m2),
            ("engine inertia", self.engine_inertia_kg_m2),
        ] {
            within(j, 0.0, 100.0, field, "kg·m²", "give the moment of inertia, or 0 to leave it out")?;
        }
        let r2 = r * r;
        let overall = gear * self.final_drive;
        Ok(f64::from(self.wheels) * self.wheel_inertia_kg_m2 / r2
            + self.propshaft_inertia_kg_m2 * self.final_drive * self.final_drive / r2
            + input_side * overall * overall / r2)
    }
}
