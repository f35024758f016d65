//! TOML and JSON as one tree, with the place of each value where the format tells it.

use crate::error::{DeclarationError, place};
use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use toml::de::{DeTable, DeValue};

/// A value and where it stands (byte offset).
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub(crate) data: Data,
    pub(crate) at: Option<usize>,
}

#[derive(Clone, Debug)]
pub(crate) enum Data {
    Text(String),
    Number(f64),
    Truth(bool),
    List(Vec<Node>),
    Table(Vec<Entry>),
    /// A value no declaration has a use for, as written.
    Other(String),
}

/// A key, its place, and its value.
pub(crate) type Entry = (String, Option<usize>, Node);

impl Node {
    /// The value as a message shows it.
    pub(crate) fn shown(&self) -> String {
        match &self.data {
            Data::Text(t) => format!("\"{}\"", t.escape_debug()),
            Data::Number(n) => n.to_string(),
            Data::Truth(b) => b.to_string(),
            Data::List(items) => format!("a list of {}", items.len()),
            Data::Table(_) => "a table".to_owned(),
            Data::Other(text) => text.clone(),
        }
    }
}

pub(crate) fn from_toml(text: &str, file: &str) -> Result<Node, DeclarationError> {
    let table = DeTable::parse(text).map_err(|e| DeclarationError {
        file: file.to_owned(),
        place: e.span().map(|s| place(text, s.start)),
        field: String::new(),
        message: format!("not TOML: {}", e.message()),
    })?;
    Ok(Node { at: Some(table.span().start), data: table_of(table.get_ref()) })
}

fn table_of(table: &DeTable<'_>) -> Data {
    let entry = |(key, value): (&toml::Spanned<_>, &toml::Spanned<DeValue<'_>>)| {
        let word: &std::borrow::Cow<'_, str> = key.get_ref();
        (word.to_string(), Some(key.span().start), node_of(value))
    };
    Data::Table(table.iter().map(entry).collect())
}

fn node_of(value: &toml::Spanned<DeValue<'_>>) -> Node {
    let number = |text: String| {
        let plain: String = text.chars().filter(|c| *c != '_').collect();
        plain.parse().map_or(Data::Other(text), Data::Number)
    };
    let data = match value.get_ref() {
        DeValue::String(s) => Data::Text(s.to_string()),
        DeValue::Integer(i) => number(i.to_string()),
        DeValue::Float(f) => number(f.to_string()),
        DeValue::Boolean(b) => Data::Truth(*b),
        DeValue::Datetime(d) => Data::Other(d.to_string()),
        DeValue::Array(a) => Data::List(a.iter().map(node_of).collect()),
        DeValue::Table(t) => table_of(t),
    };
    Node { data, at: Some(value.span().start) }
}

pub(crate) fn from_json(text: &str, file: &str) -> Result<Node, DeclarationError> {
    serde_json::from_str(text).map_err(|e| DeclarationError {
        file: file.to_owned(),
        place: (e.line() > 0).then(|| (e.line(), e.column())),
        field: String::new(),
        message: format!("not JSON: {e}"),
    })
}

struct AnyValue;

const fn bare(data: Data) -> Node {
    Node { data, at: None }
}

impl<'de> Visitor<'de> for AnyValue {
    type Value = Node;

    fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("a JSON value")
    }
    fn visit_bool<E>(self, v: bool) -> Result<Node, E> {
        Ok(bare(Data::Truth(v)))
    }
    fn visit_i64<E>(self, v: i64) -> Result<Node, E> {
        Ok(bare(Data::Number(v as f64)))
    }
    fn visit_u64<E>(self, v: u64) -> Result<Node, E> {
        Ok(bare(Data::Number(v as f64)))
    }
    fn visit_f64<E>(self, v: f64) -> Result<Node, E> {
        Ok(bare(Data::Number(v)))
    }
    fn visit_str<E>(self, v: &str) -> Result<Node, E> {
        Ok(bare(Data::Text(v.to_owned())))
    }
    fn visit_unit<E>(self) -> Result<Node, E> {
        Ok(bare(Data::Other("null".to_owned())))
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Node, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = seq.next_element()? {
            items.push(item);
        }
        Ok(bare(Data::List(items)))
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Node, A::Error> {
        let mut entries: Vec<Entry> = Vec::new();
        while let Some((key, value)) = map.next_entry::<String, Node>()? {
            if entries.iter().any(|(k, ..)| *k == key) {
                return Err(serde::de::Error::custom(format!("the field {key} stands twice")));
            }
            entries.push((key, None, value));
        }
        Ok(bare(Data::Table(entries)))
    }
}

impl<'de> Deserialize<'de> for Node {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(AnyValue)
    }
}
