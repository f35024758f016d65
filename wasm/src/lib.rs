//! The fairpull calculations for browsers and Node: marshalling only, no formula stands here.
//!
//! Questions and answers cross as JSON text with the keys of the command line, so that both doors show the same
//! facts; numbers are written with the shortest digits that read back to the same bits. An error crosses as the JSON of
//! a [`Fault`]. The typed functions over this live in the package's own `index.ts`.
//!
//! * [`ask`]: every plain question.
//! * [`factor_many`], [`crank_many`]: one plug-in over whole columns of numbers.
//! * `columns`, `job`, `reduce`, `phrases`, `road_log`, `road_coast_down` (feature `workshop`): logs to report.
#![forbid(unsafe_op_in_unsafe_fn)]

mod fault;
mod many;
mod questions;
#[cfg(feature = "workshop")]
mod workshop;

pub use fault::Fault;
pub use many::{crank_many, cranks, factor_many, factors};
pub use questions::{answer, ask};
#[cfg(feature = "workshop")]
pub use workshop::{Reduced, columns, job, phrases, reduce, road_coast_down, road_log};
