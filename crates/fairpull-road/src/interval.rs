//! A number with its 95 % interval, as every result carries it.

use serde::{Deserialize, Serialize};

/// Coverage factor of a 95 % interval of a normal distribution.
pub(crate) const K95: f64 = 1.959963984540054;

/// A value with its 95 % interval, in the unit that the field's name states.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Interval {
    /// Best value.
    pub value: f64,
    /// Lower end of the 95 % interval.
    pub lo95: f64,
    /// Upper end of the 95 % interval.
    pub hi95: f64,
}

impl Interval {
    /// Value ± 1.96 standard uncertainties (JCGM 100:2008, 6.2.1 with a normal distribution).
    #[must_use]
    pub fn normal(value: f64, u: f64) -> Self {
        Self::expanded(value, K95 * u)
    }

    /// Value ± an expanded uncertainty.
    #[must_use]
    pub fn expanded(value: f64, expanded: f64) -> Self {
        Self { value, lo95: value - expanded, hi95: value + expanded }
    }

    /// Standard uncertainty that a normal interval of this width has.
    #[must_use]
    pub fn standard_uncertainty(&self) -> f64 {
        (self.hi95 - self.lo95) / (2.0 * K95)
    }

    /// True when the number lies inside the interval.
    #[must_use]
    pub fn contains(&self, number: f64) -> bool {
        number >= self.lo95 && number <= self.hi95
    }

    /// All three numbers times a positive factor: a change of unit.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        Self { value: self.value * factor, lo95: self.lo95 * factor, hi95: self.hi95 * factor }
    }
}
