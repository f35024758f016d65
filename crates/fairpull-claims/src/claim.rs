//! A claim as a brochure makes it: `claim.toml`, or the same fields as flags.

use crate::error::ClaimError;
use crate::fields::{Kind, SECTIONS};
use crate::named::Named;
use crate::read::Reader;
use fairpull_units::Unit;
use std::cell::RefCell;
use toml::de::DeTable;

/// Schema that a claim names.
pub const SCHEMA: &str = "fairpull-claim-1";

/// A value of a claim.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A quantity.
    Quantity {
        /// As written.
        text: String,
        /// In SI.
        si: f64,
        /// Its unit as written.
        unit: &'static Unit,
        /// Half a unit of the last digit written, in SI: what rounding may have changed.
        half_digit: f64,
    },
    /// A number.
    Number(f64),
    /// A list of numbers.
    Numbers(Vec<f64>),
    /// A word or a text.
    Word(String),
    /// Yes or no.
    Flag(bool),
}

/// One table of a claim.
pub type Section = Named<Value>;

/// A claim: fields by section and key; what is not stated is absent.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Claim {
    /// Title, if one was given.
    pub title: String,
    /// Sections with one table: `engine`, `stock`, `fuel`, `parts`, `car`.
    pub sections: Named<Section>,
    /// Acceleration times.
    pub times: Vec<Section>,
    /// Points of the full-load curve.
    pub curve: Vec<Section>,
}

impl Claim {
    /// Reads `claim.toml`.
    ///
    /// # Errors
    /// [`ClaimError`] with file, line, column, field, value, unit and mend.
    pub fn parse(text: &str, file: &str) -> Result<Self, ClaimError> {
        let reader = Reader { text, file, places: RefCell::default() };
        let table = DeTable::parse(text).map_err(|e| {
            let at = e.span().map_or(0, |s| s.start);
            reader.fail(at, "file", e.message().to_owned(), "write TOML: key = \"number and unit\"")
        })?;
        let mut claim = Self::default();
        let mut schema = false;
        for (key, value) in table.get_ref() {
            let (name, at) = (key.get_ref().as_ref(), key.span().start);
            match name {
                "schema" => {
                    schema = true;
                    let found = value.get_ref().as_str().unwrap_or("");
                    if found != SCHEMA {
                        let problem = format!("is \"{found}\", this reads \"{SCHEMA}\"");
                        return Err(reader.fail(
                            value.span().start,
                            "schema",
                            problem,
                            "write schema = \"fairpull-claim-1\"",
                        ));
                    }
                }
                "title" => claim.title = value.get_ref().as_str().unwrap_or("").to_owned(),
                _ => reader.section(&mut claim, name, at, value.get_ref())?,
            }
        }
        if !schema {
            return Err(reader.fail(
                0,
                "schema",
                "is missing".to_owned(),
                "write schema = \"fairpull-claim-1\" first",
            ));
        }
        claim.check(&|field, problem, mend| reader.fail(reader.at(field), field, problem, mend))?;
        Ok(claim)
    }

    /// Sets one field of a section from a flag, e.g. `set("engine", "power", "221kW")`.
    ///
    /// # Errors
    /// [`ClaimError`] with the field, value, unit and mend.
    pub fn set(&mut self, section: &str, key: &str, text: &str) -> Result<(), ClaimError> {
        let reader = Reader { text: "", file: "--flags", places: RefCell::default() };
        let full = format!("{section}.{key}");
        let found = SECTIONS.iter().find(|(s, _)| *s == section);
        let Some((name, fields)) = found else {
            return Err(reader.unknown(0, section, &SECTIONS.iter().map(|s| s.0).collect::<Vec<_>>()));
        };
        let Some(field) = fields.iter().find(|f| f.key == key) else {
            return Err(reader.unknown(0, &full, &fields.iter().map(|f| f.key).collect::<Vec<_>>()));
        };
        let value = match field.kind {
            Kind::Number(..) => {
                let number = fairpull_units::decimal(text.as_bytes()).ok_or_else(|| {
                    reader.fail(
                        0,
                        &full,
                        format!("\"{text}\" is not a number"),
                        &format!("write {}", field.example),
                    )
                })?;
                reader.number(field, &full, 0, number)?
            }
            _ => reader.text(field, &full, 0, text)?,
        };
        self.sections.entry(name).insert(field.key, value);
        self.check(&|field, problem, mend| reader.fail(0, field, problem, mend))
    }

