//! Road load: the force that resists a vehicle rolling straight ahead.

use crate::error::{RoadError, within};
use crate::quadrature;
use serde::{Deserialize, Serialize};

/// Standard acceleration of free fall, m/s², exact.
pub const G: f64 = 9.80665;

/// F(v) = f0 + f1·v + f2·(ρ/ρ_ref)·(v + w)·|v + w|, newtons, v and headwind w in m/s.
///
/// The polynomial of UN GTR 15 annex 4 and of 40 CFR 1066; `f2` holds at `density_kg_per_m3`.
/// f0 is force at the road, gradient not included. Leaves out: cornering, cross wind, temperature of tyres.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RoadLoad {
    /// Constant part, N.
    pub f0_n: f64,
    /// Part linear in speed, N/(m/s).
    pub f1_n_per_mps: f64,
    /// Part quadratic in speed, N/(m/s)².
    pub f2_n_per_mps2: f64,
    /// Air density that f2 belongs to, kg/m³.
    pub density_kg_per_m3: f64,
}

impl RoadLoad {
    /// From mass (kg), drag area Cd·A (m²), rolling coefficient (1) and air density (kg/m³):
    /// f0 = Crr·m·g, f2 = ½·ρ·CdA.
    ///
    /// # Errors
    /// [`RoadError::Field`] naming the value that no road vehicle has.
    pub fn from_drag_area(mass_kg: f64, cda_m2: f64, crr: f64, density: f64) -> Result<Self, RoadError> {
        within(mass_kg, 30.0, 100_000.0, "mass", "kg", "give the mass as driven, with driver and fuel")?;
        within(cda_m2, 0.0, 20.0, "drag area", "m²", "give drag coefficient times frontal area")?;
        within(crr, 0.0, 0.2, "rolling resistance coefficient", "1", "a car tyre on tarmac has about 0.01")?;
        within(density, 0.3, 2.0, "air density", "kg/m³", "compute it from pressure and temperature")?;
        Ok(Self {
            f0_n: crr * mass_kg * G,
            f1_n_per_mps: 0.0,
            f2_n_per_mps2: 0.5 * density * cda_m2,
            density_kg_per_m3: density,
        })
    }

    /// From coefficients for km/h as type-approval papers print them: f1 in N/(km/h), f2 in N/(km/h)².
    #[must_use]
    pub fn from_kmh(f0: f64, f1: f64, f2: f64, density_kg_per_m3: f64) -> Self {
        Self { f0_n: f0, f1_n_per_mps: 3.6 * f1, f2_n_per_mps2: 12.96 * f2, density_kg_per_m3 }
    }

    /// Coefficients for km/h: N, N/(km/h), N/(km/h)².
    #[must_use]
    pub fn kmh(&self) -> [f64; 3] {
        [self.f0_n, self.f1_n_per_mps / 3.6, self.f2_n_per_mps2 / 12.96]
    }

    /// Drag area that f2 amounts to, m².
    #[must_use]
    pub fn drag_area(&self) -> f64 {
        2.0 * self.f2_n_per_mps2 / self.density_kg_per_m3
    }

    /// Force, N, at a speed and headwind (m/s) in air of the given density (kg/m³).
    #[must_use]
    pub fn force(&self, speed: f64, headwind: f64, density: f64) -> f64 {
        let u = speed + headwind;
        let air = self.f2_n_per_mps2 * (density / self.density_kg_per_m3);
        self.f0_n + self.f1_n_per_mps * speed + air * u * libm::fabs(u)
    }

    /// Force, N, in still air of the reference density.
    #[must_use]
    pub fn still(&self, speed: f64) -> f64 {
        self.force(speed, 0.0, self.density_kg_per_m3)
    }

    /// Time, s, in which a rolling vehicle of this effective mass slows from one speed to a lower one (m/s) on the
    /// level in still air: t = ∫ m dv/F, by quadrature, so that F may be any polynomial.
    ///
    /// # Errors
    /// [`RoadError::Field`] when the speeds are not in order or the resistance is not positive between them.
    pub fn coast_time(&self, effective_mass_kg: f64, from: f64, to: f64) -> Result<f64, RoadError> {
        within(effective_mass_kg, 30.0, 200_000.0, "effective mass", "kg", "give mass plus rotating parts")?;
        within(from, 0.0, 200.0, "start speed", "m/s", "give the higher speed first")?;
        within(to, 0.0, from, "end speed", "m/s", "the end speed lies below the start speed")?;
        let panels = 1 + (libm::fabs(from - to) / 2.0) as usize;
        let lowest = (0..=4 * panels)
            .map(|i| self.still(to + (from - to) * i as f64 / (4 * panels) as f64))
            .fold(f64::INFINITY, f64::min);
        within(
            lowest,
            f64::MIN_POSITIVE,
            1e9,
            "resistance",
            "N",
            "a coasting car needs a resistance above 0",
        )?;
        Ok(quadrature::one(to, from, panels, |v| effective_mass_kg / self.still(v)))
    }
}

/// Default road load of UN GTR 15 annex 4 for a vehicle that was not coasted down: f0 = 0.140·TM (that number
/// from memory), f2 = 2.8e-6·TM·width·height; TM kg, m, result for km/h at 1.189 kg/m³.
#[must_use]
pub fn default_load(test_mass_kg: f64, width_m: f64, height_m: f64) -> RoadLoad {
    RoadLoad::from_kmh(0.140 * test_mass_kg, 0.0, 2.8e-6 * test_mass_kg * width_m * height_m, 1.189)
}
