//! Arguments of a call: their names, units and types, literals at planning time, columns at run time.

use arrow::array::{Array, Float64Array, StringViewArray};
use arrow::datatypes::DataType;
use datafusion_common::cast::{as_float64_array, as_string_view_array};
use datafusion_common::{DataFusionError, Result, ScalarValue, plan_err};
use datafusion_expr::ColumnarValue;

/// What an argument is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Kind {
    /// A number in this unit; empty for a pure number.
    Number(&'static str),
    /// A text.
    Text,
}

/// One parameter of a function.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Parameter {
    pub name: &'static str,
    pub kind: Kind,
}

pub(crate) const fn number(name: &'static str, unit: &'static str) -> Parameter {
    Parameter { name, kind: Kind::Number(unit) }
}

pub(crate) const fn text(name: &'static str) -> Parameter {
    Parameter { name, kind: Kind::Text }
}

/// The types the engine casts the arguments to: any number to a double, any text to a text view, NULL to either.
/// `counts` are the permitted numbers of arguments.
pub(crate) fn coerce(
    function: &str,
    parameters: &[Parameter],
    counts: &[usize],
    given: &[DataType],
) -> Result<Vec<DataType>> {
    if !counts.contains(&given.len()) {
        let forms: Vec<String> =
            counts.iter().map(|n| format!("{function}({})", names(parameters.get(..*n)))).collect();
        return plan_err!("{function} is given {} arguments; write {}", given.len(), forms.join(" or "));
    }
    parameters.iter().zip(given).map(|(p, t)| one(function, p, t)).collect()
}

fn names(parameters: Option<&[Parameter]>) -> String {
    parameters.unwrap_or_default().iter().map(|p| p.name).collect::<Vec<_>>().join(", ")
}

fn one(function: &str, parameter: &Parameter, given: &DataType) -> Result<DataType> {
    let is_text = |t: &DataType| matches!(t, DataType::Utf8 | DataType::LargeUtf8 | DataType::Utf8View);
    let is_number = |t: &DataType| {
        t.is_integer() || t.is_floating() || matches!(t, DataType::Decimal128(..) | DataType::Decimal256(..))
    };
    let inner = match given {
        DataType::Dictionary(_, value) => value.as_ref(),
        other => other,
    };
    match (parameter.kind, inner) {
        (Kind::Number(_), t) if is_number(t) || *t == DataType::Null => Ok(DataType::Float64),
        (Kind::Text, t) if is_text(t) || *t == DataType::Null => Ok(DataType::Utf8View),
        (Kind::Number(unit), t) => {
            let unit = if unit.is_empty() { String::new() } else { format!(" in {unit}") };
            plan_err!("{} of {function} is a number{unit}, but {t} is given", parameter.name)
        }
        (Kind::Text, t) => plan_err!("{} of {function} is a text, but {t} is given", parameter.name),
    }
}

/// The texts that are literals in the query, by position.
pub(crate) struct Literals<'a>(pub &'a [Option<&'a ScalarValue>]);

impl Literals<'_> {
    /// The text of an argument, when it is a literal and not NULL.
    pub(crate) fn text(&self, position: usize) -> Option<&str> {
        self.0.get(position).copied().flatten().and_then(|v| v.try_as_str().flatten())
    }
}

/// A number for each row.
#[derive(Clone, Copy)]
pub(crate) enum Numbers<'a> {
    Constant(Option<f64>),
    Column(&'a Float64Array),
}

impl<'a> Numbers<'a> {
    pub(crate) fn new(value: &'a ColumnarValue) -> Result<Self> {
        match value {
            ColumnarValue::Scalar(ScalarValue::Float64(x)) => Ok(Self::Constant(*x)),
            ColumnarValue::Scalar(other) => Err(unexpected(&other.data_type(), "a double")),
            ColumnarValue::Array(a) => Ok(Self::Column(as_float64_array(a)?)),
        }
    }

    pub(crate) fn at(&self, row: usize) -> Option<f64> {
        match self {
            Self::Constant(x) => *x,
            Self::Column(a) => (!a.is_null(row)).then(|| a.value(row)),
        }
    }
}

/// A text for each row.
#[derive(Clone, Copy)]
pub(crate) enum Texts<'a> {
    Constant(Option<&'a str>),
    Column(&'a StringViewArray),
}

impl<'a> Texts<'a> {
    pub(crate) fn new(value: &'a ColumnarValue) -> Result<Self> {
        match value {
            ColumnarValue::Scalar(v) => match v.try_as_str() {
                Some(text) => Ok(Self::Constant(text)),
                None => Err(unexpected(&v.data_type(), "a text")),
            },
            ColumnarValue::Array(a) => Ok(Self::Column(as_string_view_array(a)?)),
        }
    }

    pub(crate) fn at(&self, row: usize) -> Option<&'a str> {
        match self {
            Self::Constant(text) => *text,
            Self::Column(a) => (!a.is_null(row)).then(|| a.value(row)),
        }
    }
}

fn unexpected(found: &DataType, wanted: &str) -> DataFusionError {
    DataFusionError::Internal(format!("{found} where {wanted} was coerced"))
}
