//! From recordings to curves: pull, wheel, crank, corrected; repeats to a state; states to a comparison.
#![forbid(unsafe_code)]

mod balance;
mod bands;
mod channels;
mod coast;
mod common;
mod compare;
mod curve;
mod delay;
mod deviation;
mod evaluate;
mod gather;
mod job;
mod job_air;
mod job_car;
mod job_columns;
mod job_error;
mod job_parse;
mod job_raw;
mod outcome;
mod place;
mod prepare;
mod pull;
mod reduce;
mod remarks;
mod rig;
mod segment;
#[cfg(test)]
mod segment_edges;
mod slip;
mod soak;
mod source;
mod states;
mod stuck;
mod trace;
mod twins;
mod worked;
mod zero;

pub use gather::ReduceError;
pub use job::{
    AirReading, Grid, JOB_SCHEMA, Job, Knock, Known, LogJob, Loss, Rig, RigKind, StateJob, Vehicle,
};
pub use job_error::JobError;
pub use outcome::*;
pub use reduce::reduce;
pub use source::Source;
