//! Delimited logs to typed channels, with every repair counted.
#![forbid(unsafe_code)]

mod check;
mod clock;
mod decimal;
mod error;
mod finish;
mod guess;
mod header;
mod judge;
mod layout;
mod number;
mod read;
mod recording;
mod repair;
mod resolve;
mod role;
mod rows;
mod sniff;
mod spike;
mod text;
mod timeline;
mod words;

pub use error::{Place, RecordingError};
pub use guess::{Confidence, Guess, GuessedColumn, guess};
pub use layout::{Column, Decimal, Encoding, Layout, PressureReference, Separator};
pub use read::read;
pub use recording::{Channel, Format, Recording};
pub use repair::{Repair, RepairKind, Repairs};
pub use role::Role;
