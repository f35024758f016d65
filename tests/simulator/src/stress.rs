//! What the pull costs the engine: smooth functions of engine speed, load and state.

use crate::engine::logistic;
use crate::{Instant, Role, Vehicle, Weather};

/// Hardware state behind the stress channels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stress {
    /// Boost at the plateau, kPa gauge; 0 for natural aspiration.
    pub boost_kpa: f64,
    /// Pressure before the turbine (or in the manifold) above ambient at 6000 1/min and full load, kPa.
    pub back_pressure_kpa: f64,
    /// Charge temperature above ambient at 6000 1/min, K.
    pub charge_rise_k: f64,
    /// Exhaust temperature at 6000 1/min, °C.
    pub exhaust_c: f64,
    /// Lambda at 6000 1/min.
    pub lambda: f64,
    /// Spark advance at 6000 1/min, degrees.
    pub spark_deg: f64,
    /// Share of the fuel's energy that reaches the crank.
    pub efficiency: f64,
}

impl Stress {
    /// The channel of a role as it settles at an instant. `soak` is the rise of the charge
    /// since the first pull, K. NaN for a role that is no stress channel.
    #[must_use]
    pub fn settled(&self, role: Role, now: &Instant, vehicle: &Vehicle, air: &Weather, soak: f64) -> f64 {
        let n = now.rpm / 6000.0;
        let x = now.load;
        let blend = |rest: f64, full: f64| rest + x * (full - rest);
        let p = air.pressure_kpa;
        match role {
            Role::IntakeTemperature => air.temperature_c + 0.25 * soak,
            Role::ChargeTemperature => {
                air.temperature_c + soak + blend(6.0, 6.0 + self.charge_rise_k * n * n)
            }
            Role::ManifoldPressure => {
                let spool = logistic((now.rpm - vehicle.torque.rise_at) / vehicle.torque.rise_width);
                let droop = 1.0 - 0.12 * n * n;
                blend(38.0, p - 2.0 * n + self.boost_kpa * spool * droop)
            }
            Role::PreTurbinePressure => p + blend(2.0, self.back_pressure_kpa * n * libm::sqrt(n)),
            Role::ExhaustTemperature => blend(430.0, self.exhaust_c - 260.0 * (1.0 - n)),
            Role::Lambda => blend(1.0, self.lambda + 0.05 * (1.0 - n)),
            Role::SparkAdvance => blend(24.0, self.spark_deg - 9.0 * (1.0 - n)),
            // Lower heating value of petrol, 42.7 MJ/kg: a common round value.
            Role::FuelFlow => {
                libm::fmax(crate::power_w(now.torque, now.rpm), 4000.0) / (self.efficiency * 42_700.0)
            }
            _ => f64::NAN,
        }
    }

    /// Lag of the sensor of a role, s.
    #[must_use]
    pub const fn lag(role: Role) -> f64 {
        match role {
            Role::ChargeTemperature => 1.5,
            Role::ExhaustTemperature => 1.2,
            Role::ManifoldPressure => 0.15,
            Role::PreTurbinePressure => 0.1,
            Role::Lambda => 0.2,
            _ => 0.0,
        }
    }
}
