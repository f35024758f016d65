//! The rows of numbers, one after the other.

use crate::judge::{judge, note};
use crate::number::{self, Cell};
use crate::read::{Log, clip, line_of};
use crate::resolve::Wanted;
use crate::sniff::is_comment;
use crate::text::newlines;
use crate::{Decimal, RecordingError, Repairs, clock};

/// The cells of the mapped columns, row by row.
pub(crate) struct Rows {
    /// Line of each row.
    pub lines: Vec<u32>,
    /// Values of each wanted column, SI.
    pub values: Vec<Vec<f64>>,
    /// Number of the row among all rows of numbers, those dropped included.
    pub places: Vec<u32>,
}

/// How often one thing happened, and the first case.
#[derive(Default)]
pub(crate) struct Tally {
    pub count: u64,
    pub line: u64,
    pub example: String,
}

impl Tally {
    fn add(&mut self, line: u64, example: impl FnOnce() -> String) {
        if self.count == 0 {
            self.line = line;
            self.example = example();
        }
        self.count += 1;
    }
}

/// Tallies of one column.
#[derive(Default)]
pub(crate) struct Cells {
    pub numbers: u64,
    pub empty: Tally,
    pub none: Tally,
    pub bad: Tally,
}

/// What happened to whole rows.
#[derive(Default)]
pub(crate) struct Dropped {
    pub comment: Tally,
    pub header: Tally,
    pub text: Tally,
    pub text_column: usize,
    pub short: Tally,
    pub short_cells: usize,
    pub long: Tally,
    pub long_cells: usize,
    pub broken: Tally,
}

/// Reads the mapped cells of every row, and refuses a log of which too much would be lost.
pub(crate) fn rows(log: &Log<'_>, repairs: &mut Repairs) -> Result<Rows, RecordingError> {
    let Log { body, wanted, text, .. } = *log;
    let format = &log.sniffed.format;
    let separator = format.separator.byte();
    let columns = log.sniffed.names.len();
    let needed = wanted.iter().map(|w| w.index + 1).max().unwrap_or(1);
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .buffer_capacity(1 << 16)
        .from_reader(body);
    let mut record = csv::ByteRecord::new();
    let mut rows = Rows { lines: Vec::new(), values: vec![Vec::new(); wanted.len()], places: Vec::new() };
    let mut tallies: Vec<Cells> = wanted.iter().map(|_| Cells::default()).collect();
    let mut dropped = Dropped::default();
    let mut read: Vec<Cell> = Vec::with_capacity(wanted.len());
    let mut place = 0_u32;
    while matches!(reader.read_byte_record(&mut record), Ok(true)) {
        let (line, start) = position(&record, body, format.data_line);
        if is_comment(line_head(body, start), separator) {
            dropped.comment.add(line, || clip(&text.cell(line_of(body, start))));
            continue;
        }
        if record.as_slice().contains(&b'\n') {
            return Err(RecordingError::OpenQuote { file: log.file.into(), line });
        }
        let last = reader.is_done() || reader.position().byte() as usize >= body.len();
        let unfinished = last && !body.ends_with(b"\n") && record.len() < columns;
        if record.len() > columns && record.iter().skip(columns).any(|c| !c.trim_ascii().is_empty()) {
            dropped.long_cells = if dropped.long.count == 0 { record.len() } else { dropped.long_cells };
            dropped.long.add(line, || format!("{} cells, {columns} columns", record.len()));
            place = place.saturating_add(1);
            continue;
        }
        read.clear();
        read.extend(wanted.iter().map(|w| cell(record.get(w.index).unwrap_or(&[]), w, format.decimal)));
        let numbers = read.iter().filter(|c| matches!(c, Cell::Number(_))).count();
        let wordy = read.iter().position(|c| *c == Cell::Bad);
        if let (0, Some(bad)) = (numbers, wordy) {
            let is_name = |w: &Wanted| {
                let c = text.cell(record.get(w.index).unwrap_or(&[]));
                let unit = log.sniffed.units.get(w.index);
                c.trim() == w.name || unit.is_some_and(|u| !u.is_empty() && u == c.trim())
            };
            let tally = if wanted.iter().any(is_name) { &mut dropped.header } else { &mut dropped.text };
            if tally.count == 0 {
                dropped.text_column = bad;
            }
            tally.add(line, || clip(&text.cell(line_of(body, start))));
            continue;
        }
        if record.len() < needed || unfinished {
            dropped.short_cells = if dropped.short.count == 0 { record.len() } else { dropped.short_cells };
            let tally = if last { &mut dropped.broken } else { &mut dropped.short };
            tally.add(line, || format!("{} of {columns} cells", record.len()));
            place = place.saturating_add(1);
            continue;
        }
        for (((c, w), tally), values) in read.iter().zip(wanted).zip(&mut tallies).zip(&mut rows.values) {
            let written = || clip(text.cell(record.get(w.index).unwrap_or(&[])).trim());
            values.push(match *c {
                Cell::Number(x) => {
                    tally.numbers += 1;
                    w.unit.to_si(x)
                }
                Cell::Empty => {
                    tally.empty.add(line, String::new);
                    f64::NAN
                }
                Cell::NoValue => {
                    tally.none.add(line, written);
                    f64::NAN
                }
                Cell::Bad => {
                    tally.bad.add(line, written);
                    f64::NAN
                }
            });
        }
        rows.lines.push(u32::try_from(line).unwrap_or(u32::MAX));
        rows.places.push(place);
        place = place.saturating_add(1);
    }
    judge(log, &rows, &tallies, &dropped)?;
    note(wanted, tallies, dropped, repairs);
    Ok(rows)
}

fn cell(bytes: &[u8], w: &Wanted, decimal: Decimal) -> Cell {
    if w.clock && bytes.contains(&b':') {
        return clock::seconds(bytes).map_or(Cell::Bad, Cell::Number);
    }
    number::read(bytes, decimal, Some(w.unit))
}

/// Line and offset where a record starts; the reader stands before line ends that it has not taken yet.
fn position(record: &csv::ByteRecord, body: &[u8], first_line: u64) -> (u64, usize) {
    let (line, byte) = record.position().map_or((1, 0), |p| (p.line(), p.byte() as usize));
    let rest = body.get(byte..).unwrap_or(&[]);
    let skipped = rest.iter().take_while(|b| matches!(b, b'\r' | b'\n')).count();
    let lines = newlines(rest.get(..skipped).unwrap_or(&[]));
    (first_line + line - 1 + lines, byte + skipped)
}

/// Enough of a line to see whether it is a comment.
fn line_head(body: &[u8], start: usize) -> &[u8] {
    body.get(start..body.len().min(start + 16)).unwrap_or(&[])
}
