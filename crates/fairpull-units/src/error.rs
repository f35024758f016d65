//! Why a quantity could not be read, with everything needed to mend it.

use crate::Quoted;
use crate::find::nearest;
use crate::unit::{Reference, Unit};
use crate::{Dimension, NumberError, units_of};
use alloc::string::{String, ToString};
use core::fmt;
use core::ops::Range;

/// What is wrong with a quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Problem {
    /// Nothing but blanks.
    Empty,
    /// The number.
    Number(NumberError),
    /// A number without a unit.
    NoUnit,
    /// A word that is no unit.
    UnknownUnit,
    /// A unit of another dimension than the one asked for.
    WrongDimension(&'static Unit),
    /// A gauge pressure where only an absolute one makes sense, and no barometer to add.
    GaugePressure(&'static Unit),
    /// A pressure unit that does not say gauge or absolute where both occur.
    ReferenceUnstated(&'static Unit),
    /// An absolute pressure where a gauge pressure is wanted.
    AbsolutePressure(&'static Unit),
    /// Too large or too small once converted.
    NotFinite,
    /// Below absolute zero, vacuum, or another physical end of the scale.
    Impossible(&'static str),
}

/// A text that is no quantity of the wanted kind.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub struct ParseError {
    pub(crate) text: String,
    pub(crate) span: Range<usize>,
    pub(crate) expected: Option<Dimension>,
    pub(crate) problem: Problem,
}

impl ParseError {
    pub(crate) fn new(text: &str, span: Range<usize>, expected: Option<Dimension>, problem: Problem) -> Self {
        Self { text: text.to_string(), span, expected, problem }
    }

    /// The whole text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Bytes of the text at which the problem stands.
    #[must_use]
    pub fn span(&self) -> Range<usize> {
        self.span.clone()
    }

    /// The dimension asked for, if one was.
    #[must_use]
    pub const fn expected(&self) -> Option<Dimension> {
        self.expected
    }

    /// What is wrong.
    #[must_use]
    pub const fn problem(&self) -> Problem {
        self.problem
    }

    /// The part of the text at fault.
    #[must_use]
    pub fn fault(&self) -> &str {
        self.text.get(self.span.clone()).unwrap_or("")
    }

    /// Unit words that would have been accepted; empty when any unit would.
    pub fn accepted(&self) -> impl Iterator<Item = &'static str> {
        let dimension = self.expected;
        dimension
            .into_iter()
            .flat_map(units_of)
            .filter(|u| u.reference == Reference::Unstated)
            .map(|u| u.symbol)
    }

    /// The known unit word nearest to the one at fault.
    #[must_use]
    pub fn nearest(&self) -> Option<&'static str> {
        match self.problem {
            Problem::UnknownUnit => {
                nearest(self.fault(), self.expected).or_else(|| nearest(self.fault(), None))
            }
            _ => None,
        }
    }

    /// Units for a word that is used but says too little, or more than a unit.
    fn hint(&self) -> Option<&'static str> {
        match self.fault() {
            "gal" | "gallon" => Some("gal(US) or gal(UK)"),
            "whp" => Some("hp, with the wheel as the site"),
            _ => None,
        }
    }

    fn write_accepted(&self, f: &mut fmt::Formatter<'_>, head: &str) -> fmt::Result {
        let Some(dimension) = self.expected else {
            return f.write_str(if head.starts_with(';') {
                "; write a number and a unit, e.g. 221kW"
            } else {
                ""
            });
        };
        write!(f, "{head}units of {dimension}: ")?;
        for (i, word) in self.accepted().enumerate() {
            write!(f, "{}{word}", if i == 0 { "" } else { ", " })?;
        }
        if dimension == Dimension::Pressure {
            f.write_str("; add (a) for absolute, (g) for gauge")?;
        }
        Ok(())
    }
}

impl fmt::Display for ParseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: ", Quoted(&self.text))?;
        let fault = self.fault();
        match self.problem {
            Problem::Empty => {
                match self.expected {
                    Some(d) => write!(f, "empty where a {d} was expected")?,
                    None => f.write_str("empty where a quantity was expected")?,
                }
                self.write_accepted(f, "; ")
            }
            Problem::Number(e) => e.fmt(f),
            Problem::NoUnit => {
                f.write_str("the unit is missing")?;
                self.write_accepted(f, "; ")
            }
            Problem::UnknownUnit => {
                write!(f, "{} is not a known unit", Quoted(fault))?;
                if let Some(d) = self.expected {
                    write!(f, " of {d}")?;
                }
                match self.hint().or_else(|| self.nearest()) {
                    Some(near) => {
                        write!(f, "; did you mean {near}?")?;
                        self.write_accepted(f, " Otherwise: ")
                    }
                    None => self.write_accepted(f, "; "),
                }
            }
            Problem::WrongDimension(unit) => {
                write!(f, "{unit} is a unit of {}", unit.dimension)?;
                if let Some(d) = self.expected {
                    write!(f, ", but a {d} was expected")?;
                }
                self.write_accepted(f, "; ")
            }
            Problem::GaugePressure(unit) => write!(
                f,
                "{unit} is a gauge pressure, but an absolute pressure was expected; give the absolute pressure, e.g. in kPa(a), or the barometer to add"
            ),
            Problem::ReferenceUnstated(unit) => write!(
                f,
                "{unit} does not say whether the pressure is gauge or absolute; write {unit}(a) or {unit}(g)"
            ),
            Problem::AbsolutePressure(unit) => write!(
                f,
                "{unit} is an absolute pressure, but a gauge pressure was expected; give it above the barometer, e.g. in kPa(g)"
            ),
            Problem::NotFinite => f.write_str("too large to be a quantity"),
            Problem::Impossible(why) => f.write_str(why),
        }
    }
}
