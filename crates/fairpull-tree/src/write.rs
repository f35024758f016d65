//! Answers as JSON text: the bytes of `serde_json`, the digits of numbers by the standard library.
//!
//! The number printer that `serde_json` brings is faster, but its table of powers is 10 kB that no compression makes
//! smaller, and the browser modules hold the standard library's printer in any case.

use std::io::{Error, Write};

use serde::Serialize;
use serde_json::ser::{CompactFormatter, Formatter, PrettyFormatter, Serializer};

/// An answer as JSON text in one line.
///
/// # Errors
/// When a map of the answer has keys that are no text.
pub fn compact<T: Serialize + ?Sized>(answer: &T) -> Result<String, serde_json::Error> {
    text(answer, CompactFormatter)
}

/// An answer as indented JSON text.
///
/// # Errors
/// When a map of the answer has keys that are no text.
pub fn pretty<T: Serialize + ?Sized>(answer: &T) -> Result<String, serde_json::Error> {
    text(answer, PrettyFormatter::new())
}

fn text<T: Serialize + ?Sized, F: Formatter>(answer: &T, form: F) -> Result<String, serde_json::Error> {
    let mut out = Vec::with_capacity(256);
    answer.serialize(&mut Serializer::with_formatter(&mut out, Digits(form)))?;
    // the serialiser writes only text
    Ok(String::from_utf8(out).unwrap_or_default())
}

/// A form with the numbers of the standard library.
struct Digits<F>(F);

/// What a form does, done by that form.
macro_rules! same {
    ($($name:ident($($flag:ident)?)),*) => {
        $(fn $name<W: ?Sized + Write>(&mut self, writer: &mut W $(, $flag: bool)?) -> Result<(), Error> {
            self.0.$name(writer $(, $flag)?)
        })*
    };
}

impl<F: Formatter> Formatter for Digits<F> {
    same!(
        begin_array(),
        end_array(),
        begin_array_value(first),
        end_array_value(),
        begin_object(),
        end_object(),
        begin_object_key(first),
        begin_object_value(),
        end_object_value()
    );

    fn write_f64<W: ?Sized + Write>(&mut self, writer: &mut W, value: f64) -> Result<(), Error> {
        // `Debug` turns to powers of ten below 1e-4 already, and writes them without a plus
        if (1e-5..1e-4).contains(&value.abs()) {
            return write!(writer, "{value}");
        }
        let mut text = format!("{value:?}");
        if let Some(e) = text.find('e').filter(|_| !text.contains("e-")) {
            text.insert(e + 1, '+');
        }
        writer.write_all(text.as_bytes())
    }

    fn write_f32<W: ?Sized + Write>(&mut self, writer: &mut W, value: f32) -> Result<(), Error> {
        self.write_f64(writer, f64::from(value))
    }
}
