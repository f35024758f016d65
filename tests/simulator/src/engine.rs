//! Full-load torque in closed form, so that the truth is exact at any engine speed.

use crate::Weather;

/// N·m at 1/min to W.
#[must_use]
pub fn power_w(torque_nm: f64, rpm: f64) -> f64 {
    torque_nm * rpm * core::f64::consts::TAU / 60.0
}

/// Logistic step from 0 to 1.
fn step(x: f64) -> f64 {
    1.0 / (1.0 + libm::exp(-x))
}

/// Net full-load torque at the crankshaft on reference air: a plateau that rises and falls by logistic steps, with a
/// ripple for intake resonances.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TorqueCurve {
    /// Plateau, N·m.
    pub plateau_nm: f64,
    /// Middle of the rise, 1/min.
    pub rise_at: f64,
    /// Width of the rise, 1/min.
    pub rise_width: f64,
    /// Middle of the fall, 1/min.
    pub fall_at: f64,
    /// Width of the fall, 1/min.
    pub fall_width: f64,
    /// Ripple, share of the torque.
    pub ripple: f64,
    /// Period of the ripple, 1/min.
    pub ripple_period: f64,
}

impl TorqueCurve {
    /// Torque at an engine speed, N·m.
    #[must_use]
    pub fn at(&self, rpm: f64) -> f64 {
        let rise = step((rpm - self.rise_at) / self.rise_width);
        let fall = step((self.fall_at - rpm) / self.fall_width);
        let wave = 1.0 + self.ripple * libm::sin(core::f64::consts::TAU * rpm / self.ripple_period);
        self.plateau_nm * rise * fall * wave
    }
}

/// How the engine answers to the ambient.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Response {
    /// Torque goes as the reciprocal of the ISO 1585 spark-ignition factor: that correction is then exact.
    Density,
    /// The control holds charge against the ambient: torque does not move, the true factor is 1.
    Held,
}

impl Response {
    /// Torque in this air as a share of that on reference air.
    #[must_use]
    pub fn share(self, air: &Weather) -> f64 {
        match self {
            Self::Density => 1.0 / air.spark_factor(),
            Self::Held => 1.0,
        }
    }
}

/// True gain over the base curve: `base` everywhere plus `top` above a logistic step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gain {
    /// Gain at every engine speed, 0.02 for 2 %.
    pub base: f64,
    /// Further gain at the top end.
    pub top: f64,
    /// Middle of the step, 1/min.
    pub at: f64,
    /// Width of the step, 1/min.
    pub width: f64,
}

impl Gain {
    /// No gain.
    pub const NONE: Self = Self::flat(0.0);

    /// The same gain at every engine speed.
    #[must_use]
    pub const fn flat(gain: f64) -> Self {
        Self { base: gain, top: 0.0, at: 4000.0, width: 400.0 }
    }

    /// A gain at the top end only.
    #[must_use]
    pub const fn top_end(gain: f64, from_rpm: f64) -> Self {
        Self { base: 0.0, top: gain, at: from_rpm, width: 250.0 }
    }

    /// Multiplier of the base torque.
    #[must_use]
    pub fn factor(&self, rpm: f64) -> f64 {
        let top = if self.top == 0.0 { 0.0 } else { self.top * step((rpm - self.at) / self.width) };
        1.0 + self.base + top
    }
}

/// Logistic step for the stress channels.
pub(crate) fn logistic(x: f64) -> f64 {
    step(x)
}
