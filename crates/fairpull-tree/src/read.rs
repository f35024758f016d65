//! Tree to typed question.

use core::fmt::Display;
use core::ops::Range;

use serde::de::{
    DeserializeOwned, DeserializeSeed, Deserializer, EnumAccess, Error, Expected, MapAccess, SeqAccess,
    Unexpected, VariantAccess, Visitor,
};
use serde::forward_to_deserialize_any;

use crate::{Data, Fault, Field, Key, Node};

impl Error for Fault {
    #[inline(never)]
    fn custom<T: Display>(message: T) -> Self {
        Self { message: message.to_string(), span: None }
    }
}

impl Fault {
    /// The fault with a place, where it has none yet.
    fn within(mut self, span: Range<usize>) -> Self {
        self.span.get_or_insert(span);
        self
    }
}

impl Node {
    /// Reads a question.
    ///
    /// # Errors
    /// [`Fault`] with the place of the value that does not fit.
    pub fn read<T: Field>(self) -> Result<T, Fault> {
        T::read(self)
    }

    fn found(&self) -> Unexpected<'_> {
        match &self.data {
            Data::Null => Unexpected::Other("null"),
            Data::Truth(b) => Unexpected::Bool(*b),
            Data::Whole(n) => Unexpected::Signed(*n),
            Data::Large(n) => Unexpected::Unsigned(*n),
            Data::Number(x) => Unexpected::Float(*x),
            Data::Text(t) => Unexpected::Str(t),
            Data::Date(_) => Unexpected::Other("date or time"),
            Data::List(_) => Unexpected::Seq,
            Data::Table(_) => Unexpected::Map,
        }
    }

    /// The value is of another kind.
    #[inline(never)]
    pub(crate) fn unfit(&self, expected: &dyn Expected) -> Fault {
        Fault::invalid_type(self.found(), expected).within(self.span.clone())
    }

    /// The value is of the right kind, but cannot be this one.
    #[inline(never)]
    pub(crate) fn out_of_range(&self, expected: &dyn Expected) -> Fault {
        Fault::invalid_value(self.found(), expected).within(self.span.clone())
    }
}

/// Reads a type that derives `Deserialize`. A struct is taken from a table alone, never from a list in the order of its
/// fields.
///
/// # Errors
/// [`Fault`] with the place of the value that does not fit.
pub fn by_serde<T: DeserializeOwned>(node: Node) -> Result<T, Fault> {
    T::deserialize(node)
}

impl<'de> Deserializer<'de> for Node {
    type Error = Fault;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        let span = self.span;
        match self.data {
            Data::Null => visitor.visit_unit(),
            Data::Truth(b) => visitor.visit_bool(b),
            Data::Whole(n) => visitor.visit_i64(n),
            Data::Large(n) => visitor.visit_u64(n),
            Data::Number(x) => visitor.visit_f64(x),
            Data::Text(t) | Data::Date(t) => visitor.visit_string(t),
            Data::List(items) => visitor.visit_seq(Items(items.into_iter())),
            Data::Table(entries) => visitor.visit_map(Entries(entries.into_iter(), None)),
        }
        .map_err(|e| e.within(span))
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match self.data {
            Data::Truth(b) => visitor.visit_bool(b),
            _ => Err(self.unfit(&visitor)),
        }
    }

    fn deserialize_i64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        let read = match self.data {
            Data::Whole(n) => visitor.visit_i64(n),
            Data::Large(n) => visitor.visit_u64(n),
            _ => return Err(self.unfit(&visitor)),
        };
        read.map_err(|e: Fault| e.within(self.span))
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match self.data {
            Data::Number(x) => visitor.visit_f64(x),
            Data::Whole(n) => visitor.visit_f64(n as f64),
            Data::Large(n) => visitor.visit_f64(n as f64),
            _ => Err(self.unfit(&visitor)),
        }
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match self.data {
            Data::Text(t) => visitor.visit_string(t).map_err(|e: Fault| e.within(self.span)),
            _ => Err(self.unfit(&visitor)),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match self.data {
            Data::Null => visitor.visit_none(),
            _ => visitor.visit_some(self),
        }
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        let span = self.span.clone();
        match self.data {
            Data::List(items) => visitor.visit_seq(Items(items.into_iter())).map_err(|e| e.within(span)),
            _ => Err(self.unfit(&visitor)),
        }
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        let span = self.span.clone();
        match self.data {
            Data::Table(t) => visitor.visit_map(Entries(t.into_iter(), None)).map_err(|e| e.within(span)),
            _ => Err(self.unfit(&visitor)),
        }
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        self.deserialize_map(visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        let span = self.span.clone();
        match self.data {
            Data::Text(name) => visitor.visit_enum(Choice { key: Key { name, span }, value: None }),
            Data::Table(t) if t.len() == 1 => {
                let mut only = t.into_iter();
                match only.next() {
                    Some((key, value)) => visitor.visit_enum(Choice { key, value: Some(value) }),
                    None => Err(Fault::custom("wanted string or table").within(span)),
                }
            }
            _ => Err(Fault::custom("wanted string or table").within(span)),
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(self, _: &'static str, v: V) -> Result<V::Value, Fault> {
        v.visit_newtype_struct(self)
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: usize,
        visitor: V,
    ) -> Result<V::Value, Fault> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_string(visitor)
    }

    fn deserialize_u8<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_i64(visitor)
    }

    fn deserialize_u32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_i64(visitor)
    }

    fn deserialize_u64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_i64(visitor)
    }

    forward_to_deserialize_any! {
        i8 i16 i32 i128 u16 u128 f32 char bytes byte_buf unit unit_struct identifier ignored_any
    }
}

