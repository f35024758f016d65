//! Questions out of a tree field by field: what [`crate::fields!`] writes for a struct.
//!
//! A derived reader is compiled once for every field of every struct; here a field costs one call.

use core::ops::Range;

use serde::de::Expected;

use crate::{Data, Fault, Node};

/// What can be read from a tree.
pub trait Field: Sized {
    /// Reads the value.
    ///
    /// # Errors
    /// [`Fault`] with the place of what does not fit.
    fn read(node: Node) -> Result<Self, Fault>;

    /// The value of a field that is not there, where it may be left out.
    #[must_use]
    fn absent() -> Option<Self> {
        None
    }
}

/// The entries of a table, taken one after the other.
pub struct Fields {
    entries: Vec<(&'static str, Option<Node>)>,
    span: Range<usize>,
}

impl Fields {
    /// The entries of a table that has no others than those named.
    ///
    /// # Errors
    /// [`Fault`] when the value is no table, or has an entry that is not among `known`.
    #[inline(never)]
    pub fn of(node: Node, name: &'static str, known: &'static [&'static str]) -> Result<Self, Fault> {
        let Data::Table(table) = node.data else { return Err(node.unfit(&Struct(name))) };
        let mut entries: Vec<(&'static str, Option<Node>)> = known.iter().map(|k| (*k, None)).collect();
        for (key, value) in table {
            match entries.iter_mut().find(|(k, _)| *k == key.name) {
                Some((_, place)) => *place = Some(value),
                None => return Err(unknown(&key.name, known, key.span)),
            }
        }
        Ok(Self { entries, span: node.span })
    }

    #[inline(never)]
    fn node(&mut self, name: &str) -> Option<Node> {
        self.entries.iter_mut().find(|(k, _)| *k == name).and_then(|(_, value)| value.take())
    }

    /// A field that may be left out only where its type says so.
    ///
    /// # Errors
    /// [`Fault`] when it does not fit, or is missing.
    #[inline(never)]
    pub fn take<T: Field>(&mut self, name: &'static str) -> Result<T, Fault> {
        match self.node(name) {
            Some(node) => T::read(node),
            None => T::absent().ok_or_else(|| self.missing(name)),
        }
    }

    /// A field whose default stands where it is left out.
    ///
    /// # Errors
    /// [`Fault`] when it does not fit.
    #[inline(never)]
    pub fn or_default<T: Field + Default>(&mut self, name: &'static str) -> Result<T, Fault> {
        self.node(name).map_or_else(|| Ok(T::default()), T::read)
    }

    #[inline(never)]
    fn missing(&self, name: &str) -> Fault {
        Fault { message: format!("missing field `{name}`"), span: Some(self.span.clone()) }
    }
}

/// How a message names what a table was expected for.
struct Struct(&'static str);

impl Expected for Struct {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str("struct ")?;
        f.write_str(self.0)
    }
}

#[inline(never)]
fn unknown(name: &str, known: &[&str], span: Range<usize>) -> Fault {
    let list: Vec<String> = known.iter().map(|k| format!("`{k}`")).collect();
    let expected = match list.as_slice() {
        [only] => only.clone(),
        [a, b] => format!("{a} or {b}"),
        many => format!("one of {}", many.join(", ")),
    };
    Fault { message: format!("unknown field `{name}`, expected {expected}"), span: Some(span) }
}

impl Field for String {
    fn read(node: Node) -> Result<Self, Fault> {
        match node.data {
            Data::Text(t) => Ok(t),
            _ => Err(node.unfit(&"a string")),
        }
    }
}

impl Field for bool {
    fn read(node: Node) -> Result<Self, Fault> {
        match node.data {
            Data::Truth(b) => Ok(b),
            _ => Err(node.unfit(&"a boolean")),
        }
    }
}

impl Field for f64 {
    fn read(node: Node) -> Result<Self, Fault> {
        match node.data {
            Data::Number(x) => Ok(x),
            Data::Whole(n) => Ok(n as Self),
            Data::Large(n) => Ok(n as Self),
            _ => Err(node.unfit(&"f64")),
        }
    }
}

/// Whole numbers that have a range of their own.
macro_rules! whole {
    ($($type:ident),*) => {
        $(impl Field for $type {
            fn read(node: Node) -> Result<Self, Fault> {
                let fits = match node.data {
                    Data::Whole(n) => Self::try_from(n).ok(),
                    Data::Large(n) => Self::try_from(n).ok(),
                    _ => return Err(node.unfit(&stringify!($type))),
                };
                fits.ok_or_else(|| node.out_of_range(&stringify!($type)))
            }
        })*
    };
}
whole!(u8, u32, u64, usize);

impl<T: Field> Field for Option<T> {
    fn read(node: Node) -> Result<Self, Fault> {
        match node.data {
            Data::Null => Ok(None),
            _ => T::read(node).map(Some),
        }
    }

    fn absent() -> Option<Self> {
        Some(None)
    }
}

impl<T: Field> Field for Vec<T> {
    fn read(node: Node) -> Result<Self, Fault> {
        match node.data {
            Data::List(items) => items.into_iter().map(T::read).collect(),
            _ => Err(node.unfit(&"a sequence")),
        }
    }
}

impl<A: Field, B: Field> Field for (A, B) {
    fn read(node: Node) -> Result<Self, Fault> {
        let [a, b] = items(node)?;
        Ok((A::read(a)?, B::read(b)?))
    }
}

impl<const N: usize> Field for [f64; N] {
    fn read(node: Node) -> Result<Self, Fault> {
        let mut out = [0.0; N];
        for (x, item) in out.iter_mut().zip(items::<N>(node)?) {
            *x = f64::read(item)?;
        }
        Ok(out)
    }
}

/// So many values, neither more nor less.
fn items<const N: usize>(node: Node) -> Result<[Node; N], Fault> {
    let Data::List(items) = node.data else { return Err(node.unfit(&format!("a list of {N}").as_str())) };
    let (found, span) = (items.len(), node.span);
    let message = || format!("invalid length {found}, expected a list of {N}");
    items.try_into().map_err(|_| Fault { message: message(), span: Some(span) })
}

impl<T: Field> Field for std::collections::BTreeMap<String, T> {
    fn read(node: Node) -> Result<Self, Fault> {
        match node.data {
            Data::Table(entries) => entries.into_iter().map(|(k, v)| Ok((k.name, T::read(v)?))).collect(),
            _ => Err(node.unfit(&"a map")),
        }
    }
}

/// A value with the bytes it stands in.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed<T> {
    value: T,
    span: Range<usize>,
}

impl<T> Placed<T> {
    /// The value.
    pub const fn get_ref(&self) -> &T {
        &self.value
    }

