//! A log as typed channels in SI units.

use fairpull_units::Unit;
use serde::Serialize;

use crate::{Decimal, Encoding, PressureReference, Repairs, Role, Separator};

/// One column of a log, converted.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Channel {
    /// What it holds.
    pub role: Role,
    /// Name of the column in the log.
    pub column: String,
    /// Unit of the cells in the log.
    pub unit: &'static Unit,
    /// Gauge or absolute, for a pressure.
    pub reference: Option<PressureReference>,
    /// Values in the coherent SI unit of the role's dimension, one a row; NaN where missing.
    pub values: Vec<f64>,
}

impl Channel {
    /// A channel made elsewhere: values in the coherent SI unit, NaN where missing.
    #[must_use]
    pub fn new(
        role: Role,
        column: &str,
        unit: &'static Unit,
        reference: Option<PressureReference>,
        values: Vec<f64>,
    ) -> Self {
        Self { role, column: column.into(), unit, reference, values }
    }

    /// Number of rows without a value.
    #[must_use]
    pub fn missing(&self) -> usize {
        self.values.iter().filter(|v| v.is_nan()).count()
    }
}

/// How the text of a log was read.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Format {
    /// Encoding of the text.
    pub encoding: Encoding,
    /// Separator between cells.
    pub separator: Separator,
    /// Decimal sign.
    pub decimal: Decimal,
    /// Line of the header, counted from 1; none when there is no header.
    pub header_line: Option<u64>,
    /// Line of the row of units.
    pub units_line: Option<u64>,
    /// Line of the first row of numbers.
    pub data_line: u64,
    /// Lines of text before the header, comments included, as they stand.
    pub preamble: Vec<String>,
}

impl Format {
    /// UTF-8, commas, decimal points, header on line 1.
    const fn plain() -> Self {
        Self {
            encoding: Encoding::Utf8,
            separator: Separator::Comma,
            decimal: Decimal::Point,
            header_line: Some(1),
            units_line: None,
            data_line: 2,
            preamble: Vec::new(),
        }
    }
}

/// A log read into channels of equal length.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Recording {
    /// The name it was read under.
    pub file: String,
    /// Number of rows kept.
    pub rows: usize,
    /// Time of each row, s, strictly increasing; starts where the log starts.
    pub time: Vec<f64>,
    /// First row of each stretch between two starts of the clock; the first is always 0.
    pub segments: Vec<usize>,
    /// The mapped columns but time, in the order of the layout.
    pub channels: Vec<Channel>,
    /// What was mended, dropped or found odd.
    pub repairs: Repairs,
    /// How the text was read.
    pub format: Format,
}

impl Recording {
    /// A recording made elsewhere (a simulator, a page): one stretch, nothing repaired. Rows beyond the shortest of
    /// time and channels are left out. `time` in s, strictly increasing.
    #[must_use]
    pub fn new(file: &str, mut time: Vec<f64>, mut channels: Vec<Channel>) -> Self {
        let rows = channels.iter().map(|c| c.values.len()).fold(time.len(), usize::min);
        time.truncate(rows);
        for c in &mut channels {
            c.values.truncate(rows);
        }
        Self {
            file: file.into(),
            rows,
            time,
            segments: vec![0],
            channels,
            repairs: Repairs::default(),
            format: Format::plain(),
        }
    }

    /// The channel of a role.
    #[must_use]
    pub fn channel(&self, role: Role) -> Option<&Channel> {
        self.channels.iter().find(|c| c.role == role)
    }

    /// Median time between rows, s.
    #[must_use]
    pub fn median_interval(&self) -> f64 {
        crate::timeline::median_interval(&self.time)
    }
}