/// The values of a list.
struct Items(std::vec::IntoIter<Node>);

impl<'de> SeqAccess<'de> for Items {
    type Error = Fault;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, Fault> {
        self.0.next().map(|node| seed.deserialize(node)).transpose()
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.0.len())
    }
}

/// The entries of a table, and the value whose key was read last.
struct Entries(std::vec::IntoIter<(Key, Node)>, Option<Node>);

impl<'de> MapAccess<'de> for Entries {
    type Error = Fault;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, Fault> {
        let Some((key, value)) = self.0.next() else { return Ok(None) };
        self.1 = Some(value);
        seed.deserialize(key).map(Some)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Fault> {
        match self.1.take() {
            Some(node) => seed.deserialize(node),
            None => Err(Fault::custom("a value is asked before its key")),
        }
    }
}

impl<'de> Deserializer<'de> for Key {
    type Error = Fault;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        visitor.visit_str(&self.name).map_err(|e: Fault| e.within(self.span))
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        visitor.visit_enum(Choice { key: self, value: None })
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(self, _: &'static str, v: V) -> Result<V::Value, Fault> {
        v.visit_newtype_struct(self)
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option unit unit_struct
        seq tuple tuple_struct map struct identifier ignored_any
    }
}

/// A variant by its name, with what it holds.
struct Choice {
    key: Key,
    value: Option<Node>,
}

impl<'de> EnumAccess<'de> for Choice {
    type Error = Fault;
    type Variant = Held;

    fn variant_seed<V: DeserializeSeed<'de>>(self, seed: V) -> Result<(V::Value, Held), Fault> {
        let span = self.key.span.clone();
        Ok((seed.deserialize(self.key)?, Held { value: self.value, span }))
    }
}

/// What a variant holds, and where its name stands.
struct Held {
    value: Option<Node>,
    span: Range<usize>,
}

impl Held {
    fn node(self) -> Result<Node, Fault> {
        let span = self.span;
        self.value
            .ok_or_else(|| Fault::custom("this variant holds a value; write it as a table").within(span))
    }
}

impl<'de> VariantAccess<'de> for Held {
    type Error = Fault;

    fn unit_variant(self) -> Result<(), Fault> {
        match self.value {
            None => Ok(()),
            Some(node) => {
                Err(Fault::custom("this variant holds no value; write its name alone").within(node.span))
            }
        }
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, Fault> {
        seed.deserialize(self.node()?)
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Fault> {
        self.node()?.deserialize_seq(visitor)
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        self.node()?.deserialize_map(visitor)
    }
}
