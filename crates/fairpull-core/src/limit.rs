//! Permitted ranges as data: the check, the message and the documentation come from the same row.

use crate::{Cite, Reading};

/// A closed range `low..=high` of a named quantity, with its source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// What is limited, in the words a message should use, e.g. "intake air temperature".
    pub what: &'static str,
    /// Unit of `low` and `high`; "1" for a ratio.
    pub unit: &'static str,
    /// Smallest permitted value.
    pub low: f64,
    /// Largest permitted value.
    pub high: f64,
    /// Where the range stands.
    pub cite: Cite,
}

impl Limit {
    /// True inside the closed range; NaN is always outside.
    #[must_use]
    #[inline]
    pub const fn holds(&self, value: f64) -> bool {
        value >= self.low && value <= self.high
    }

    /// `Ok(value)` where the range [holds](Self::holds) it.
    ///
    /// # Errors
    /// [`OutOfRange`] with the value and this limit.
    #[inline]
    pub const fn check(&self, value: f64) -> Result<f64, OutOfRange> {
        if self.holds(value) { Ok(value) } else { Err(OutOfRange { got: value, limit: *self }) }
    }
}

/// A value outside a [`Limit`].
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("{} is {}, outside {} to {} ({})", limit.what, Sized(*got, limit.unit), limit.low, Sized(limit.high, limit.unit), Graded(limit.cite))]
pub struct OutOfRange {
    /// The value found.
    pub got: f64,
    /// The range it should be in.
    pub limit: Limit,
}

/// A citation that says so when the range itself stands on memory.
struct Graded(Cite);

impl core::fmt::Display for Graded {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        self.0.fmt(f)?;
        if self.0.reading >= Reading::Remembered { write!(f, "; {}", self.0.reading.words()) } else { Ok(()) }
    }
}

/// A value and its unit as a message shows them: a plain ratio has none, and digits that no instrument has are cut.
pub(crate) struct Sized(pub f64, pub &'static str);

impl core::fmt::Display for Sized {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let Self(value, unit) = *self;
        let short = libm::round(value * 1e6) / 1e6;
        // far from one, rounding to six decimals would hide or add nothing worth reading
        if libm::fabs(value) >= 1e-3 && libm::fabs(value) < 1e9 {
            write!(f, "{short}")?
        } else {
            write!(f, "{value}")?
        }
        if unit == "1" { Ok(()) } else { write!(f, " {unit}") }
    }
}
