//! The main door: bytes and layout to a recording.

use crate::error::Place;
use crate::finish::finish;
use crate::header::Name;
use crate::resolve::{Header, Wanted, resolve};
use crate::rows::rows;
use crate::sniff::{Sniffed, sniff};
use crate::text::{Text, decode, split};
use crate::{Layout, Recording, RecordingError, RepairKind, Repairs};

/// Reads a delimited log.
///
/// Only the mapped columns are converted, and memory grows with rows × mapped columns (8 bytes each), not with the
/// file; UTF-16 and bare-CR files are copied once. `file` is the name used in messages. What is detected and what
/// is mended on the way stands in the crate's documentation; every mend is counted in [`Recording::repairs`].
///
/// # Errors
/// A [`RecordingError`] that names file, line, column, value, unit, what was expected and how to mend it.
///
/// ```
/// use fairpull_recordings::{Column, Layout, Role, read};
/// let log = "Zeit;Drehzahl\ns;1/min\n0,00;2500\n0,01;2512\n0,02;2525\n";
/// let layout = Layout::of(vec![Column::new(Role::Time, "Zeit"), Column::new(Role::EngineSpeed, "Drehzahl")]);
/// let recording = read(log.as_bytes(), "pull-1.csv", &layout)?;
/// assert_eq!(recording.rows, 3);
/// assert_eq!(recording.time, [0.0, 0.01, 0.02]);
/// # Ok::<(), fairpull_recordings::RecordingError>(())
/// ```
pub fn read(bytes: &[u8], file: &str, layout: &Layout) -> Result<Recording, RecordingError> {
    if layout.columns.is_empty() {
        return Err(RecordingError::NothingMapped { file: file.into() });
    }
    let text = decode(bytes, file, layout.encoding)?;
    let sniffed = sniff(&text, file, layout)?;
    let header = header(&sniffed, &text, file);
    let body = text.bytes.get(sniffed.data..).unwrap_or(&[]);
    let first: Vec<String> = split(line_of(body, 0), sniffed.format.separator.byte())
        .iter()
        .map(|c| text.cell(&c.bytes))
        .collect();
    let mut repairs = Repairs::default();
    if sniffed.format.header_line.is_none() {
        repairs.add(RepairKind::NoHeader, None, 1, sniffed.format.data_line, || {
            header.names.len().to_string() + " columns"
        });
    }
    if header.names.len() == 1 && layout.columns.len() > 1 {
        return Err(RecordingError::TooFewColumns {
            file: file.into(),
            line: sniffed.format.data_line,
            found: 1,
            expected: layout.columns.len(),
            separator: sniffed.format.separator.words(),
        });
    }
    let wanted = resolve(layout, &header, &sniffed, &first, &mut repairs)?;
    let log = Log { file, text: &text, body, sniffed: &sniffed, wanted: &wanted };
    let rows = rows(&log, &mut repairs)?;
    finish(&log, rows, layout, repairs)
}

/// The header as messages need it.
pub(crate) fn header<'a>(sniffed: &'a Sniffed, text: &Text<'_>, file: &'a str) -> Header<'a> {
    let line = sniffed.format.header_line.unwrap_or(sniffed.format.data_line);
    let mut rest = &*text.bytes;
    for _ in 1..line {
        rest = rest.iter().position(|b| *b == b'\n').and_then(|n| rest.get(n + 1..)).unwrap_or(&[]);
    }
    Header {
        file,
        line,
        names: sniffed.names.iter().map(|n| Name::new(n)).collect(),
        units: &sniffed.units,
        text: text.cell(line_of(rest, 0)),
    }
}

/// The line that starts at `offset`, without its end.
pub(crate) fn line_of(bytes: &[u8], offset: usize) -> &[u8] {
    let rest = bytes.get(offset..).unwrap_or(&[]);
    let line = rest.iter().position(|b| *b == b'\n').and_then(|n| rest.get(..n)).unwrap_or(rest);
    line.strip_suffix(b"\r").unwrap_or(line)
}

/// A log and what is wanted of it.
pub(crate) struct Log<'a> {
    pub file: &'a str,
    pub text: &'a Text<'a>,
    /// From the first row of numbers on.
    pub body: &'a [u8],
    pub sniffed: &'a Sniffed,
    pub wanted: &'a [Wanted],
}

impl Log<'_> {
    /// The text of a line of the body, counted from 1 in the whole file.
    fn line(&self, line: u64) -> &[u8] {
        let mut rest = self.body;
        for _ in self.sniffed.format.data_line..line {
            rest = rest.iter().position(|b| *b == b'\n').and_then(|n| rest.get(n + 1..)).unwrap_or(&[]);
        }
        line_of(rest, 0)
    }

    /// Where a cell of a wanted column stands.
    pub fn place(&self, line: u64, w: &Wanted) -> Box<Place> {
        let raw = self.line(line);
        let start = split(raw, self.sniffed.format.separator.byte()).get(w.index).map_or(0, |c| c.start);
        let character = self.text.cell(raw.get(..start).unwrap_or(&[])).chars().count() as u64 + 1;
        Box::new(Place { file: self.file.into(), line, character, column: w.index + 1, name: w.name.clone() })
    }

    /// A cell of a wanted column as written.
    pub fn written(&self, line: u64, w: &Wanted) -> String {
        let cells = split(self.line(line), self.sniffed.format.separator.byte());
        cells.get(w.index).map_or_else(String::new, |c| clip(self.text.cell(&c.bytes).trim()))
    }
}

/// At most 60 characters.
pub(crate) fn clip(text: &str) -> String {
    match text.char_indices().nth(60) {
        Some((i, _)) => text.get(..i).unwrap_or("").to_owned() + "…",
        None => text.to_owned(),
    }
}
