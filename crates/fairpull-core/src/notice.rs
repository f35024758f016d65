//! Things that must travel with a figure: it is given, but something about it has to be known.

use crate::limit::Sized;
use crate::{Cite, OutOfRange};

/// One remark that travels with a figure.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Notice {
    /// Given, but outside the range in which the standard calls it valid.
    OutsideRange(OutOfRange),
    /// The engine holds its charge against the ambient, so the factor is 1; `blind` is what the formula alone claims.
    Compensated {
        /// The factor that the formula would have given.
        blind: f64,
        /// The clause that sets the factor to 1.
        cite: Cite,
    },
    /// An input was not given and a stated value stands in its place.
    Assumed {
        /// Name of the input.
        what: &'static str,
        /// The value used.
        value: f64,
        /// Its unit.
        unit: &'static str,
        /// Why this value.
        cite: Cite,
    },
    /// The result rests on a clause that was not read in the document.
    RestsOn {
        /// What rests on it.
        what: &'static str,
        /// The clause, with its grade.
        cite: Cite,
    },
    /// The method is used beyond what its text is known to cover.
    Extrapolated {
        /// In what way.
        what: &'static str,
        /// The text.
        cite: Cite,
    },
    /// A convention of the trade rather than a rule of the document.
    Convention {
        /// The convention.
        what: &'static str,
    },
}

impl core::fmt::Display for Notice {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::OutsideRange(out) => {
                write!(f, "outside the standard's range: {out}; quote it only with the test conditions")
            }
            Self::Compensated { blind, cite } => {
                write!(
                    f,
                    "factor 1 by ambient compensation ({cite}); the formula alone would claim {blind:.4}"
                )
            }
            Self::Assumed { what, value, unit, cite } => {
                write!(f, "{what} assumed {} ({cite})", Sized(*value, unit))
            }
            Self::RestsOn { what, cite } => write!(f, "{what} rests on {cite}, {}", cite.reading.words()),
            Self::Extrapolated { what, cite } => write!(f, "extrapolated: {what} ({cite})"),
            Self::Convention { what } => write!(f, "convention: {what}"),
        }
    }
}

/// How many notices one result can carry; more are counted, not kept.
const ROOM: usize = 8;

/// A short list of notices without allocation.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Notices {
    items: [Option<Notice>; ROOM],
    dropped: u8,
}

impl Notices {
    /// No notice.
    pub const NONE: Self = Self { items: [None; ROOM], dropped: 0 };

    /// Adds one; equal notices are kept once. Beyond eight they are only counted, see [`Notices::dropped`].
    pub fn push(&mut self, notice: Notice) {
        for slot in &mut self.items {
            match slot {
                Some(kept) if *kept == notice => return,
                Some(_) => {}
                None => {
                    *slot = Some(notice);
                    return;
                }
            }
        }
        self.dropped = self.dropped.saturating_add(1);
    }

    /// Adds all of another list.
    pub fn extend(&mut self, other: &Self) {
        for notice in other.iter() {
            self.push(*notice);
        }
        self.dropped = self.dropped.saturating_add(other.dropped);
    }

    /// The notices in the order they were added.
    pub fn iter(&self) -> impl Iterator<Item = &Notice> {
        self.items.iter().flatten()
    }

    /// How many did not fit.
    #[must_use]
    pub const fn dropped(&self) -> u8 {
        self.dropped
    }

    /// True when a factor or its air lies outside the standard's range.
    #[must_use]
    pub fn outside_range(&self) -> bool {
        self.iter().any(|n| matches!(n, Notice::OutsideRange(_)))
    }
}
