//! What the job file says about a log: which column plays which role, and how the text is to be read.

use serde::{Deserialize, Serialize};

use crate::Role;

/// How to read one kind of log. Everything left out is detected from the file and reported in
/// [`Format`](crate::Format).
#[derive(Clone, Debug, Default, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Layout {
    /// Separator between cells.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub separator: Option<Separator>,
    /// Decimal sign.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub decimal: Option<Decimal>,
    /// Encoding of the text.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub encoding: Option<Encoding>,
    /// Rows per second, Hz, for a log that has no column of time: row n then stands at n / rate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sample_rate_hz: Option<f64>,
    /// The columns that are to be read; all others are left alone.
    #[serde(default)]
    pub columns: Vec<Column>,
}

impl Layout {
    /// A layout of these columns with everything else detected.
    #[must_use]
    pub fn of(columns: Vec<Column>) -> Self {
        Self { columns, ..Self::default() }
    }
}

/// One column of the log and the role it plays.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Column {
    /// What the column holds.
    pub role: Role,
    /// Its name as the header writes it. The unit in the header and upper or lower case may be left out where the
    /// name stays the only one that fits.
    pub name: String,
    /// Unit of the cells; needed where the file does not say, and preferred (and reported) where the file differs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// Gauge or absolute, for a pressure whose unit does not say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reference: Option<PressureReference>,
}

impl Column {
    /// A column by role and name; the unit stands in the file.
    #[must_use]
    pub fn new(role: Role, name: &str) -> Self {
        Self { role, name: name.into(), unit: None, reference: None }
    }

    /// The same column with its unit stated.
    #[must_use]
    pub fn unit(mut self, unit: &str) -> Self {
        self.unit = Some(unit.into());
        self
    }

    /// The same column with its pressure reference stated.
    #[must_use]
    pub fn reference(mut self, reference: PressureReference) -> Self {
        self.reference = Some(reference);
        self
    }
}

/// What a pressure is counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum PressureReference {
    /// From the barometer of the moment.
    Gauge,
    /// From vacuum.
    Absolute,
}

impl PressureReference {
    /// `gauge` or `absolute`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Gauge => "gauge",
            Self::Absolute => "absolute",
        }
    }
}

/// Separator between cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Separator {
    /// `,`
    Comma,
    /// `;`
    Semicolon,
    /// Tab.
    Tab,
    /// `|`
    Bar,
}

impl Separator {
    /// All of them, in the order in which they are tried.
    pub const ALL: [Self; 4] = [Self::Semicolon, Self::Tab, Self::Comma, Self::Bar];

    /// The byte.
    #[must_use]
    pub const fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
            Self::Bar => b'|',
        }
    }

    /// Name as a job file and a report write it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Comma => "comma",
            Self::Semicolon => "semicolon",
            Self::Tab => "tab",
            Self::Bar => "bar",
        }
    }
}

/// Decimal sign of the numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Decimal {
    /// `12.5`
    Point,
    /// `12,5`
    Comma,
}

impl Decimal {
    /// Name as a job file and a report write it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Point => "point",
            Self::Comma => "comma",
        }
    }
}

/// Encoding of the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, Serialize)]
pub enum Encoding {
    /// UTF-8, with or without byte-order mark.
    #[serde(rename = "utf-8")]
    Utf8,
    /// ISO 8859-1, with the printable characters of Windows-1252 where that has them.
    #[serde(rename = "latin-1")]
    Latin1,
    /// UTF-16, little end first.
    #[serde(rename = "utf-16le")]
    Utf16Le,
    /// UTF-16, big end first.
    #[serde(rename = "utf-16be")]
    Utf16Be,
}

impl Encoding {
    /// Name as a job file and a report write it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Utf8 => "utf-8",
            Self::Latin1 => "latin-1",
            Self::Utf16Le => "utf-16le",
            Self::Utf16Be => "utf-16be",
        }
    }
}

fairpull_tree::words!(PressureReference { "gauge" => Gauge, "absolute" => Absolute });
fairpull_tree::words!(Separator { "comma" => Comma, "semicolon" => Semicolon, "tab" => Tab, "bar" => Bar });
fairpull_tree::words!(Decimal { "point" => Point, "comma" => Comma });
fairpull_tree::words!(Encoding {
    "utf-8" => Utf8,
    "latin-1" => Latin1,
    "utf-16le" => Utf16Le,
    "utf-16be" => Utf16Be,
});
