//! Delimited logs to typed channels, with every repair counted.
//!
//! **Scope.** [`read`] (from memory) and [`read_from`] (from a file, in pieces) turn the text a logger wrote into a [`Recording`]: time in s and one [`Channel`] for each mapped
//! column, in SI units. [`guess`] proposes a mapping for a person to check.
//!
//! **Read.** Comma, semicolon, tab or bar between cells; decimal point or comma; UTF-8, Latin-1, UTF-16; LF, CR LF or
//! CR; text, comments and a row of units around the header; units inside names; quoted cells; clock times; thousands in
//! groups; headers written again; broken last lines.
//!
//! **Mended and counted** ([`Repairs`]). Rows without, with repeated or with backward stamps, clocks that pass midnight
//! or start again, cells without a value, impossible values, spikes of one or two rows. Noted and left: gaps, uneven
//! rates, channels that stand still.
//!
//! **Refused** ([`RecordingError`]). Whatever would have to be guessed: a missing or wrong unit, gauge or absolute
//! unsaid, ambiguous decimals or names, values that no unit of that role can have.
//!
//! **Out of scope.** Finding pulls, resampling, smoothing; binary and fixed-width files.
#![forbid(unsafe_code)]

mod case;
mod cells;
mod check;
mod clock;
mod counted;
mod decimal;
mod divide;
mod error;
mod feed;
mod finish;
mod form;
mod glance;
mod guess;
mod header;
mod judge;
mod layout;
mod lengths;
mod number;
#[cfg(test)]
mod pieces;
mod place;
mod quick;
mod read;
mod recording;
mod repair;
mod resolve;
mod role;
mod rows;
mod sniff;
mod spike;
mod swar;
mod text;
mod timeline;
mod words;

pub use error::{Place, RecordingError};
pub use feed::Input;
pub use guess::{Confidence, Guess, GuessedColumn, guess};
pub use layout::{Column, Decimal, Encoding, Layout, PressureReference, Separator};
pub use read::{read, read_from};
pub use recording::{Channel, Format, Recording};
pub use repair::{Repair, RepairKind, Repairs};
pub use role::Role;
