//! Reading the fields of a claim from TOML, with places for messages.

use crate::claim::{Claim, Section, Value};
use crate::error::{ClaimError, place};
use crate::fields::{Field, Kind, LISTS, SECTIONS};
use std::cell::RefCell;
use toml::de::{DeTable, DeValue};

/// The text of a claim and where its fields stand.
pub(crate) struct Reader<'a> {
    pub(crate) text: &'a str,
    pub(crate) file: &'a str,
    /// Byte at which each section and field stands.
    pub(crate) places: RefCell<Vec<(String, usize)>>,
}

impl Reader<'_> {
    pub(crate) fn fail(&self, byte: usize, field: &str, problem: String, mend: &str) -> ClaimError {
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
    pub(crate) fn at(&self, field: &str) -> usize {
        let places = self.places.borrow();
        let section = field.split('.').next().unwrap_or(field);
        let find = |name: &str| places.iter().find(|(n, _)| n == name).map(|(_, at)| *at);
        find(field).or_else(|| find(section)).unwrap_or(0)
    }

    pub(crate) fn unknown(&self, byte: usize, field: &str, known: &[&str]) -> ClaimError {
        let key = field.rsplit('.').next().unwrap_or(field);
        let near = known.iter().min_by_key(|k| distance(k, key)).filter(|k| distance(k, key) <= 3);
        let mend = match near {
            Some(k) => format!("did you mean {k}?"),
            None => format!("known here: {}", known.join(", ")),
        };
        self.fail(byte, field, "is not a field of a claim".to_owned(), &mend)
    }

    pub(crate) fn section(
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
                self.places.borrow_mut().push((full.clone(), item.span().start));
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
            self.places.borrow_mut().push((full.clone(), at));
            let mend = format!("write {} = {}", field.key, field.example);
            let plain = match value.get_ref() {
                DeValue::Integer(i) => fairpull_tree::float(i.as_str()),
                DeValue::Float(f) => fairpull_tree::float(f.as_str()),
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
                            DeValue::Integer(i) => fairpull_tree::float(i.as_str()),
                            DeValue::Float(f) => fairpull_tree::float(f.as_str()),
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

    pub(crate) fn number(
        &self,
        field: &Field,
        full: &str,
        at: usize,
        number: f64,
    ) -> Result<Value, ClaimError> {
        let Kind::Number(low, high) = field.kind else { return Ok(Value::Number(number)) };
        if (low..=high).contains(&number) {
            return Ok(Value::Number(number));
        }
        let problem = format!("is {number}; expected {low} to {high}");
        Err(self.fail(at, full, problem, &format!("write e.g. {} = {}", field.key, field.example)))
    }

    pub(crate) fn text(&self, field: &Field, full: &str, at: usize, text: &str) -> Result<Value, ClaimError> {
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