    /// A field.
    #[must_use]
    pub fn get(&self, section: &str, key: &str) -> Option<&Value> {
        self.sections.get(section)?.get(key)
    }

    /// A quantity in SI, or a number.
    #[must_use]
    pub fn si(&self, section: &str, key: &str) -> Option<f64> {
        self.get(section, key).and_then(Value::number)
    }

    /// A word.
    #[must_use]
    pub fn word(&self, section: &str, key: &str) -> Option<&str> {
        match self.get(section, key)? {
            Value::Word(w) => Some(w),
            _ => None,
        }
    }

    /// Cross-checks between fields: those that make the claim unreadable rather than wrong.
    fn check(&self, fail: &dyn Fn(&str, String, &str) -> ClaimError) -> Result<(), ClaimError> {
        let number = |s: &Section, k: &str| s.get(k).and_then(Value::number);
        for (i, t) in self.times.iter().enumerate() {
            let field = |key: &str| format!("time[{}].{key}", i + 1);
            let Some(_) = number(t, "time") else {
                return Err(fail(&field("time"), "is missing".to_owned(), "write time = \"9.1s\""));
            };
            match (number(t, "from"), number(t, "to"), number(t, "distance")) {
                (_, None, None) => {
                    return Err(fail(
                        &field("to"),
                        "neither \"to\" nor \"distance\" is given".to_owned(),
                        "write to = \"100km/h\" or distance = \"402.336m\"",
                    ));
                }
                (_, Some(_), Some(_)) => {
                    return Err(fail(
                        &field("to"),
                        "both \"to\" and \"distance\" are given".to_owned(),
                        "keep the one that was timed",
                    ));
                }
                (from, Some(to), None) if from.unwrap_or(0.0) >= to => {
                    let problem = format!(
                        "is {:.1} km/h, not above the start speed {:.1} km/h",
                        to * 3.6,
                        from.unwrap_or(0.0) * 3.6
                    );
                    return Err(fail(&field("to"), problem, "give the lower speed as \"from\""));
                }
                _ => {}
            }
            for other in self.times.get(..i).unwrap_or(&[]) {
                let from = |s: &Section| number(s, "from").unwrap_or(0.0);
                let same = from(t) == from(other) && t.get("rollout") == other.get("rollout");
                for key in ["to", "distance"] {
                    if let (true, Some(a), Some(b)) = (same, number(other, key), number(t, key)) {
                        let (ta, tb) =
                            (number(other, "time").unwrap_or(0.0), number(t, "time").unwrap_or(0.0));
                        if (a < b && ta >= tb) || (a > b && ta <= tb) {
                            let problem = format!(
                                "is {tb} s, but another time from the same start is {ta} s: the longer way cannot take less time"
                            );
                            return Err(fail(
                                &field("time"),
                                problem,
                                "check which time belongs to which speed or distance",
                            ));
                        }
                    }
                }
            }
        }
        for (i, p) in self.curve.iter().enumerate() {
            if number(p, "speed").is_none() || number(p, "torque").is_some() == number(p, "power").is_some() {
                let field = format!("curve[{}]", i + 1);
                return Err(fail(
                    &field,
                    "needs \"speed\" and one of \"torque\" and \"power\"".to_owned(),
                    "write { speed = \"4000rpm\", torque = \"380Nm\" }",
                ));
            }
        }
        if let Some(Value::Numbers(gears)) = self.get("car", "gears")
            && let Some(i) = gears.windows(2).position(|w| matches!(w, [a, b] if b >= a))
        {
            let problem = format!("gear {} is not shorter than gear {}", i + 1, i + 2);
            return Err(fail("car.gears", problem, "give the ratios from first gear on, falling"));
        }
        Ok(())
    }
}

impl Value {
    /// The number, in SI for a quantity.
    #[must_use]
    pub fn number(&self) -> Option<f64> {
        match self {
            Self::Quantity { si, .. } => Some(*si),
            Self::Number(x) => Some(*x),
            _ => None,
        }
    }
}
