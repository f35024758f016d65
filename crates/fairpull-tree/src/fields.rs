//! Questions out of a tree field by field: what [`crate::fields!`] writes for a struct.
//!
//! A derived reader is compiled once for every field of every struct; here a field costs one call.

use core::ops::Range;

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

/// A place in a struct that a value of the table belongs to, whatever its type: what differs between fields is one pointer.
pub trait Place {
    /// Reads the value into the place.
    ///
    /// # Errors
    /// [`Fault`] when it does not fit.
    fn fill(&mut self, node: Node) -> Result<(), Fault>;

    /// Whether the type says that the value may be left out.
    fn may_be_absent(&self) -> bool;
}

impl<T: Field> Place for T {
    fn fill(&mut self, node: Node) -> Result<(), Fault> {
        *self = T::read(node)?;
        Ok(())
    }

    fn may_be_absent(&self) -> bool {
        T::absent().is_some()
    }
}

/// The entries of a table that has no others than those named, in the order of the names.
pub struct Fields {
    names: &'static [&'static str],
    entries: Vec<Option<Node>>,
    span: Range<usize>,
}

impl Fields {
    /// The entries of a table.
    ///
    /// # Errors
    /// [`Fault`] when the value is no table, or has an entry that is not among `names`.
    pub fn of(node: Node, name: &'static str, names: &'static [&'static str]) -> Result<Self, Fault> {
        let Data::Table(table) = node.data else { return Err(node.unfit(&format!("struct {name}"))) };
        let mut entries: Vec<Option<Node>> = names.iter().map(|_| None).collect();
        for (key, value) in table {
            match entries.iter_mut().zip(names).find(|(_, k)| **k == key.name) {
                Some((place, _)) => *place = Some(value),
                None => return Err(Fault::unknown("field", &key.name, names, &key.span)),
            }
        }
        Ok(Self { names, entries, span: node.span })
    }

    /// Reads each entry into its place. What is left out keeps the default that stands there, where the type or
    /// `defaults` allows it; with no `defaults` all of them do.
    ///
    /// # Errors
    /// [`Fault`] when a value does not fit, or is missing.
    pub fn into_places(self, defaults: Option<&[&str]>, places: &mut [&mut dyn Place]) -> Result<(), Fault> {
        for ((entry, name), place) in self.entries.into_iter().zip(self.names).zip(places) {
            match entry {
                Some(node) => place.fill(node)?,
                None if place.may_be_absent() || defaults.is_none_or(|d| d.contains(name)) => {}
                None => {
                    return Err(Fault::at(&self.span, format!("missing field `{name}`")));
                }
            }
        }
        Ok(())
    }
}

impl Field for String {
    fn read(node: Node) -> Result<Self, Fault> {
        match node.data {
            Data::Text(t) => Ok(t),
            _ => Err(node.unfit("a string")),
        }
    }
}

impl Field for bool {
    fn read(node: Node) -> Result<Self, Fault> {
        match node.data {
            Data::Truth(b) => Ok(b),
            _ => Err(node.unfit("a boolean")),
        }
    }
}

impl Field for f64 {
    fn read(node: Node) -> Result<Self, Fault> {
        match node.data {
            Data::Number(x) => Ok(x),
            Data::Whole(n) => Ok(n as Self),
            Data::Large(n) => Ok(n as Self),
            _ => Err(node.unfit("a number")),
        }
    }
}

/// Whole numbers that have a range of their own.
macro_rules! whole {
    ($($type:ident: $words:literal),* $(,)?) => {
        $(impl Field for $type {
            fn read(node: Node) -> Result<Self, Fault> {
                let fits = match node.data {
                    Data::Whole(n) => Self::try_from(n).ok(),
                    Data::Large(n) => Self::try_from(n).ok(),
                    _ => return Err(node.unfit("a whole number")),
                };
                fits.ok_or_else(|| node.out_of_range($words))
            }
        })*
    };
}
whole! {
    u8: "a whole number from 0 to 255",
    u32: "a whole number from 0 to 4294967295",
    u64: "a whole number of at least 0",
    usize: "a whole number of at least 0",
}

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
            _ => Err(node.unfit("a sequence")),
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
    let Data::List(items) = node.data else { return Err(node.unfit(&format!("a list of {N}"))) };
    let (found, span) = (items.len(), node.span);
    let message = || format!("invalid length {found}, expected a list of {N}");
    items.try_into().map_err(|_| Fault::new(message(), Some(span)))
}

