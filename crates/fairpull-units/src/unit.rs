//! One unit: its words, what it measures, and its exact definition.

use crate::Dimension;

/// Whether a pressure unit says what it is measured from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Reference {
    /// From vacuum: `bar(a)`, `psia`.
    Absolute,
    /// From the barometer of the moment: `bar(g)`, `psig`.
    Gauge,
    /// Not said, or not a pressure.
    Unstated,
}

/// A unit of the trade with its exact definition: `SI value = (value + offset) · num / den`.
///
/// `num` and `den` are the integers (or π) of the exact rational factor wherever they fit into an `f64`, so that a
/// conversion rounds at most three times: relative error below 4e-16.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    pub(crate) symbol: &'static str,
    pub(crate) aliases: &'static [&'static str],
    pub(crate) dimension: Dimension,
    pub(crate) num: f64,
    pub(crate) den: f64,
    pub(crate) offset: f64,
    pub(crate) reference: Reference,
    pub(crate) definition: &'static str,
}

/// A row of the table without offset.
pub(crate) const fn unit(
    dimension: Dimension,
    symbol: &'static str,
    aliases: &'static [&'static str],
    (num, den): (f64, f64),
    definition: &'static str,
) -> Unit {
    Unit { symbol, aliases, dimension, num, den, offset: 0.0, reference: Reference::Unstated, definition }
}

impl Unit {
    pub(crate) const fn zero_at(self, offset: f64) -> Self {
        Self { offset, ..self }
    }

    pub(crate) const fn measured_from(self, reference: Reference) -> Self {
        Self { reference, ..self }
    }

    /// The word it is printed with, e.g. `lbf·ft`.
    #[must_use]
    pub const fn symbol(&self) -> &'static str {
        self.symbol
    }

    /// Other words that are read as this unit.
    #[must_use]
    pub const fn aliases(&self) -> &'static [&'static str] {
        self.aliases
    }

    /// What it measures.
    #[must_use]
    pub const fn dimension(&self) -> Dimension {
        self.dimension
    }

    /// Gauge, absolute or unstated (always unstated when it is no pressure).
    #[must_use]
    pub const fn reference(&self) -> Reference {
        self.reference
    }

    /// The exact definition in words, e.g. "550 lbf·ft/s".
    #[must_use]
    pub const fn definition(&self) -> &'static str {
        self.definition
    }

    /// SI size of one step of the unit (the offset of a temperature scale left out).
    #[must_use]
    pub const fn factor(&self) -> f64 {
        self.num / self.den
    }

    /// What is added to a value before the factor: 0 except for °C (273.15) and °F (459.67).
    #[must_use]
    pub const fn offset(&self) -> f64 {
        self.offset
    }

    /// A value in this unit, in the coherent SI unit of its dimension.
    #[must_use]
    pub const fn to_si(&self, value: f64) -> f64 {
        (value + self.offset) * self.num / self.den
    }

    /// An SI value in this unit.
    #[must_use]
    pub const fn from_si(&self, si: f64) -> f64 {
        si * self.den / self.num - self.offset
    }

    /// An SI *difference* or half width in this unit: the offset of a temperature scale does not take part.
    #[must_use]
    pub const fn step_from_si(&self, si: f64) -> f64 {
        si * self.den / self.num
    }
}

impl core::fmt::Display for Unit {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.symbol)
    }
}
