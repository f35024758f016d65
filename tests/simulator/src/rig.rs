//! The rig that loads the car.

/// Kind of rig.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RigKind {
    /// The roller's inertia is the only load.
    InertiaRoller,
    /// Roller with a brake that follows a speed ramp.
    BrakedRoller,
    /// Brakes bolted to the hubs, wheels off, torque measured at the hub.
    Hub,
}

impl RigKind {
    /// As a job file writes it.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::InertiaRoller => "inertia-roller",
            Self::BrakedRoller => "braked-roller",
            Self::Hub => "hub",
        }
    }
}

/// A rig. On a hub rig forces and speeds are those at the nominal tyre radius.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rig {
    /// Kind.
    pub kind: RigKind,
    /// Roller set (or hub brakes together), kg·m².
    pub inertia: f64,
    /// Roller radius, m; the nominal tyre radius on a hub rig.
    pub radius_m: f64,
    /// Own drag of the rig, N, N per m/s, N per (m/s)².
    pub parasitic: [f64; 3],
    /// Speed ramp of a brake, m/s².
    pub ramp: f64,
    /// Answer time of a brake, s.
    pub brake_lag_s: f64,
}

impl Rig {
    /// Equivalent mass, kg.
    #[must_use]
    pub fn mass(&self) -> f64 {
        self.inertia / (self.radius_m * self.radius_m)
    }

    /// Own drag at a speed in m/s, N.
    #[must_use]
    pub fn drag(&self, v: f64) -> f64 {
        let [a, b, c] = self.parasitic;
        a + v * (b + v * c)
    }

    /// Whether a brake takes part in the pull.
    #[must_use]
    pub fn braked(&self) -> bool {
        self.kind != RigKind::InertiaRoller
    }
}