    /// The value alone.
    pub fn into_inner(self) -> T {
        self.value
    }

    /// Where it stands in the text.
    pub fn span(&self) -> Range<usize> {
        self.span.clone()
    }
}

impl<T: Field> Field for Placed<T> {
    fn read(node: Node) -> Result<Self, Fault> {
        let span = node.span.clone();
        Ok(Self { value: T::read(node)?, span })
    }
}

/// Keys that are data, each with its place and its value.
#[derive(Clone, Debug, PartialEq)]
pub struct Entries<T>(pub Vec<(Placed<String>, T)>);

impl<T: Field> Field for Entries<T> {
    fn read(node: Node) -> Result<Self, Fault> {
        let Data::Table(entries) = node.data else { return Err(node.unfit(&"a map")) };
        let one = |(key, value): (crate::Key, Node)| {
            Ok((Placed { value: key.name, span: key.span }, T::read(value)?))
        };
        entries.into_iter().map(one).collect::<Result<_, _>>().map(Self)
    }
}

/// Reads a struct from a table: its fields by name, and no others. In the form `default` a field that is left out has the
/// default of its type; otherwise it must be there unless it is an `Option` or has `= default` after it.
///
/// ```
/// struct Question {
///     power: f64,
///     title: Option<String>,
///     names: Vec<String>,
/// }
/// fairpull_tree::fields!(Question { power, title, names = default });
///
/// use fairpull_tree::Field;
/// let q = Question::read(fairpull_tree::json("{\"power\": 1}")?)?;
/// assert_eq!((q.power, q.title, q.names.len()), (1.0, None, 0));
/// # Ok::<(), fairpull_tree::Fault>(())
/// ```
#[macro_export]
macro_rules! fields {
    ($type:ident default { $($name:ident),* $(,)? }) => {
        impl $crate::Field for $type {
            fn read(node: $crate::Node) -> Result<Self, $crate::Fault> {
                let mut fields = $crate::Fields::of(node, stringify!($type), &[$(stringify!($name)),*])?;
                Ok(Self { $($name: fields.or_default(stringify!($name))?),* })
            }
        }
    };
    ($type:ident { $($name:ident $(= $default:ident)?),* $(,)? }) => {
        impl $crate::Field for $type {
            fn read(node: $crate::Node) -> Result<Self, $crate::Fault> {
                let mut fields = $crate::Fields::of(node, stringify!($type), &[$(stringify!($name)),*])?;
                Ok(Self { $($name: $crate::fields!(@ fields $name $($default)?)?),* })
            }
        }
    };
    (@ $fields:ident $name:ident default) => {
        $fields.or_default(stringify!($name))
    };
    (@ $fields:ident $name:ident) => {
        $fields.take(stringify!($name))
    };
}

/// Reads a type by its `Deserialize`.
#[macro_export]
macro_rules! field_by_serde {
    ($($type:ty),* $(,)?) => {
        $(impl $crate::Field for $type {
            fn read(node: $crate::Node) -> Result<Self, $crate::Fault> {
                $crate::by_serde(node)
            }
        })*
    };
}
