//! Delimited logs to typed channels, with every repair counted.
#![forbid(unsafe_code)]

mod error;
mod layout;
mod recording;
mod repair;
mod role;
mod timeline;

pub use error::{Place, RecordingError};
pub use layout::{Column, Decimal, Encoding, Layout, PressureReference, Separator};
pub use recording::{Channel, Format, Recording};
pub use repair::{Repair, RepairKind, Repairs};
pub use role::Role;
