//! A property of a fuel grade as its standard states it: a minimum, a range, or a usual value.

use fairpull_core::{Cite, Span};

/// One property with what the source says about it. Units are those of the field that holds it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Property {
    /// Smallest value the source allows or reports.
    pub low: Option<f64>,
    /// Largest value the source allows or reports.
    pub high: Option<f64>,
    /// Usual value with standard uncertainty: the source's, or that of common practice where it only gives bounds.
    pub usual: Option<Span>,
    /// Where it stands.
    pub cite: Cite,
}

impl Property {
    /// A guaranteed minimum.
    #[must_use]
    pub const fn minimum(low: f64, cite: Cite) -> Self {
        Self { low: Some(low), high: None, usual: None, cite }
    }

    /// A guaranteed maximum.
    #[must_use]
    pub const fn maximum(high: f64, cite: Cite) -> Self {
        Self { low: None, high: Some(high), usual: None, cite }
    }

    /// A range without a preferred value.
    #[must_use]
    pub const fn range(low: f64, high: f64, cite: Cite) -> Self {
        Self { low: Some(low), high: Some(high), usual: None, cite }
    }

    /// A usual value with standard uncertainty.
    #[must_use]
    pub const fn usual(value: f64, uncertainty: f64, cite: Cite) -> Self {
        Self { low: None, high: None, usual: Some(Span::new(value, uncertainty)), cite }
    }

    /// The same, with a usual value added.
    #[must_use]
    pub const fn with_usual(mut self, value: f64, uncertainty: f64) -> Self {
        self.usual = Some(Span::new(value, uncertainty));
        self
    }

    /// The value to calculate with: the usual one; else the middle of the range with the standard uncertainty of a
    /// rectangular distribution (JCGM 100:2008, 4.3.7); else the guaranteed minimum or maximum itself.
    #[must_use]
    pub fn best(&self) -> Option<Span> {
        if self.usual.is_some() {
            return self.usual;
        }
        match (self.low, self.high) {
            (Some(low), Some(high)) => {
                Some(Span::new(0.5 * (low + high), (high - low) / (2.0 * libm::sqrt(3.0))))
            }
            (Some(bound), None) | (None, Some(bound)) => Some(Span::new(bound, 0.0)),
            (None, None) => None,
        }
    }
}
