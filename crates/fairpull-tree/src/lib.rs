//! TOML and JSON as one small tree, typed questions out of it, each value with its place, and answers as JSON.
//!
//! A type that derives `Deserialize` is compiled once for every format it is read from, and for every way a format may
//! spell it. Here both formats become one plain tree first, and [`fields!`] reads a struct from a table alone. That makes
//! the browser modules much smaller, and a complaint has a place in either format.
//!
//! ```
//! #[derive(Default)]
//! struct Question { power: f64 }
//! fairpull_tree::fields!(Question { power });
//!
//! let q: Question = fairpull_tree::json("{\"power\": 400}")?.read()?;
//! assert_eq!(q.power, 400.0);
//! let e = fairpull_tree::toml("power = \"much\"")?.read::<Question>().err().ok_or("refused")?;
//! assert_eq!(e.message, "invalid type: string \"much\", expected a number");
//! assert_eq!(e.span, Some(8..14));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod fields;
mod json;
mod read;
mod toml_tree;
mod write;
mod writer;

use core::fmt;
use core::ops::Range;

pub use fairpull_units::decimal;
pub use fields::{Entries, Field, Fields, Place, Placed, word};
pub use json::json;
pub use toml_tree::{float, toml};
pub use write::{Unwritten, compact, pretty};

/// A value and the bytes it stands in.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// The value.
    pub data: Data,
    /// Where it stands in the text.
    pub span: Range<usize>,
}

/// What a value can be.
#[derive(Clone, Debug, PartialEq)]
pub enum Data {
    /// `null` of JSON.
    Null,
    /// True or false.
    Truth(bool),
    /// A whole number.
    Whole(i64),
    /// A whole number above the range of `i64`.
    Large(u64),
    /// Any other number.
    Number(f64),
    /// A text.
    Text(String),
    /// A date or time of TOML, as written; no question takes one, it is there to be named.
    Date(String),
    /// A list.
    List(Vec<Node>),
    /// Keys with their values: those of JSON in the order of the text, those of TOML by name.
    Table(Vec<(Key, Node)>),
}

/// A key and the bytes it stands in.
#[derive(Clone, Debug, PartialEq)]
pub struct Key {
    /// The key.
    pub name: String,
    /// Where it stands in the text.
    pub span: Range<usize>,
}

/// Why a text is no tree, or a tree not what was asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// What is wrong.
    pub message: String,
    /// Where; `None` only before a place is known.
    pub span: Option<Range<usize>>,
}

impl Fault {
    /// Something wrong with the text as a whole.
    pub(crate) const fn new(message: String, span: Option<Range<usize>>) -> Self {
        Self { message, span }
    }

    /// The field it is wrong in, names joined by dots: that of a value, or of the table in which a name is wrong or
    /// missing. Empty for the tree as a whole.
    ///
    /// ```
    /// let text = "[car]\nmass = true";
    /// let fault = fairpull_tree::Fault { message: "no mass".into(), span: Some(13..17) };
    /// assert_eq!(fault.field(&fairpull_tree::toml(text)?), "car.mass");
    /// # Ok::<(), fairpull_tree::Fault>(())
    /// ```
    #[must_use]
    pub fn field(&self, tree: &Node) -> String {
        let mut path = Vec::new();
        let found = self.span.as_ref().is_some_and(|span| find(tree, span, &mut path));
        if found { path.join(".") } else { String::new() }
    }

    /// Line and column, both from 1, the column in characters.
    #[must_use]
    pub fn place(&self, text: &str) -> (usize, usize) {
        place(text, self.span.as_ref().map_or(0, |s| s.start))
    }
}

/// The names above the value, or the table of the name, that stands at the span.
fn find<'a>(node: &'a Node, span: &Range<usize>, path: &mut Vec<&'a str>) -> bool {
    let at = match &node.data {
        Data::List(items) => return items.iter().any(|item| find(item, span, path)) || node.span == *span,
        Data::Table(entries) => entries,
        _ => return node.span == *span,
    };
    for (key, value) in at {
        path.push(&key.name);
        if find(value, span, path) {
            return true;
        }
        path.pop();
        if key.span == *span {
            return true;
        }
    }
    node.span == *span
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl core::error::Error for Fault {}

/// Line and column of a byte, both from 1, the column in characters.
#[must_use]
pub fn place(text: &str, byte: usize) -> (usize, usize) {
    let before = text.get(..byte.min(text.len())).unwrap_or("");
    let line = before.matches('\n').count() + 1;
    (line, before.rsplit('\n').next().map_or(0, |l| l.chars().count()) + 1)
}
