//! `<number><unit>` to a quantity.

use crate::error::{ParseError, Problem};
use crate::number::extent;
use crate::unit::Unit;
use crate::{Decimal, Dimension, number};

/// A quantity as it was written, and in SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// The number as written.
    pub value: f64,
    /// The unit as written.
    pub unit: &'static Unit,
    /// The quantity in the coherent SI unit of its dimension.
    pub si: f64,
}

/// Reads a quantity of any dimension.
///
/// # Errors
/// [`ParseError`] naming text, place, what was expected and the nearest known unit.
///
/// ```
/// let r = fairpull_units::parse("530PS").unwrap();
/// assert_eq!((r.value, r.unit.symbol(), r.si), (530.0, "PS", 389_814.3375));
/// ```
pub fn parse(text: &str) -> Result<Reading, ParseError> {
    read(text, None, Decimal::Either)
}

/// Reads a quantity of one dimension. A pressure may be gauge or absolute: ask [`Unit::reference`], or use the typed
/// readers ([`crate::station_pressure`], [`crate::absolute_pressure`], [`crate::gauge_pressure`]), which check it.
///
/// # Errors
/// [`ParseError`]; a unit of another dimension is named with both dimensions.
///
/// ```
/// use fairpull_units::{Dimension, parse_as};
/// assert_eq!(parse_as("1,5bar", Dimension::Pressure).unwrap().si, 150_000.0);
/// let why = parse_as("34C", Dimension::Pressure).unwrap_err().to_string();
/// assert!(why.starts_with("\"34C\": °C is a unit of temperature, but a pressure was expected"));
/// ```
pub fn parse_as(text: &str, dimension: Dimension) -> Result<Reading, ParseError> {
    read(text, Some(dimension), Decimal::Either)
}

/// Reads a quantity of one dimension whose decimal sign is known.
///
/// # Errors
/// As [`parse_as`].
pub fn parse_with(text: &str, dimension: Dimension, decimal: Decimal) -> Result<Reading, ParseError> {
    read(text, Some(dimension), decimal)
}

fn read(text: &str, dimension: Option<Dimension>, decimal: Decimal) -> Result<Reading, ParseError> {
    let fail = |span, problem| Err(ParseError::new(text, span, dimension, problem));
    let trimmed = text.trim();
    let start = text.len() - text.trim_start().len();
    let end = start + trimmed.len();
    if trimmed.is_empty() {
        return fail(0..text.len(), Problem::Empty);
    }
    let length = extent(trimmed);
    let (digits, rest) = trimmed.split_at_checked(length).unwrap_or((trimmed, ""));
    let value = match number(digits, decimal) {
        Ok(v) => v,
        Err(e) => {
            let span = if length == 0 { start..end } else { start..start + length };
            return fail(span, Problem::Number(e));
        }
    };
    let word = rest.trim_start();
    let span = end - word.len()..end;
    if word.is_empty() {
        return fail(start..end, Problem::NoUnit);
    }
    let unit = match dimension {
        None => Unit::find(word),
        Some(d) => match Unit::find_in(word, d) {
            None if let Some(other) = Unit::find(word) => return fail(span, Problem::WrongDimension(other)),
            found => found,
        },
    };
    let Some(unit) = unit else {
        return fail(span, Problem::UnknownUnit);
    };
    let si = unit.to_si(value);
    if !si.is_finite() {
        return fail(start..end, Problem::NotFinite);
    }
    if unit.dimension() == Dimension::Temperature && si < 0.0 {
        return fail(start..end, Problem::Impossible("below absolute zero (0 K = -273.15 °C = -459.67 °F)"));
    }
    Ok(Reading { value, unit, si })
}

/// A value of one unit in another of the same dimension.
///
/// Gauge and absolute pressure do not convert into each other without a barometer.
///
/// # Errors
/// [`ConvertError`] naming both units.
///
/// ```
/// use fairpull_units::{Unit, convert};
/// let (ps, kw) = (Unit::find("PS").unwrap(), Unit::find("kW").unwrap());
/// assert_eq!(convert(530.0, ps, kw), Ok(389.8143375));
/// ```
pub fn convert(value: f64, from: &'static Unit, to: &'static Unit) -> Result<f64, ConvertError> {
    use crate::Reference::{Absolute, Gauge};
    if from.dimension() != to.dimension() {
        return Err(ConvertError::Dimensions { from, to });
    }
    if matches!((from.reference(), to.reference()), (Absolute, Gauge) | (Gauge, Absolute)) {
        return Err(ConvertError::Barometer { from, to });
    }
    let out = to.from_si(from.to_si(value));
    if out.is_finite() { Ok(out) } else { Err(ConvertError::NotFinite { from, to }) }
}

/// Why a value has no counterpart in another unit.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ConvertError {
    /// Units of different dimensions.
    #[error("{from} is a unit of {}, {to} of {}: there is no conversion", from.dimension(), to.dimension())]
    Dimensions {
        /// Unit of the value.
        from: &'static Unit,
        /// Unit asked for.
        to: &'static Unit,
    },
    /// Gauge into absolute or back.
    #[error("from {from} to {to} the barometer of the moment is needed: add or subtract it first")]
    Barometer {
        /// Unit of the value.
        from: &'static Unit,
        /// Unit asked for.
        to: &'static Unit,
    },
    /// NaN, infinite, or too large once converted.
    #[error("the value is not a finite number in {from} or becomes too large in {to}")]
    NotFinite {
        /// Unit of the value.
        from: &'static Unit,
        /// Unit asked for.
        to: &'static Unit,
    },
}
