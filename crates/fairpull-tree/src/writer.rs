//! The writer behind both spacings.

use core::fmt::{Display, Write};

use serde::ser::{self, Serialize, Serializer};

use crate::Unwritten;

/// Why writing stopped; behind a pointer, since every field that is written passes it on.
#[derive(Debug)]
pub(crate) struct Stopped(pub(crate) Box<Unwritten>);

impl Display for Stopped {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        self.0.fmt(f)
    }
}

impl core::error::Error for Stopped {}

impl ser::Error for Stopped {
    #[inline(never)]
    fn custom<T: Display>(message: T) -> Self {
        Self(Box::new(Unwritten::Refused { message: message.to_string() }))
    }
}

pub(crate) struct Writer {
    pub(crate) out: String,
    /// Where the first number stands that is infinite or not a number.
    pub(crate) not_finite: Option<usize>,
    indented: bool,
    depth: usize,
}

impl Writer {
    pub(crate) fn new(indented: bool) -> Self {
        Self { out: String::with_capacity(256), not_finite: None, indented, depth: 0 }
    }

    fn line(&mut self) {
        if self.indented {
            self.out.push('\n');
            (0..self.depth).for_each(|_| self.out.push_str("  "));
        }
    }

    #[inline(never)]
    fn open(&mut self, sign: char) {
        self.out.push(sign);
        self.depth += 1;
    }

    #[inline(never)]
    fn close(&mut self, sign: char) {
        self.depth -= 1;
        if !self.out.ends_with(['[', '{']) {
            self.line();
        }
        self.out.push(sign);
    }

    /// What stands before the next entry. A text ends in a quote, so an opening bracket at the end is one of ours.
    #[inline(never)]
    fn next(&mut self) {
        if !self.out.ends_with(['[', '{']) {
            self.out.push(',');
        }
        self.line();
    }

    #[inline(never)]
    fn colon(&mut self) {
        self.out.push_str(if self.indented { ": " } else { ":" });
    }

    #[inline(never)]
    fn key(&mut self, key: &str) {
        self.next();
        self.text(key);
        self.colon();
    }

    #[inline(never)]
    fn text(&mut self, text: &str) {
        self.out.push('"');
        for c in text.chars() {
            let short = match c {
                '"' | '\\' => c,
                '\n' => 'n',
                '\r' => 'r',
                '\t' => 't',
                '\u{8}' => 'b',
                '\u{c}' => 'f',
                '\0'..='\u{1f}' => {
                    self.shown(format_args!("\\u{:04x}", u32::from(c)));
                    continue;
                }
                _ => {
                    self.out.push(c);
                    continue;
                }
            };
            self.out.extend(['\\', short]);
        }
        self.out.push('"');
    }

    fn shown(&mut self, what: core::fmt::Arguments<'_>) {
        // writing to a text cannot fail
        let _ = self.out.write_fmt(what);
    }

    #[inline(never)]
    fn whole(&mut self, negative: bool, size: u64) {
        self.shown(format_args!("{}{size}", if negative { "-" } else { "" }));
    }

    #[inline(never)]
    fn number(&mut self, value: f64) {
        if !value.is_finite() {
            self.not_finite.get_or_insert(self.out.len());
            return self.out.push_str("null");
        }
        // `Debug` turns to powers of ten below 1e-4 already, and writes them without a plus
        if (1e-5..1e-4).contains(&value.abs()) {
            return self.shown(format_args!("{value}"));
        }
        let begin = self.out.len();
        self.shown(format_args!("{value:?}"));
        let power = self.out.get(begin..).and_then(|t| t.find('e')).map(|e| begin + e + 1);
        if let Some(at) = power.filter(|at| !self.out.get(*at..).is_some_and(|t| t.starts_with('-'))) {
            self.out.insert(at, '+');
        }
    }

    /// Puts what was written from `begin` on in quotes, where it is no text yet.
    #[inline(never)]
    fn quoted(&mut self, begin: usize) -> Result<(), Stopped> {
        match self.out.as_bytes().get(begin) {
            Some(b'"') => {}
            Some(b'-' | b'0'..=b'9' | b't' | b'f') => {
                self.out.insert(begin, '"');
                self.out.push('"');
            }
            _ => return Err(ser::Error::custom("a key must be a text")),
        }
        Ok(())
    }

    /// `{"variant":` of a variant that holds something.
    fn variant(&mut self, name: &str) {
        self.open('{');
        self.key(name);
    }
}

/// Numbers of every width.
macro_rules! wholes {
    ($($name:ident: $type:ty),*) => {
        $(fn $name(self, v: $type) -> Result<(), Stopped> {
            self.serialize_i64(i64::from(v))
        })*
    };
}

impl<'a> Serializer for &'a mut Writer {
    type Ok = ();
    type Error = Stopped;
    type SerializeSeq = Open<'a>;
    type SerializeTuple = Open<'a>;
    type SerializeTupleStruct = Open<'a>;
    type SerializeTupleVariant = Open<'a>;
    type SerializeMap = Open<'a>;
    type SerializeStruct = Open<'a>;
    type SerializeStructVariant = Open<'a>;

