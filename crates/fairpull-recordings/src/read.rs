//! The main door: bytes or a file, and a layout, to a recording.

use std::cell::RefCell;
use std::io::Cursor;

use crate::error::Place;
use crate::feed::{Feed, Input};
use crate::finish::finish;
use crate::header::Name;
use crate::resolve::{Header, Wanted, resolve};
use crate::rows::rows;
use crate::sniff::{Sniffed, sniff};
use crate::text::{self, Text, split, split_first};
use crate::{Encoding, Layout, Recording, RecordingError, RepairKind, Repairs};

/// Reads a delimited log from memory; [`read_from`] reads a file without holding its text.
///
/// Only the mapped columns are converted. `file` is the name used in messages. What is detected and what is mended on
/// the way stands in the crate's documentation; every mend is counted in [`Recording::repairs`].
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
    read_from(&mut Cursor::new(bytes), file, layout)
}

/// Reads a delimited log piece by piece, with the same result as [`read`] to the last bit.
///
/// The text is never held as a whole. Memory is 8 bytes for each row and mapped column, one such column more while the
/// rows are put in order (three, where rows have to be dropped or moved), and about a megabyte; a line longer than
/// that is held whole, up to 16 MB. The input is read once; a second time from its start where a message shows a line or the text
/// turns out not to be UTF-8.
///
/// # Errors
/// As [`read`], and [`RecordingError::Unreadable`] when the input cannot be read.
pub fn read_from(input: &mut dyn Input, file: &str, layout: &Layout) -> Result<Recording, RecordingError> {
    if layout.columns.is_empty() {
        return Err(RecordingError::NothingMapped { file: file.into() });
    }
    open(input, file, layout.encoding, &mut |feed| recording(feed, file, layout))
}

/// Runs `work` on a log as UTF-8, and again as Latin-1 where no encoding is stated and it is not UTF-8.
pub(crate) fn open<T>(
    input: &mut dyn Input,
    file: &str,
    stated: Option<Encoding>,
    work: &mut dyn FnMut(&mut Feed<'_>) -> Result<T, RecordingError>,
) -> Result<T, RecordingError> {
    let mut feed = Feed::open(input, file, stated)?;
    let result = work(&mut feed);
    let told = |e: &RecordingError| {
        matches!(
            e,
            RecordingError::Binary { .. } | RecordingError::TooLong { .. } | RecordingError::TooWide { .. }
        )
    };
    if result.as_ref().is_err_and(|e| !told(e)) {
        // What is wrong with the text as a whole comes before what is wrong in it.
        feed.drain();
    }
    match feed.broken {
        None => result,
        Some(line) if stated.is_some() => {
            Err(RecordingError::Encoding { file: file.into(), line, stated: "utf-8" })
        }
        Some(_) => work(&mut Feed::open(input, file, Some(Encoding::Latin1))?),
    }
}

pub(crate) fn recording(
    feed: &mut Feed<'_>,
    file: &str,
    layout: &Layout,
) -> Result<Recording, RecordingError> {
    let text = feed.head()?;
    let sniffed = sniff(&text, file, layout)?;
    let header = header(&sniffed, &text, file);
    let body = text.bytes.get(sniffed.data..).unwrap_or(&[]);
    let first: Vec<String> =
        split(line_of(body), sniffed.format.separator.byte()).iter().map(|c| text.cell(&c.bytes)).collect();
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
    let wanted = resolve(layout, &header, &sniffed, &first, &mut repairs).map_err(|e| match e {
        // the names behind a quotation mark that is not closed are in one cell with it
        RecordingError::UnknownColumn { .. } => match open_quote(&sniffed, &text) {
            Some(line) => RecordingError::OpenQuote { file: file.into(), line },
            None => e,
        },
        e => e,
    })?;
    feed.pass(sniffed.data)?;
    let log = Log { file, feed: RefCell::new(feed), sniffed: &sniffed, wanted: &wanted };
    let rows = rows(&log, &mut repairs)?;
    finish(&log, rows, layout, repairs)
}

/// The header as messages need it.
pub(crate) fn header<'a>(sniffed: &'a Sniffed, text: &Text<'_>, file: &'a str) -> Header<'a> {
    let line = sniffed.format.header_line.unwrap_or(sniffed.format.data_line);
    let mut rest = text.bytes;
    for _ in 1..line {
        rest = rest.iter().position(|b| *b == b'\n').and_then(|n| rest.get(n + 1..)).unwrap_or(&[]);
    }
    Header {
        file,
        line,
        names: sniffed.names.iter().map(|n| Name::new(n)).collect(),
        units: &sniffed.units,
        text: text.cell(line_of(rest)),
    }
}

/// The last line before the numbers in which a quotation mark is not closed.
fn open_quote(sniffed: &Sniffed, text: &Text<'_>) -> Option<u64> {
    let separator = sniffed.format.separator.byte();
    let before = text.bytes.get(..sniffed.data).unwrap_or(&[]);
    let lines = before.split(|b| *b == b'\n').map(|l| l.strip_suffix(b"\r").unwrap_or(l));
    lines.zip(1..).filter(|(l, _)| text::left_open(l, separator)).map(|(_, n)| n).last()
}

/// The first line, without its end.
pub(crate) fn line_of(bytes: &[u8]) -> &[u8] {
    let line = memchr::memchr(b'\n', bytes).and_then(|n| bytes.get(..n)).unwrap_or(bytes);
    line.strip_suffix(b"\r").unwrap_or(line)
}

/// A log and what is wanted of it.
pub(crate) struct Log<'a, 'f> {
    pub file: &'a str,
    /// Stands before the rows that are not read yet.
    pub feed: RefCell<&'a mut Feed<'f>>,
    pub sniffed: &'a Sniffed,
    pub wanted: &'a [Wanted],
}

impl Log<'_, '_> {
    /// A cell as text.
    pub fn cell(&self, bytes: &[u8]) -> String {
        text::cell(bytes, self.sniffed.format.encoding)
    }

    /// Where a cell of a wanted column stands.
    pub fn place(&self, line: u64, w: &Wanted) -> Box<Place> {
        let raw = self.feed.borrow_mut().text_of(line);
        let cells = split_first(&raw, self.sniffed.format.separator.byte(), w.index + 1);
        let start = cells.get(w.index).map_or(0, |c| c.start);
        let character = self.cell(raw.get(..start).unwrap_or(&[])).chars().count() as u64 + 1;
        Box::new(Place { file: self.file.into(), line, character, column: w.index + 1, name: w.name.clone() })
    }

    /// A cell of a wanted column as written.
    pub fn written(&self, line: u64, w: &Wanted) -> String {
        let raw = self.feed.borrow_mut().text_of(line);
        let cells = split_first(&raw, self.sniffed.format.separator.byte(), w.index + 1);
        cells.get(w.index).map_or_else(String::new, |c| clip(self.cell(&c.bytes).trim()))
    }
}

/// At most 60 characters.
pub(crate) fn clip(text: &str) -> String {
    match text.char_indices().nth(60) {
        Some((i, _)) => text.get(..i).unwrap_or("").to_owned() + "…",
        None => text.to_owned(),
    }
}
