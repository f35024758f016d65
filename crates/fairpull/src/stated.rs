//! A stated value with its standard uncertainty: `221kW`, `221kW ± 2kW`, `221kW ± 1%`, `221kW +- 2`.

use fairpull_units::{Dimension, Reading, Reference, parse_as};

use crate::AskError;

/// A value and its standard uncertainty, both in the coherent SI unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Stated {
    pub value: f64,
    pub uncertainty: f64,
}

impl Stated {
    /// Both parts divided by the SI value of another unit, e.g. `1e3` for kilo.
    pub fn per(self, unit: f64) -> Self {
        Self { value: self.value / unit, uncertainty: self.uncertainty / unit }
    }

    /// Kelvin to degrees Celsius.
    pub fn celsius(self) -> Self {
        Self { value: self.value - 273.15, ..self }
    }

    /// The uncertainty over the value; 0 for a value of 0.
    pub fn relative(self) -> f64 {
        if self.value == 0.0 { 0.0 } else { libm::fabs(self.uncertainty / self.value) }
    }
}

impl From<Stated> for fairpull_core::Span {
    fn from(s: Stated) -> Self {
        Self::new(s.value, s.uncertainty)
    }
}

impl From<Stated> for fairpull_fuels::Stated {
    fn from(s: Stated) -> Self {
        Self { value: s.value, uncertainty: s.uncertainty }
    }
}

impl From<Stated> for fairpull_stress::Figure {
    fn from(s: Stated) -> Self {
        Self::new(s.value, s.uncertainty)
    }
}

fn halves(text: &str) -> (&str, Option<&str>) {
    for sign in ["±", "+/-", "+-"] {
        if let Some((a, b)) = text.split_once(sign) {
            return (a.trim(), Some(b.trim()));
        }
    }
    (text.trim(), None)
}

fn reading(field: &str, text: &str, part: &str, dimension: Dimension) -> Result<Reading, AskError> {
    parse_as(part, dimension).map_err(|e| AskError::unreadable(field, text, &e))
}

/// Reads a quantity with an optional standard uncertainty.
pub(crate) fn quantity(field: &str, text: &str, dimension: Dimension) -> Result<Stated, AskError> {
    let (value, half) = halves(text);
    let read = reading(field, text, value, dimension)?;
    let uncertainty = match half {
        None => 0.0,
        Some(h) => uncertainty(field, text, h, &read)?,
    };
    Ok(Stated { value: read.si, uncertainty })
}

/// The uncertainty behind the sign: a bare number in the unit of the value, a share of it, or a quantity.
fn uncertainty(field: &str, text: &str, half: &str, read: &Reading) -> Result<f64, AskError> {
    let dimension = read.unit.dimension();
    let bare = fairpull_units::decimal(half.replace(',', ".").as_bytes());
    let share = half.strip_suffix('%').filter(|_| dimension != Dimension::Ratio).map(str::trim);
    let u = match (bare, share) {
        (Some(x), _) => x * read.unit.factor(),
        (_, Some(percent)) => {
            let x = reading(field, text, &format!("{percent}%"), Dimension::Ratio)?;
            libm::fabs(read.si) * x.si
        }
        _ if dimension == Dimension::Temperature => {
            reading(field, text, half, Dimension::TemperatureDifference)?.si
        }
        _ => {
            let r = reading(field, text, half, dimension)?;
            // the half width of a gauge reading is a difference like any other
            r.value * r.unit.factor()
        }
    };
    if u.is_finite() && u >= 0.0 {
        Ok(u)
    } else {
        Err(AskError::new(
            field,
            text,
            "the standard uncertainty is not a number of at least 0",
            "write e.g. 221kW ± 2kW or 221kW ± 1%",
        ))
    }
}

/// Reads a plain number, `96` or `96 ± 2`.
pub(crate) fn number(field: &str, text: &str) -> Result<Stated, AskError> {
    let (value, half) = halves(text);
    let read = |part: &str| {
        fairpull_units::decimal(part.replace(',', ".").as_bytes()).filter(|x| x.is_finite()).ok_or_else(
            || {
                AskError::new(
                    field,
                    text,
                    format!("{part:?} is not a number"),
                    "write a number, with its standard uncertainty where it is known: 96 or 96 ± 2",
                )
            },
        )
    };
    let value = read(value)?;
    let uncertainty = match half.map(|h| (h, h.strip_suffix('%'))) {
        None => 0.0,
        Some((_, Some(percent))) => libm::fabs(value) * read(percent.trim())? / 100.0,
        Some((h, None)) => read(h)?,
    };
    if uncertainty < 0.0 {
        return Err(AskError::new(field, text, "the standard uncertainty is below 0", "write e.g. 96 ± 2"));
    }
    Ok(Stated { value, uncertainty })
}

