//! Air of which something is known: each reading a range, a point when it is known exactly.

use fairpull_core::Air;

/// A closed range; a point when both ends are equal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Smallest value.
    pub low: f64,
    /// Largest value.
    pub high: f64,
}

impl Span {
    /// A range.
    #[must_use]
    pub const fn new(low: f64, high: f64) -> Self {
        Self { low, high }
    }

    /// A single value.
    #[must_use]
    pub const fn exact(value: f64) -> Self {
        Self { low: value, high: value }
    }

    /// True when both ends are finite and in order.
    #[must_use]
    pub fn is_sound(&self) -> bool {
        self.low.is_finite() && self.high.is_finite() && self.low <= self.high
    }

    /// True when both ends are equal.
    #[must_use]
    pub fn is_exact(&self) -> bool {
        self.low == self.high
    }

    /// The value at a share 0 to 1 of the range; exact at a point.
    #[must_use]
    pub fn at(&self, share: f64) -> f64 {
        if self.is_exact() { self.low } else { self.low + share * (self.high - self.low) }
    }

    /// What two ranges have in common, if anything.
    #[must_use]
    pub fn common(&self, other: &Self) -> Option<Self> {
        let low = if self.low > other.low { self.low } else { other.low };
        let high = if self.high < other.high { self.high } else { other.high };
        (low <= high).then_some(Self { low, high })
    }
}

/// What is known of the humidity.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Humidity {
    /// Relative humidity, 0 to 1.
    Relative(Span),
    /// Dew point over water, °C.
    DewPoint(Span),
    /// Partial pressure of water vapour, kPa.
    Vapour(Span),
}

impl Humidity {
    /// The range, whatever it is of.
    #[must_use]
    pub const fn span(&self) -> Span {
        match self {
            Self::Relative(s) | Self::DewPoint(s) | Self::Vapour(s) => *s,
        }
    }
}

/// What is known of the air at a test; `None` where nothing is.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct KnownAir {
    /// Station (absolute, not sea-level) pressure, kPa.
    pub pressure_kpa: Option<Span>,
    /// Temperature of the air entering the intake system, °C.
    pub temperature_c: Option<Span>,
    /// Humidity.
    pub humidity: Option<Humidity>,
}

impl KnownAir {
    /// Nothing known.
    pub const UNKNOWN: Self = Self { pressure_kpa: None, temperature_c: None, humidity: None };

    /// Known exactly.
    #[must_use]
    pub fn exact(air: &Air) -> Self {
        Self {
            pressure_kpa: Some(Span::exact(air.station().kilopascals())),
            temperature_c: Some(Span::exact(air.temperature().celsius())),
            humidity: Some(Humidity::Vapour(Span::exact(air.vapour().kilopascals()))),
        }
    }

    /// True when every reading is a point.
    #[must_use]
    pub fn is_exact(&self) -> bool {
        self.pressure_kpa.is_some_and(|s| s.is_exact())
            && self.temperature_c.is_some_and(|s| s.is_exact())
            && self.humidity.is_some_and(|h| h.span().is_exact())
    }

    /// What this knows, and where it knows nothing, what the other knows.
    #[must_use]
    pub fn or(&self, other: &Self) -> Self {
        Self {
            pressure_kpa: self.pressure_kpa.or(other.pressure_kpa),
            temperature_c: self.temperature_c.or(other.temperature_c),
            humidity: self.humidity.or(other.humidity),
        }
    }
}
