//! TOML to tree.

use core::ops::Range;

use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

use crate::{Data, Fault, Key, Node};

/// Reads TOML.
///
/// # Errors
/// [`Fault`] where the text is no TOML.
pub fn toml(text: &str) -> Result<Node, Fault> {
    let root = DeTable::parse(text).map_err(|e| Fault::new(e.message().to_owned(), e.span()))?;
    let span = root.span();
    Ok(Node { data: table(root.into_inner())?, span })
}

fn table(entries: DeTable<'_>) -> Result<Data, Fault> {
    let entry = |(key, value): (Spanned<DeString<'_>>, Spanned<DeValue<'_>>)| {
        let span = key.span();
        Ok((Key { name: key.into_inner().into_owned(), span }, node(value)?))
    };
    entries.into_iter().map(entry).collect::<Result<_, _>>().map(Data::Table)
}

fn node(value: Spanned<DeValue<'_>>) -> Result<Node, Fault> {
    let span = value.span();
    let data =
        match value.into_inner() {
            DeValue::String(s) => Data::Text(s.into_owned()),
            DeValue::Integer(i) => whole(i.as_str(), i.radix(), &span)?,
            DeValue::Float(f) => Data::Number(float(f.as_str()).ok_or_else(|| {
                Fault::new("floating-point number overflowed".to_owned(), Some(span.clone()))
            })?),
            DeValue::Boolean(b) => Data::Truth(b),
            DeValue::Datetime(d) => Data::Date(d.to_string()),
            DeValue::Array(a) => Data::List(a.into_iter().map(node).collect::<Result<_, _>>()?),
            DeValue::Table(t) => table(t)?,
        };
    Ok(Node { data, span })
}

fn whole(digits: &str, radix: u32, span: &Range<usize>) -> Result<Data, Fault> {
    let narrow = i64::from_str_radix(digits, radix).map(Data::Whole);
    narrow
        .or_else(|_| u64::from_str_radix(digits, radix).map(Data::Large))
        .map_err(|_| Fault::new("integer number overflowed".to_owned(), Some(span.clone())))
}

/// A float of TOML, underscores taken out: the words `inf` and `nan` with or without a sign are numbers there. A text that
/// is larger than any number is none.
#[must_use]
pub fn float(digits: &str) -> Option<f64> {
    match digits {
        "inf" | "+inf" => Some(f64::INFINITY),
        "-inf" => Some(f64::NEG_INFINITY),
        "nan" | "+nan" | "-nan" => Some(f64::NAN),
        _ => fairpull_units::decimal(digits.as_bytes()).filter(|x| x.is_finite()),
    }
}
