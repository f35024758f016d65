//! Engine speed and road (roller surface) speed.

use crate::quantity::quantity;
use uom::si::angular_velocity::radian_per_second;
use uom::si::velocity::meter_per_second;

/// One revolution per minute in radians per second: pi / 30.
const RPM: f64 = core::f64::consts::PI / 30.0;

quantity! {
    /// Rotational speed of the crankshaft.
    EngineSpeed(AngularVelocity: radian_per_second) {
        /// From radians per second.
        from_radians_per_second / radians_per_second = 1.0;
        /// From revolutions per minute.
        from_rpm / rpm = RPM;
    }
}
quantity! {
    /// Speed of the vehicle on the road, or of the roller surface.
    RoadSpeed(Velocity: meter_per_second) {
        /// From metres per second.
        from_metres_per_second / metres_per_second = 1.0;
    }
}

impl RoadSpeed {
    /// From kilometres per hour (1/3.6 m/s, exact).
    #[must_use]
    pub fn from_kilometres_per_hour(value: f64) -> Self {
        Self::from_metres_per_second(value / 3.6)
    }

    /// In kilometres per hour.
    #[must_use]
    pub fn kilometres_per_hour(self) -> f64 {
        self.metres_per_second() * 3.6
    }
}