    wholes!(serialize_i8: i8, serialize_i16: i16, serialize_i32: i32, serialize_u8: u8, serialize_u16: u16,
        serialize_u32: u32);

    fn serialize_bool(self, v: bool) -> Result<(), Stopped> {
        self.out.push_str(if v { "true" } else { "false" });
        Ok(())
    }

    fn serialize_i64(self, v: i64) -> Result<(), Stopped> {
        self.whole(v < 0, v.unsigned_abs());
        Ok(())
    }

    fn serialize_u64(self, v: u64) -> Result<(), Stopped> {
        self.whole(false, v);
        Ok(())
    }

    fn serialize_f32(self, v: f32) -> Result<(), Stopped> {
        self.serialize_f64(f64::from(v))
    }

    fn serialize_f64(self, v: f64) -> Result<(), Stopped> {
        self.number(v);
        Ok(())
    }

    fn serialize_char(self, v: char) -> Result<(), Stopped> {
        self.serialize_str(v.encode_utf8(&mut [0; 4]))
    }

    fn serialize_str(self, v: &str) -> Result<(), Stopped> {
        self.text(v);
        Ok(())
    }

    fn serialize_bytes(self, v: &[u8]) -> Result<(), Stopped> {
        v.serialize(self)
    }

    fn serialize_none(self) -> Result<(), Stopped> {
        self.serialize_unit()
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<(), Stopped> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<(), Stopped> {
        self.out.push_str("null");
        Ok(())
    }

    fn serialize_unit_struct(self, _: &'static str) -> Result<(), Stopped> {
        self.serialize_unit()
    }

    fn serialize_unit_variant(self, _: &'static str, _: u32, variant: &'static str) -> Result<(), Stopped> {
        self.serialize_str(variant)
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        value: &T,
    ) -> Result<(), Stopped> {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        variant: &'static str,
        value: &T,
    ) -> Result<(), Stopped> {
        self.variant(variant);
        value.serialize(&mut *self)?;
        self.close('}');
        Ok(())
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Open<'a>, Stopped> {
        self.open('[');
        Ok(Open { writer: self, ends: "]" })
    }

    fn serialize_tuple(self, _: usize) -> Result<Open<'a>, Stopped> {
        self.serialize_seq(None)
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<Open<'a>, Stopped> {
        self.serialize_seq(None)
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        variant: &'static str,
        _: usize,
    ) -> Result<Open<'a>, Stopped> {
        self.variant(variant);
        self.open('[');
        Ok(Open { writer: self, ends: "]}" })
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Open<'a>, Stopped> {
        self.open('{');
        Ok(Open { writer: self, ends: "}" })
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Open<'a>, Stopped> {
        self.serialize_map(None)
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        variant: &'static str,
        _: usize,
    ) -> Result<Open<'a>, Stopped> {
        self.variant(variant);
        self.open('{');
        Ok(Open { writer: self, ends: "}}" })
    }
}

/// A list or table that is being written, and the signs that end it.
pub(crate) struct Open<'a> {
    writer: &'a mut Writer,
    ends: &'static str,
}

impl Open<'_> {
    fn element<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Stopped> {
        self.writer.next();
        value.serialize(&mut *self.writer)
    }

    fn field<T: Serialize + ?Sized>(&mut self, key: &str, value: &T) -> Result<(), Stopped> {
        self.writer.key(key);
        value.serialize(&mut *self.writer)
    }

    #[inline(never)]
    fn done(self) {
        for sign in self.ends.chars() {
            self.writer.close(sign);
        }
    }
}

/// What all of them have; each then has its own way to an entry.
macro_rules! open {
    ($($kind:ident $entry:ident($($key:ident)?) by $way:ident),* $(,)?) => {
        $(impl ser::$kind for Open<'_> {
            type Ok = ();
            type Error = Stopped;

            fn $entry<T: Serialize + ?Sized>(&mut self, $($key: &'static str,)? value: &T) -> Result<(), Stopped> {
                self.$way($($key,)? value)
            }

            fn end(self) -> Result<(), Stopped> {
                self.done();
                Ok(())
            }
        })*
    };
}
open!(
    SerializeSeq serialize_element() by element,
    SerializeTuple serialize_element() by element,
    SerializeTupleStruct serialize_field() by element,
    SerializeTupleVariant serialize_field() by element,
    SerializeStruct serialize_field(key) by field,
    SerializeStructVariant serialize_field(key) by field,
);

impl ser::SerializeMap for Open<'_> {
    type Ok = ();
    type Error = Stopped;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Result<(), Stopped> {
        self.writer.next();
        let begin = self.writer.out.len();
        key.serialize(&mut *self.writer)?;
        self.writer.quoted(begin)
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Stopped> {
        self.writer.colon();
        value.serialize(&mut *self.writer)
    }

    fn end(self) -> Result<(), Stopped> {
        self.done();
        Ok(())
    }
}