impl<T: Field> Field for std::collections::BTreeMap<String, T> {
    fn read(node: Node) -> Result<Self, Fault> {
        match node.data {
            Data::Table(entries) => {
                let mut all = Self::new();
                for (key, value) in entries {
                    all.insert(key.name, T::read(value)?);
                }
                Ok(all)
            }
            _ => Err(node.unfit("a map")),
        }
    }
}

/// A value with the bytes it stands in.
#[derive(Clone, Debug, Default, PartialEq)]
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

impl<T> Default for Entries<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<T: Field> Field for Entries<T> {
    fn read(node: Node) -> Result<Self, Fault> {
        let Data::Table(entries) = node.data else { return Err(node.unfit("a map")) };
        let one = |(key, value): (crate::Key, Node)| {
            Ok((Placed { value: key.name, span: key.span }, T::read(value)?))
        };
        entries.into_iter().map(one).collect::<Result<_, _>>().map(Self)
    }
}

/// Reads a struct from a table: its fields by name, and no others. In the form `default` a field that is left out keeps
/// what the struct's `Default` has there; otherwise it must be there unless it is an `Option` or has `= default` after it.
///
/// ```
/// #[derive(Default)]
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
        $crate::fields!(@ $type (None) $($name)*);
    };
    ($type:ident { $($name:ident $(= $default:ident)?),* $(,)? }) => {
        $crate::fields!(@ $type (Some(&[$($crate::fields!(@@ $name $($default)?)),*])) $($name)*);
    };
    (@ $type:ident ($defaults:expr) $($name:ident)*) => {
        impl $crate::Field for $type {
            fn read(node: $crate::Node) -> Result<Self, $crate::Fault> {
                let fields = $crate::Fields::of(node, stringify!($type), &[$(stringify!($name)),*])?;
                let mut read = Self::default();
                fields.into_places($defaults, &mut [$(&mut read.$name as &mut dyn $crate::Place),*])?;
                Ok(read)
            }
        }
    };
    (@@ $name:ident default) => { stringify!($name) };
    (@@ $name:ident) => { "" };
}

/// A value that is one of a few words; the choice with its name in the form `Type { "word" => Variant }` of [`words!`](crate::words!).
///
/// # Errors
/// [`Fault`] when the value is no text, or another word.
pub fn word<T: Copy>(node: Node, words: &[(&'static str, T)]) -> Result<T, Fault> {
    let Data::Text(text) = &node.data else { return Err(node.unfit("a string")) };
    let found = words.iter().find(|(w, _)| w == text).map(|(_, value)| *value);
    found.ok_or_else(|| {
        let known: Vec<&str> = words.iter().map(|(w, _)| *w).collect();
        Fault::unknown("variant", text, &known, &node.span)
    })
}

/// Reads an enum from one of the words that stand for its variants.
///
/// ```
/// #[derive(Clone, Copy, Debug, PartialEq)]
/// enum Kind { Plain, Round }
/// fairpull_tree::words!(Kind { "plain" => Plain, "round" => Round });
///
/// use fairpull_tree::Field;
/// assert_eq!(Kind::read(fairpull_tree::json("\"round\"")?)?, Kind::Round);
/// # Ok::<(), fairpull_tree::Fault>(())
/// ```
#[macro_export]
macro_rules! words {
    ($type:ident { $($word:literal => $variant:ident),* $(,)? }) => {
        impl $crate::Field for $type {
            fn read(node: $crate::Node) -> Result<Self, $crate::Fault> {
                $crate::word(node, &[$(($word, Self::$variant)),*])
            }
        }
    };
}
