//! How a logger writes its file.

use core::fmt::Write;

use crate::Table;

/// Where the units stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Header {
    /// Names only.
    Names,
    /// `Roller [km/h]`.
    UnitsInNames,
    /// A second row with units.
    UnitsRow,
}

/// A way to write a delimited file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dialect {
    /// Field separator.
    pub delimiter: char,
    /// Decimal sign.
    pub decimal: char,
    /// Byte order mark in front.
    pub bom: bool,
    /// Latin-1 instead of UTF-8.
    pub latin1: bool,
    /// Every header field in quotes.
    pub quoted: bool,
    /// Lines before the header, each written behind `# `.
    pub preamble: Vec<String>,
    /// Units.
    pub header: Header,
    /// Carriage return before each line feed.
    pub crlf: bool,
}

impl Default for Dialect {
    fn default() -> Self {
        Self {
            delimiter: ',',
            decimal: '.',
            bom: false,
            latin1: false,
            quoted: false,
            preamble: Vec::new(),
            header: Header::UnitsInNames,
            crlf: false,
        }
    }
}

impl Dialect {
    /// The bytes of the file.
    #[must_use]
    pub fn write(&self, table: &Table) -> Vec<u8> {
        let mut text = String::new();
        let end = if self.crlf { "\r\n" } else { "\n" };
        for line in &self.preamble {
            text.push_str(&format!("# {line}{end}"));
        }
        let mut row = |fields: Vec<String>, quoted: bool| {
            for (k, field) in fields.iter().enumerate() {
                if k > 0 {
                    text.push(self.delimiter);
                }
                if quoted {
                    text.push_str(&format!("\"{field}\""));
                } else {
                    text.push_str(field);
                }
            }
            text.push_str(end);
        };
        let names = table.columns.iter().map(|c| match self.header {
            Header::UnitsInNames if !c.unit.is_empty() => format!("{} [{}]", c.name, c.unit),
            _ => c.name.clone(),
        });
        row(names.collect(), self.quoted);
        if self.header == Header::UnitsRow {
            let unit = |u: &String| if u.is_empty() { "-".into() } else { u.clone() };
            row(table.columns.iter().map(|c| unit(&c.unit)).collect(), self.quoted);
        }
        for k in 0..table.rows() {
            for (j, c) in table.columns.iter().enumerate() {
                if j > 0 {
                    text.push(self.delimiter);
                }
                let from = text.len();
                let x = c.values[k];
                if !x.is_nan() {
                    let _ = write!(text, "{x:.decimals$}", decimals = c.decimals);
                }
                if self.decimal != '.'
                    && let Some(at) = text[from..].find('.')
                {
                    text.replace_range(from + at..=from + at, self.decimal.encode_utf8(&mut [0; 4]));
                }
            }
            text.push_str(end);
        }
        let mut bytes = if self.latin1 {
            text.chars().map(|c| u8::try_from(u32::from(c)).unwrap_or(b'?')).collect()
        } else {
            text.into_bytes()
        };
        if self.bom {
            bytes.splice(0..0, [0xEF, 0xBB, 0xBF]);
        }
        bytes
    }
}
