//! Tree to typed question: what a value that does not fit is called. The wording is that of derived readers.

use core::fmt::{self, Display};
use core::ops::Range;

use fairpull_units::Quoted;

use crate::{Data, Fault, Field, Node};

impl Node {
    /// Reads a question.
    ///
    /// # Errors
    /// [`Fault`] with the place of the value that does not fit.
    pub fn read<T: Field>(self) -> Result<T, Fault> {
        T::read(self)
    }

    /// The value is of another kind.
    #[inline(never)]
    pub(crate) fn unfit(&self, expected: &str) -> Fault {
        Fault::at(&self.span, format!("invalid type: {}, expected {expected}", Found(&self.data)))
    }

    /// The value is of the right kind, but cannot be this one.
    #[inline(never)]
    pub(crate) fn out_of_range(&self, expected: &str) -> Fault {
        Fault::at(&self.span, format!("invalid value: {}, expected {expected}", Found(&self.data)))
    }
}

impl Fault {
    pub(crate) fn at(span: &Range<usize>, message: String) -> Self {
        Self::new(message, Some(span.clone()))
    }

    /// A key or a word that is none of those known.
    #[inline(never)]
    pub(crate) fn unknown(what: &str, word: &str, known: &[&str], span: &Range<usize>) -> Self {
        let list: Vec<String> = known.iter().map(|k| format!("`{k}`")).collect();
        let expected = match list.as_slice() {
            [only] => only.clone(),
            [a, b] => format!("{a} or {b}"),
            many => format!("one of {}", many.join(", ")),
        };
        Self::at(span, format!("unknown {what} `{word}`, expected {expected}"))
    }
}

/// A value as a message names it.
struct Found<'a>(&'a Data);

impl Display for Found<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            Data::Null => f.write_str("null"),
            Data::Truth(b) => write!(f, "boolean `{b}`"),
            Data::Whole(n) => write!(f, "integer `{n}`"),
            Data::Large(n) => write!(f, "integer `{n}`"),
            Data::Number(x) => write!(f, "floating point `{x:?}`"),
            Data::Text(t) => write!(f, "string {}", Quoted(t)),
            Data::Date(_) => f.write_str("date or time"),
            Data::List(_) => f.write_str("sequence"),
            Data::Table(_) => f.write_str("map"),
        }
    }
}
