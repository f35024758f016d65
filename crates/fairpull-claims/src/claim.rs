//! A claim as a brochure makes it: `claim.toml`, or the same fields as flags.

use crate::error::{ClaimError, place};
use crate::fields::{Field, Kind, LISTS, SECTIONS};
use fairpull_units::Unit;
use std::cell::RefCell;
use std::collections::BTreeMap;
use toml::de::{DeTable, DeValue};

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
pub type Section = BTreeMap<&'static str, Value>;

/// A claim: fields by section and key; what is not stated is absent.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Claim {
    /// Title, if one was given.
    pub title: String,
    /// Sections with one table: `engine`, `stock`, `fuel`, `parts`, `car`.
    pub sections: BTreeMap<&'static str, Section>,
    /// Acceleration times.
    pub times: Vec<Section>,
    /// Points of the full-load curve.
    pub curve: Vec<Section>,
}

struct Reader<'a> {
    text: &'a str,
    file: &'a str,
    /// Byte at which each section and field stands.
    places: RefCell<BTreeMap<String, usize>>,
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
                let number = text.parse::<f64>().map_err(|_| {
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
        self.sections.entry(name).or_default().insert(field.key, value);
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

impl Reader<'_> {
    fn fail(&self, byte: usize, field: &str, problem: String, mend: &str) -> ClaimError {
        let (line, column) = if self.text.is_empty() { (0, 0) } else { place(self.text, byte) };
        ClaimError {
            file: self.file.to_owned(),
            line,
            column,
            field: field.to_owned(),
            problem,
            mend: mend.to_owned(),
        }
    }

    /// Where a field stands, or else its section.
    fn at(&self, field: &str) -> usize {
        let places = self.places.borrow();
        let section = field.split('.').next().unwrap_or(field);
        places.get(field).or_else(|| places.get(section)).copied().unwrap_or(0)
    }

    fn unknown(&self, byte: usize, field: &str, known: &[&str]) -> ClaimError {
        let key = field.rsplit('.').next().unwrap_or(field);
        let near = known.iter().min_by_key(|k| distance(k, key)).filter(|k| distance(k, key) <= 3);
        let mend = match near {
            Some(k) => format!("did you mean {k}?"),
            None => format!("known here: {}", known.join(", ")),
        };
        self.fail(byte, field, "is not a field of a claim".to_owned(), &mend)
    }

    fn section(
        &self,
        claim: &mut Claim,
        name: &str,
        at: usize,
        value: &DeValue<'_>,
    ) -> Result<(), ClaimError> {
        if let Some((section, fields)) = SECTIONS.iter().find(|(s, _)| *s == name) {
            let Some(table) = value.as_table() else {
                return Err(self.fail(
                    at,
                    name,
                    format!("is a {}, not a table", value.type_str()),
                    &format!("write [{name}]"),
                ));
            };
            claim.sections.insert(section, self.table(section, fields, table)?);
            return Ok(());
        }
        if let Some((section, fields)) = LISTS.iter().find(|(s, _)| *s == name) {
            let Some(array) = value.as_array() else {
                return Err(self.fail(
                    at,
                    name,
                    format!("is a {}, not a list of tables", value.type_str()),
                    &format!("write [[{name}]]"),
                ));
            };
            for (i, item) in array.iter().enumerate() {
                let full = format!("{section}[{}]", i + 1);
                self.places.borrow_mut().insert(full.clone(), item.span().start);
                let Some(table) = item.get_ref().as_table() else {
                    return Err(self.fail(
                        item.span().start,
                        &full,
                        "is not a table".to_owned(),
                        &format!("write [[{name}]]"),
                    ));
                };
                let read = self.table(&full, fields, table)?;
                if *section == "time" { claim.times.push(read) } else { claim.curve.push(read) }
            }
            return Ok(());
        }
        let known: Vec<&str> = SECTIONS.iter().chain(LISTS).map(|s| s.0).chain(["schema", "title"]).collect();
        Err(self.unknown(at, name, &known))
    }

    fn table(
        &self,
        name: &str,
        fields: &'static [Field],
        table: &DeTable<'_>,
    ) -> Result<Section, ClaimError> {
        let mut out = Section::new();
        for (key, value) in table {
            let full = format!("{name}.{}", key.get_ref());
            let Some(field) = fields.iter().find(|f| f.key == key.get_ref().as_ref()) else {
                return Err(self.unknown(
                    key.span().start,
                    &full,
                    &fields.iter().map(|f| f.key).collect::<Vec<_>>(),
                ));
            };
            let at = value.span().start;
            self.places.borrow_mut().insert(full.clone(), at);
            let mend = format!("write {} = {}", field.key, field.example);
            let plain = match value.get_ref() {
                DeValue::Integer(i) => i.as_str().replace('_', "").parse::<f64>().ok(),
                DeValue::Float(f) => f.as_str().replace('_', "").parse::<f64>().ok(),
                _ => None,
            };
            let read = match (value.get_ref(), field.kind) {
                (DeValue::String(s), Kind::Quantity(..) | Kind::Word(_) | Kind::Text)
                    if field.key != "gears" =>
                {
                    self.text(field, &full, at, s)?
                }
                (DeValue::Boolean(b), Kind::Flag) => Value::Flag(*b),
                (DeValue::Array(list), Kind::Text) if field.key == "gears" => {
                    let mut numbers = Vec::new();
                    for item in list.iter() {
                        let number = match item.get_ref() {
                            DeValue::Integer(i) => i.as_str().parse::<f64>().ok(),
                            DeValue::Float(f) => f.as_str().parse::<f64>().ok(),
                            _ => None,
                        };
                        match number {
                            Some(x) if (0.05..=50.0).contains(&x) => numbers.push(x),
                            _ => {
                                let problem =
                                    "holds an entry that is no gear ratio from 0.05 to 50".to_owned();
                                return Err(self.fail(item.span().start, &full, problem, &mend));
                            }
                        }
                    }
                    Value::Numbers(numbers)
                }
                (_, Kind::Number(..)) if plain.is_some() => {
                    self.number(field, &full, at, plain.unwrap_or(f64::NAN))?
                }
                (other, Kind::Quantity(dimension, ..)) if plain.is_some() => {
                    let _ = other;
                    let problem =
                        format!("{} has no unit; a {dimension} was expected", plain.unwrap_or(f64::NAN));
                    return Err(self.fail(at, &full, problem, &mend));
                }
                (other, _) => {
                    let problem =
                        format!("is a {} where {} was expected", other.type_str(), expected(field.kind));
                    return Err(self.fail(at, &full, problem, &mend));
                }
            };
            out.insert(field.key, read);
        }
        Ok(out)
    }

    fn number(&self, field: &Field, full: &str, at: usize, number: f64) -> Result<Value, ClaimError> {
        let Kind::Number(low, high) = field.kind else { return Ok(Value::Number(number)) };
        if (low..=high).contains(&number) {
            return Ok(Value::Number(number));
        }
        let problem = format!("is {number}; expected {low} to {high}");
        Err(self.fail(at, full, problem, &format!("write e.g. {} = {}", field.key, field.example)))
    }

    fn text(&self, field: &Field, full: &str, at: usize, text: &str) -> Result<Value, ClaimError> {
        let mend = format!("write e.g. {} = {}", field.key, field.example);
        match field.kind {
            Kind::Quantity(dimension, low, high) => {
                let read = fairpull_units::parse_as(text, dimension)
                    .map_err(|e| self.fail(at, full, e.to_string(), &mend))?;
                if !(low..=high).contains(&read.si) {
                    let bound =
                        |x: f64| fairpull_units::show(x, read.unit, fairpull_units::Digits::Significant(4));
                    let problem = format!("is {text}; expected {} to {}", bound(low), bound(high));
                    return Err(self.fail(at, full, problem, &mend));
                }
                let half_digit = 0.5 * read.unit.factor() * last_digit(text);
                Ok(Value::Quantity { text: text.to_owned(), si: read.si, unit: read.unit, half_digit })
            }
            Kind::Word(words) if !words.contains(&text) => {
                let problem = format!("is \"{text}\"; expected one of {}", words.join(", "));
                Err(self.fail(at, full, problem, &mend))
            }
            Kind::Flag => match text {
                "true" => Ok(Value::Flag(true)),
                "false" => Ok(Value::Flag(false)),
                _ => Err(self.fail(at, full, format!("is \"{text}\"; expected true or false"), &mend)),
            },
            _ => Ok(Value::Word(text.to_owned())),
        }
    }
}

fn expected(kind: Kind) -> &'static str {
    match kind {
        Kind::Quantity(..) => "a text with number and unit",
        Kind::Number(..) => "a number",
        Kind::Word(_) | Kind::Text => "a text",
        Kind::Flag => "true or false",
    }
}

/// Value of the last digit written: 0.01 for `9.15s`, 1 for `530PS`.
fn last_digit(text: &str) -> f64 {
    let digits: String = text
        .trim()
        .chars()
        .take_while(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+' | ' '))
        .collect();
    let decimals = digits.trim().rsplit_once(['.', ',']).map_or(0, |(_, d)| d.trim().len());
    let mut out = 1.0;
    for _ in 0..decimals.min(12) {
        out /= 10.0;
    }
    out
}

/// Edit distance of two words, for a helping hand.
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.chars().enumerate() {
        let mut before = i;
        let mut next = vec![i + 1];
        for (j, cb) in b.iter().enumerate() {
            let up = row.get(j + 1).copied().unwrap_or(0);
            let left = next.get(j).copied().unwrap_or(0);
            next.push((before + usize::from(ca != *cb)).min(up + 1).min(left + 1));
            before = up;
        }
        row = next;
    }
    row.last().copied().unwrap_or(0)
}
