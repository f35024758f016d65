//! Things that must travel with a figure: it is given, but something about it has to be known.

use crate::limit::Sized;
use crate::{Cite, Limit, OutOfRange, Reading};

/// One remark that travels with a figure: its numbers by value, its texts where the plug-in keeps them. Small, so that
/// a figure that carries none costs no more than a bare number.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Notice {
    /// Given, but outside the range in which the standard calls it valid.
    OutsideRange(Outside),
    /// The engine holds its charge against the ambient, so the factor is 1; `blind` is what the formula alone claims.
    Compensated {
        /// The factor that the formula would have given.
        blind: f64,
        /// The clause that sets the factor to 1.
        cite: &'static Cite,
    },
    /// The engine holds its charge against the ambient, and the text has no rule for it.
    NoRuleForCompensated {
        /// Designation of the text.
        text: &'static str,
        /// How far its scope was read.
        reading: Reading,
    },
    /// An input was not given and a stated value stands in its place.
    Assumed {
        /// The input.
        what: &'static Input,
        /// The value used.
        value: f64,
        /// Why this value.
        cite: &'static Cite,
    },
    /// The result rests on a clause that was not read in the document.
    RestsOn {
        /// What rests on it.
        what: &'static str,
        /// The clause, with its grade.
        cite: &'static Cite,
    },
    /// The method is used beyond what its text is known to cover.
    Extrapolated {
        /// In what way.
        what: &'static str,
        /// The text.
        cite: &'static Cite,
    },
    /// A convention of the trade rather than a rule of the document.
    Convention {
        /// The convention.
        what: &'static str,
    },
}

const _: () = assert!(size_of::<Option<Notice>>() <= 32);

/// An input that a value was assumed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Input {
    /// Its name, in the words a message should use.
    pub name: &'static str,
    /// Its unit; "1" for a ratio.
    pub unit: &'static str,
}

/// A value outside a [`Limit`] that a plug-in keeps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outside {
    got: f64,
    high: f64,
    limit: &'static Limit,
}

impl Outside {
    /// The value where the limit does not hold it.
    #[must_use]
    #[inline]
    pub const fn of(limit: &'static Limit, got: f64) -> Option<Self> {
        Self::above(limit, limit.high, got)
    }

    /// The same with another upper end, for a range that ends where the user's own data say.
    #[must_use]
    #[inline]
    pub const fn above(limit: &'static Limit, high: f64, got: f64) -> Option<Self> {
        if got >= limit.low && got <= high { None } else { Some(Self { got, high, limit }) }
    }

    /// The value and the range it left.
    #[must_use]
    pub const fn range(&self) -> OutOfRange {
        OutOfRange { got: self.got, limit: Limit { high: self.high, ..*self.limit } }
    }
}

impl core::fmt::Display for Outside {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        self.range().fmt(f)
    }
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
            Self::NoRuleForCompensated { text, reading } => {
                extrapolated(f, NO_RULE, &Cite::new(text, "scope", *reading))
            }
            Self::Assumed { what: Input { name, unit }, value, cite } => {
                write!(f, "{name} assumed {} ({cite})", Sized(*value, unit))
            }
            Self::RestsOn { what, cite } => write!(f, "{what} rests on {cite}, {}", cite.reading.words()),
            Self::Extrapolated { what, cite } => extrapolated(f, what, cite),
            Self::Convention { what } => write!(f, "convention: {what}"),
        }
    }
}

const NO_RULE: &str = "the text has no rule for an engine that compensates for the ambient; its formula over-corrects such an engine";

fn extrapolated(f: &mut core::fmt::Formatter<'_>, what: &str, cite: &Cite) -> core::fmt::Result {
    write!(f, "extrapolated: {what} ({cite})")
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
        self.drop_more(1);
    }

    /// Adds all of another list.
    pub fn extend(&mut self, other: &Self) {
        for notice in other.iter() {
            self.push(*notice);
        }
        self.drop_more(other.dropped);
    }

    pub(crate) const fn drop_more(&mut self, count: u8) {
        self.dropped = self.dropped.saturating_add(count);
    }

    /// The notices in the order they were added.
    pub fn iter(&self) -> impl Iterator<Item = &Notice> {
        self.items.iter().flatten()
    }

    /// The same, for a list that is not kept.
    pub fn each(self) -> impl Iterator<Item = Notice> {
        self.items.into_iter().flatten()
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
