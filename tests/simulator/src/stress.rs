//! What the pull costs the engine: smooth functions of engine speed, load and state.

use crate::engine::logistic;
use crate::{Instant, Vehicle, Weather};

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

/// One instant of the stress channels.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct StressInstant {
    /// Intake air, °C.
    pub intake_c: f64,
    /// Charge, °C.
    pub charge_c: f64,
    /// Manifold, kPa absolute.
    pub manifold_kpa: f64,
    /// Before the turbine, kPa absolute.
    pub pre_turbine_kpa: f64,
    /// Exhaust, °C.
    pub exhaust_c: f64,
    /// Lambda.
    pub lambda: f64,
    /// Spark advance, degrees before top dead centre.
    pub spark_deg: f64,
    /// Fuel, g/s.
    pub fuel_g_s: f64,
}

impl Stress {
    /// Settled values at an instant; `soak` is the rise of the charge since the first pull, K.
    #[must_use]
    pub fn at(&self, now: &Instant, vehicle: &Vehicle, air: &Weather, soak: f64) -> StressInstant {
        let n = now.rpm / 6000.0;
        let x = now.load;
        let blend = |rest: f64, full: f64| rest + x * (full - rest);
        let p = air.pressure_kpa;
        let spool = logistic((now.rpm - vehicle.torque.rise_at) / vehicle.torque.rise_width);
        let droop = 1.0 - 0.12 * n * n;
        let back = self.back_pressure_kpa * n * libm::sqrt(n);
        // Lower heating value of petrol, 42.7 MJ/kg: a common round value.
        let burnt = libm::fmax(crate::power_w(now.torque, now.rpm), 4000.0) / (self.efficiency * 42_700.0);
        StressInstant {
            intake_c: air.temperature_c + 0.25 * soak,
            charge_c: air.temperature_c + soak + blend(6.0, 6.0 + self.charge_rise_k * n * n),
            manifold_kpa: blend(38.0, p - 2.0 * n + self.boost_kpa * spool * droop),
            pre_turbine_kpa: p + blend(2.0, back),
            exhaust_c: blend(430.0, self.exhaust_c - 260.0 * (1.0 - n)),
            lambda: blend(1.0, self.lambda + 0.05 * (1.0 - n)),
            spark_deg: blend(24.0, self.spark_deg - 9.0 * (1.0 - n)),
            fuel_g_s: burnt,
        }
    }

    /// The channels over a whole recording, the temperatures with the lag of their sensors.
    #[must_use]
    pub fn over(&self, path: &[Instant], vehicle: &Vehicle, air: &Weather, soak: f64) -> Vec<StressInstant> {
        let mut out: Vec<StressInstant> = Vec::with_capacity(path.len());
        // The step is fixed, so what a lag keeps over a step is, too.
        let step = match path {
            [a, b, ..] => b.time - a.time,
            _ => 1.0,
        };
        let keep = [1.5, 1.2, 0.15, 0.1, 0.2].map(|lag| libm::exp(-step / lag));
        let mut before: Option<StressInstant> = None;
        for now in path {
            let mut s = self.at(now, vehicle, air, soak);
            if let Some(old) = before {
                let follow = |from: f64, to: f64, kept: f64| to + (from - to) * kept;
                s.charge_c = follow(old.charge_c, s.charge_c, keep[0]);
                s.exhaust_c = follow(old.exhaust_c, s.exhaust_c, keep[1]);
                s.manifold_kpa = follow(old.manifold_kpa, s.manifold_kpa, keep[2]);
                s.pre_turbine_kpa = follow(old.pre_turbine_kpa, s.pre_turbine_kpa, keep[3]);
                s.lambda = follow(old.lambda, s.lambda, keep[4]);
            }
            before = Some(s);
            out.push(s);
        }
        out
    }
}
