//! Torque at the crankshaft and at the driven axle, and the identity power = torque x speed.

use crate::quantity::quantity;
use crate::{EngineSpeed, PowerAtCrank};
use uom::si::torque::newton_meter;

quantity! {
    /// Torque at the crankshaft.
    CrankTorque(Torque: newton_meter) {
        /// From newton metres.
        from_newton_metres / newton_metres = 1.0;
    }
}
quantity! {
    /// Torque at the driven axle: gear ratio times larger than at the crankshaft, never to be quoted as engine torque.
    AxleTorque(Torque: newton_meter) {
        /// From newton metres.
        from_newton_metres / newton_metres = 1.0;
    }
}

impl CrankTorque {
    /// Power = torque x angular speed.
    ///
    /// ```
    /// use fairpull_core::{CrankTorque, EngineSpeed};
    /// // 9549.29658551372 / n: the constant of the trade's formula, exactly 30000 / pi.
    /// let p = CrankTorque::from_newton_metres(300.0).power_at(EngineSpeed::from_rpm(9549.29658551372 / 3.0));
    /// assert!((p.kilowatts() - 100.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn power_at(self, speed: EngineSpeed) -> PowerAtCrank {
        PowerAtCrank::from_watts(self.newton_metres() * speed.radians_per_second())
    }
}

impl PowerAtCrank {
    /// Torque = power / angular speed; infinite or NaN at zero speed.
    #[must_use]
    pub fn torque_at(self, speed: EngineSpeed) -> CrankTorque {
        CrankTorque::from_newton_metres(self.watts() / speed.radians_per_second())
    }
}