/// A pressure that says whether it is gauge or absolute.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct StatedPressure {
    /// kPa, above vacuum or above the barometer.
    pub kpa: Stated,
    pub gauge: bool,
}

impl From<StatedPressure> for fairpull_stress::PressureGiven {
    fn from(p: StatedPressure) -> Self {
        if p.gauge {
            Self::gauge(p.kpa.value, p.kpa.uncertainty)
        } else {
            Self::absolute(p.kpa.value, p.kpa.uncertainty)
        }
    }
}

/// Reads a pressure; the unit must say `(a)` or `(g)`, except for a barometer, which is absolute.
pub(crate) fn pressure(field: &str, text: &str, barometer: bool) -> Result<StatedPressure, AskError> {
    let (value, half) = halves(text);
    let read = reading(field, text, value, Dimension::Pressure)?;
    let gauge = match (read.unit.reference(), barometer) {
        (Reference::Gauge, false) => true,
        (Reference::Absolute, _) | (Reference::Unstated, true) => false,
        (Reference::Gauge, true) => {
            return Err(AskError::new(
                field,
                text,
                "a barometer shows absolute pressure, this is a gauge pressure",
                "give the station pressure, e.g. 985hPa",
            ));
        }
        (Reference::Unstated, false) => {
            return Err(AskError::new(
                field,
                text,
                format!(
                    "{} does not say whether it counts from vacuum or from the barometer",
                    read.unit.symbol()
                ),
                format!("write {0}(a) for absolute or {0}(g) for gauge", read.unit.symbol()),
            ));
        }
    };
    let u = half.map_or(Ok(0.0), |h| uncertainty(field, text, h, &read))?;
    Ok(StatedPressure { kpa: Stated { value: read.si, uncertainty: u }.per(1e3), gauge })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn uncertainty_in_every_form() {
        let p = |t| quantity("power", t, Dimension::Power).unwrap();
        assert_eq!(p("200kW"), Stated { value: 200e3, uncertainty: 0.0 });
        assert_eq!(p("200kW ± 2kW").uncertainty, 2e3);
        assert_eq!(p("200kW ± 1%").uncertainty, 2e3);
        assert_eq!(p("200kW +- 2").uncertainty, 2e3);
        assert_eq!(p("200kW +/- 2,5").uncertainty, 2.5e3);
        let t = quantity("t", "34C ± 0.5K", Dimension::Temperature).unwrap();
        assert!((t.celsius().value - 34.0).abs() < 1e-9 && t.uncertainty == 0.5);
        let e = quantity("e", "70% ± 3%", Dimension::Ratio).unwrap();
        assert!((e.uncertainty - 0.03).abs() < 1e-15);
    }

    #[test]
    fn a_pressure_says_what_it_counts_from() {
        let m = pressure("manifold", "1.2bar(g) ± 10mbar", false).unwrap();
        assert!(m.gauge && (m.kpa.value - 120.0).abs() < 1e-9 && (m.kpa.uncertainty - 1.0).abs() < 1e-12);
        let e = pressure("manifold", "1.2bar", false).unwrap_err().to_string();
        insta::assert_snapshot!(e, @r#"manifold "1.2bar": bar does not say whether it counts from vacuum or from the barometer; write bar(a) for absolute or bar(g) for gauge"#);
    }

    #[test]
    fn wrong_dimension_and_negative_uncertainty_are_refused() {
        let e = quantity("power", "34C", Dimension::Power).unwrap_err().to_string();
        assert!(e.starts_with("power \"34C\": "), "{e}");
        assert!(quantity("power", "3kW ± -1kW", Dimension::Power).is_err());
        assert!(number("k", "x").is_err() && number("k", "1 ± -1").is_err() && number("k", "inf").is_err());
    }
}
