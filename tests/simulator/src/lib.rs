//! Ground truth for tests: invented cars, rigs and weather whose power is known in closed form.
//!
//! A [`Scenario`] declares a job the way a workshop would; [`Scenario::run`] draws the hidden errors from the declared
//! uncertainties, integrates every pull and coast-down in time, passes the motion through the sensors, plants the
//! faults and gives a [`Run`]: the [`Job`] (and its job file), the logs as bytes, and the [`Truth`].
//!
//! The product never depends on this crate, and this crate never depends on the product: it holds its own physics, so
//! that an error in the one does not hide an error in the other.
#![forbid(unsafe_code)]

mod air;
mod cases;
mod demo;
mod demo_files;
mod dialect;
mod engine;
mod fault;
mod job;
mod measure;
mod motion;
mod random;
mod rig;
mod scenario;
mod stress;
mod table;
#[cfg(test)]
mod tests;
mod truth;
mod vehicle;

pub use air::{Weather, saturation_kpa};
pub use cases::{
    HardCase, Order, hard_cases, perfect_instrument, plain_log, usual_faults, usual_job, usual_rig,
};
pub use demo::{DEMO_SEED, PLANTED, demo_instrument, demo_rig, demo_scenario, demo_vehicle, usual_program};
pub use demo_files::{demo_files, demo_readme, truth_toml};
pub use dialect::{Dialect, Header};
pub use engine::{Gain, Response, TorqueCurve, power_w};
pub use fault::Fault;
pub use job::{Declared, Job, JobColumn, JobLog, JobState};
pub use measure::{EngineSensor, ForceSensor, Instrument, Reading, Resolution, SpeedSensor};
pub use motion::{Instant, Phase, Plant, Program};
pub use random::Random;
pub use rig::{Rig, RigKind};
pub use scenario::{Log, LogPlan, Run, Scenario, Soak, State};
pub use stress::Stress;
pub use table::{Column, Role, Table};
pub use truth::{Hidden, TruePoint, TruePull, TrueState, Truth, full_load};
pub use vehicle::{Drag, Vehicle};
