//! Looks through anything that can be written for a number that is not finite: JSON would make it `null`.

use core::fmt::{self, Display};

use serde::ser::{self, Impossible, Serialize, Serializer};

/// Keys that lead to the first number that is infinite or not a number, joined by dots, places in lists from 0.
pub(crate) fn not_finite<T: Serialize>(value: &T) -> Option<String> {
    value.serialize(Look).err().map(|e| e.0.trim_start_matches('.').to_owned())
}

/// The way to the number, built from its end.
#[derive(Debug)]
struct Found(String);

impl Found {
    #[inline(never)]
    fn under(self, key: &str) -> Self {
        Self(format!(".{key}{}", self.0))
    }

    #[inline(never)]
    fn at(self, place: usize) -> Self {
        Self(format!("[{place}]{}", self.0))
    }
}

impl Display for Found {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl core::error::Error for Found {}

impl ser::Error for Found {
    fn custom<T: Display>(message: T) -> Self {
        Self(message.to_string())
    }
}

struct Look;

/// What passes whatever it is.
macro_rules! passes {
    ($($name:ident: $type:ty),*) => {
        $(fn $name(self, _: $type) -> Result<(), Found> {
            Ok(())
        })*
    };
}

impl Serializer for Look {
    type Ok = ();
    type Error = Found;
    type SerializeSeq = Places;
    type SerializeTuple = Places;
    type SerializeTupleStruct = Impossible<(), Found>;
    type SerializeTupleVariant = Impossible<(), Found>;
    type SerializeMap = Keys;
    type SerializeStruct = Keys;
    type SerializeStructVariant = Keys;

    passes!(serialize_bool: bool, serialize_i8: i8, serialize_i16: i16, serialize_i32: i32, serialize_i64: i64,
        serialize_u8: u8, serialize_u16: u16, serialize_u32: u32, serialize_u64: u64, serialize_char: char,
        serialize_str: &str, serialize_bytes: &[u8], serialize_unit_struct: &'static str);

    fn serialize_f32(self, v: f32) -> Result<(), Found> {
        self.serialize_f64(f64::from(v))
    }

    fn serialize_f64(self, v: f64) -> Result<(), Found> {
        if v.is_finite() { Ok(()) } else { Err(Found(String::new())) }
    }

    fn serialize_none(self) -> Result<(), Found> {
        Ok(())
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<(), Found> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<(), Found> {
        Ok(())
    }

    fn serialize_unit_variant(self, _: &'static str, _: u32, _: &'static str) -> Result<(), Found> {
        Ok(())
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        value: &T,
    ) -> Result<(), Found> {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        variant: &'static str,
        value: &T,
    ) -> Result<(), Found> {
        value.serialize(self).map_err(|e| e.under(variant))
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Places, Found> {
        Ok(Places(0))
    }

    fn serialize_tuple(self, _: usize) -> Result<Places, Found> {
        Ok(Places(0))
    }

    fn serialize_tuple_struct(
        self,
        name: &'static str,
        _: usize,
    ) -> Result<Self::SerializeTupleStruct, Found> {
        Err(ser::Error::custom(name))
    }

    fn serialize_tuple_variant(
        self,
        name: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Self::SerializeTupleVariant, Found> {
        Err(ser::Error::custom(name))
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Keys, Found> {
        Ok(Keys(String::new()))
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Keys, Found> {
        Ok(Keys(String::new()))
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Keys, Found> {
        Ok(Keys(String::new()))
    }
}

/// A list, and the place that comes next.
struct Places(usize);

impl Places {
    fn next<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Found> {
        let place = self.0;
        self.0 += 1;
        value.serialize(Look).map_err(|e| e.at(place))
    }
}

/// Lists and tuples.
macro_rules! elements {
    ($($kind:ident),*) => {
        $(impl ser::$kind for Places {
            type Ok = ();
            type Error = Found;

            fn serialize_element<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Found> {
                self.next(value)
            }

            fn end(self) -> Result<(), Found> {
                Ok(())
            }
        })*
    };
}
elements!(SerializeSeq, SerializeTuple);

/// A table, and the key that comes next where keys are data.
struct Keys(String);

impl ser::SerializeMap for Keys {
    type Ok = ();
    type Error = Found;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Result<(), Found> {
        let text = fairpull_tree::compact(key).map_err(ser::Error::custom)?;
        self.0 = text.trim_matches('"').to_owned();
        Ok(())
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Found> {
        value.serialize(Look).map_err(|e| e.under(&self.0))
    }

    fn end(self) -> Result<(), Found> {
        Ok(())
    }
}

/// Both kinds of struct.
macro_rules! fields {
    ($($kind:ident),*) => {
        $(impl ser::$kind for Keys {
            type Ok = ();
            type Error = Found;

            fn serialize_field<T: Serialize + ?Sized>(&mut self, key: &'static str, value: &T) -> Result<(), Found> {
                value.serialize(Look).map_err(|e| e.under(key))
            }

            fn end(self) -> Result<(), Found> {
                Ok(())
            }
        })*
    };
}
fields!(SerializeStruct, SerializeStructVariant);
