//! Permitted ranges as data: the check, the message and the documentation come from the same row.

use crate::Cite;

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
    /// `Ok(value)` inside the closed range; NaN is always outside.
    ///
    /// # Errors
    /// [`OutOfRange`] with the value and this limit.
    pub const fn check(&self, value: f64) -> Result<f64, OutOfRange> {
        if value >= self.low && value <= self.high {
            Ok(value)
        } else {
            Err(OutOfRange { got: value, limit: *self })
        }
    }
}

/// A value outside a [`Limit`].
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("{} is {got} {}, outside {} to {} {} ({})", limit.what, limit.unit, limit.low, limit.high, limit.unit, limit.cite)]
pub struct OutOfRange {
    /// The value found.
    pub got: f64,
    /// The range it should be in.
    pub limit: Limit,
}
