//! What the reduction should have found.

use crate::{Gain, Instant, Phase, Response, TorqueCurve, Weather, power_w};

/// Truth of a job.
#[derive(Clone, Debug)]
pub struct Truth {
    /// Base curve on reference air.
    pub torque: TorqueCurve,
    /// Answer to the ambient.
    pub response: Response,
    /// States in the order of the job.
    pub states: Vec<TrueState>,
    /// Hidden errors of the rig.
    pub hidden: Hidden,
}

/// Hidden errors, constant over a job.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Hidden {
    /// True roller inertia over the declared one, less 1.
    pub roller_inertia: f64,
    /// Declared roller radius over the true one, less 1.
    pub roller_radius: f64,
    /// Read force over the true one, less 1.
    pub force: f64,
    /// True engine inertia over the declared one, less 1.
    pub engine_inertia: f64,
    /// True load share less the declared one.
    pub load_share: f64,
    /// Read less true station pressure, kPa.
    pub pressure_kpa: f64,
    /// Read less true temperature, K.
    pub temperature_k: f64,
    /// Read less true humidity, 0 to 1.
    pub humidity: f64,
}

/// Truth of a state.
#[derive(Clone, Debug)]
pub struct TrueState {
    /// Name.
    pub name: String,
    /// Gain over the base curve.
    pub gain: Gain,
    /// True air.
    pub air: Weather,
    /// Pulls in the order driven.
    pub pulls: Vec<TruePull>,
}

/// Truth of a pull.
#[derive(Clone, Debug)]
pub struct TruePull {
    /// File that holds it.
    pub file: String,
    /// Level of this pull from pull-to-pull scatter, 1 for none.
    pub level: f64,
    /// Heat soak of the charge, K.
    pub soak_k: f64,
    /// What the soak leaves of the torque, 1 for none.
    pub soak_share: f64,
    /// Driveline above its temperature at the first pull, K.
    pub warmer_k: f64,
    /// Full-load part as it happened, engine speed rising.
    pub points: Vec<TruePoint>,
    /// Times of the full-load part in the recording, s.
    pub span_s: (f64, f64),
}

/// One instant of full load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TruePoint {
    /// Engine speed, 1/min.
    pub rpm: f64,
    /// Observed power at the roller surface or the hub, W.
    pub wheel_w: f64,
    /// Observed crank power, W.
    pub crank_w: f64,
}

impl TruePull {
    /// Power at roller or hub as it happened, W; none outside the pull.
    #[must_use]
    pub fn wheel_power_w(&self, rpm: f64) -> Option<f64> {
        let k = self.points.iter().position(|p| p.rpm >= rpm)?;
        let b = self.points[k];
        let a = self.points[k.checked_sub(1)?];
        Some(a.wheel_w + (b.wheel_w - a.wheel_w) * (rpm - a.rpm) / (b.rpm - a.rpm))
    }
}

impl Truth {
    /// Torque of a state on reference air, no soak and no scatter, N·m.
    #[must_use]
    pub fn crank_torque_nm(&self, state: usize, rpm: f64) -> f64 {
        self.torque.at(rpm) * self.states[state].gain.factor(rpm)
    }

    /// Power of a state on reference air, no soak and no scatter, W.
    #[must_use]
    pub fn crank_power_w(&self, state: usize, rpm: f64) -> f64 {
        power_w(self.crank_torque_nm(state, rpm), rpm)
    }

    /// The same with the mean heat soak of the state's pulls in it: what a mean over the pulls should give.
    #[must_use]
    pub fn soaked_power_w(&self, state: usize, rpm: f64) -> f64 {
        self.crank_power_w(state, rpm) * self.soak_share(state)
    }

    /// Mean share of the torque that heat soak leaves to a state's pulls.
    #[must_use]
    pub fn soak_share(&self, state: usize) -> f64 {
        let pulls = &self.states[state].pulls;
        if pulls.is_empty() {
            return 1.0;
        }
        pulls.iter().map(|p| p.soak_share).sum::<f64>() / pulls.len() as f64
    }

    /// Gain from one state to another, 0.02 for 2 %.
    #[must_use]
    pub fn gain(&self, from: usize, to: usize, rpm: f64) -> f64 {
        self.states[to].gain.factor(rpm) / self.states[from].gain.factor(rpm) - 1.0
    }

    /// Peak power of a state on reference air by search on a 1/min grid: (1/min, W).
    #[must_use]
    pub fn peak_power(&self, state: usize, from_rpm: f64, to_rpm: f64) -> (f64, f64) {
        let mut best = (from_rpm, f64::MIN);
        let mut n = from_rpm;
        while n <= to_rpm {
            let p = self.crank_power_w(state, n);
            if p > best.1 {
                best = (n, p);
            }
            n += 1.0;
        }
        best
    }
}

/// Full-load points of the `index`th pull in a path and the times between which it lies.
#[must_use]
pub fn full_load(path: &[Instant], index: usize) -> (Vec<TruePoint>, (f64, f64)) {
    let mut seen = 0;
    let mut inside = false;
    let mut points = Vec::new();
    let mut span = (0.0, 0.0);
    for i in path {
        if i.phase == Phase::Pull {
            if !inside {
                inside = true;
                seen += 1;
                if seen == index + 1 {
                    span.0 = i.time;
                }
            }
            if seen == index + 1 {
                let rising = points.last().is_none_or(|p: &TruePoint| i.rpm > p.rpm);
                if rising {
                    points.push(TruePoint {
                        rpm: i.rpm,
                        wheel_w: i.contact * i.speed,
                        crank_w: power_w(i.torque, i.rpm),
                    });
                }
                span.1 = i.time;
            }
        } else {
            inside = false;
        }
    }
    (points, span)
}
