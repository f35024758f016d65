//! Many jobs in one folder of results.
//!
//! **Scope.** [`find()`] lists the jobs below folders; [`run()`] works through them on several threads and hands the
//! answers back in order; [`Folder`] holds the results: locked against a second run, each job complete or absent, each
//! recognised by the SHA-256 of everything that went into it, taken of a log while it is read ([`Reading`]); [`table`]
//! is one row a state in one Parquet file.
//!
//! **Memory.** A job in work on each thread ([`Gate`] holds large ones back), one row group of the table, and the list of
//! jobs (some hundred bytes each).
//!
//! **Out of scope.** What a job is and how it is reduced: `fairpull-reduction`.
#![forbid(unsafe_code)]

mod columns;
mod error;
mod find;
mod finished;
mod folder;
mod gate;
mod inputs;
mod reading;
mod row;
mod run;
#[cfg(feature = "parquet")]
pub mod table;
#[cfg(feature = "parquet")]
mod value;

pub use columns::{COLUMNS, Column, Holds, Row, Time};
pub use error::ArchiveError;
pub use find::{Job, find};
pub use finished::{FINISHED_SCHEMA, Finished, Kept, Product, Wanted};
pub use folder::{FAILURES, Folder, JOBS, LOCK, TABLE};
pub use gate::{Gate, Pass};
pub use inputs::{Input, Inputs, Kind};
pub use reading::Reading;
pub use run::{WINDOW, Watch, run};
