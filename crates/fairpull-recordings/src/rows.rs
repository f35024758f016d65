//! The rows of numbers, one after the other.

use memchr::{memchr, memchr_iter, memchr2};

use crate::cells::Ends;
use crate::counted::Counted;
use crate::divide::is_comment;
use crate::feed::Piece;
use crate::judge::{Cells, Dropped, judge, note};
use crate::number::{self, Cell};
use crate::quick::Quick;
use crate::read::{Log, clip, line_of};
use crate::resolve::Wanted;
use crate::text::newlines;
use crate::{Decimal, RecordingError, Repairs, clock};

/// The cells of the mapped columns, row by row.
#[derive(Default)]
pub(crate) struct Rows {
    /// Line of each row.
    pub lines: Counted,
    /// Values of each wanted column, SI.
    pub values: Vec<Vec<f64>>,
    /// Number of the row among all rows of numbers, those dropped included.
    pub places: Counted,
    /// Where the log ends, if there are no rows.
    pub last_line: u64,
}

/// Reads the mapped cells of every row, and refuses a log of which too much would be lost.
pub(crate) fn rows(log: &Log<'_, '_>, repairs: &mut Repairs) -> Result<Rows, RecordingError> {
    let mut table = Table::new(log);
    let mut feed = log.feed.borrow_mut();
    let mut end = log.sniffed.format.data_line;
    while let Some(piece) = feed.next()? {
        if is_plain(piece.bytes) {
            table.plain(&piece);
        } else {
            table.quoted(&piece)?;
        }
        if table.rows.lines.len() == 0 {
            end = piece.line + newlines(piece.bytes);
        }
    }
    drop(feed);
    let Table { mut rows, mut tallies, dropped, .. } = table;
    rows.last_line = end;
    for t in &mut tallies {
        t.numbers = rows.lines.len() as u64 - t.empty.count - t.none.count - t.bad.count;
    }
    judge(log, &rows, &tallies, &dropped)?;
    note(log.wanted, tallies, dropped, repairs);
    Ok(rows)
}

/// True without quoted cells, a CR alone and a second byte-order mark, which need the careful reader.
fn is_plain(bytes: &[u8]) -> bool {
    let Some(first) = memchr2(b'"', b'\r', bytes) else {
        return !bytes.starts_with(&[0xEF, 0xBB, 0xBF]);
    };
    let rest = bytes.get(first..).unwrap_or(&[]);
    memchr(b'"', rest).is_none()
        && memchr_iter(b'\r', rest).all(|i| rest.get(i + 1) == Some(&b'\n'))
        && !bytes.starts_with(&[0xEF, 0xBB, 0xBF])
}

/// One row and where it stands.
struct Row<'a> {
    line: u64,
    /// The text from its start on.
    text: &'a [u8],
    cells: usize,
    /// Nothing follows.
    last: bool,
    /// Its line has an end.
    whole: bool,
}

/// The rows as they come in.
struct Table<'l, 'a, 'f> {
    log: &'l Log<'a, 'f>,
    separator: u8,
    decimal: Decimal,
    columns: usize,
    needed: usize,
    rows: Rows,
    tallies: Vec<Cells>,
    dropped: Dropped,
    read: Vec<Cell>,
    quick: Quick<'a>,
    place: u64,
}

impl<'l, 'a, 'f> Table<'l, 'a, 'f> {
    fn new(log: &'l Log<'a, 'f>) -> Self {
        let format = &log.sniffed.format;
        Self {
            log,
            separator: format.separator.byte(),
            decimal: format.decimal,
            columns: log.sniffed.names.len(),
            needed: log.wanted.iter().map(|w| w.index + 1).max().unwrap_or(1),
            rows: Rows { values: vec![Vec::new(); log.wanted.len()], ..Rows::default() },
            tallies: log.wanted.iter().map(|_| Cells::default()).collect(),
            dropped: Dropped::default(),
            read: Vec::with_capacity(log.wanted.len()),
            quick: Quick::new(log),
            place: 0,
        }
    }

    /// Rows without quotation marks, a line each.
    fn plain(&mut self, piece: &Piece<'_>) {
        // About as many as fit, if all are as long as the first.
        let rows = piece.bytes.len() / memchr(b'\n', piece.bytes).unwrap_or(0).max(16);
        for values in &mut self.rows.values {
            values.reserve(rows);
        }
        let mut ends = Ends::new(self.separator);
        let mut rest = piece.bytes;
        let mut line = piece.line;
        while !rest.is_empty() {
            let (usual, used) = self.quick.rows(rest, &mut self.rows.values);
            self.keep(line, usual);
            line += usual as u64;
            rest = rest.get(used..).unwrap_or(&[]);
            let end = memchr(b'\n', rest);
            let (raw, after) = match end {
                Some(n) => (rest.get(..n).unwrap_or(&[]), rest.get(n + 1..).unwrap_or(&[])),
                None => (rest, &[][..]),
            };
            let text = raw.strip_suffix(b"\r").unwrap_or(raw);
            if !text.is_empty() {
                let cells = ends.split(text);
                // A last row that ends in CR LF counts as followed: its LF is read with the next row.
                let last = piece.last && after.is_empty() && text.len() == raw.len();
                self.row(&Row { line, text, cells, last, whole: end.is_some() }, |i| ends.cell(text, i));
            }
            line += 1;
            rest = after;
        }
    }

    /// Notes that so many rows from a line on were taken.
    fn keep(&mut self, line: u64, rows: usize) {
        self.rows.lines.extend(line, rows);
        self.rows.places.extend(self.place, rows);
        self.place += rows as u64;
    }

    /// Rows with quotation marks.
    fn quoted(&mut self, piece: &Piece<'_>) -> Result<(), RecordingError> {
        let body = piece.bytes;
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(self.separator)
            .has_headers(false)
            .flexible(true)
            .buffer_capacity(1 << 16)
            .from_reader(body);
        let mut record = csv::ByteRecord::new();
        while matches!(reader.read_byte_record(&mut record), Ok(true)) {
            let (line, start) = position(&record, body, piece.line);
            let text = body.get(start..).unwrap_or(&[]);
            if record.as_slice().contains(&b'\n') && !is_comment(line_of(text), self.separator) {
                return Err(RecordingError::OpenQuote { file: self.log.file.into(), line });
            }
            let end = reader.is_done() || reader.position().byte() as usize >= body.len();
            let (last, whole) = (piece.last && end, !piece.last || body.ends_with(b"\n"));
            self.row(&Row { line, text, cells: record.len(), last, whole }, |i| record.get(i).unwrap_or(&[]));
        }
        Ok(())
    }

    fn row<'r>(&mut self, row: &Row<'r>, cell: impl Fn(usize) -> &'r [u8]) {
        let log = self.log;
        let columns = self.columns;
        let as_text = || clip(&log.cell(line_of(row.text)));
        if is_comment(line_of(row.text), self.separator) {
            return self.dropped.comment.add(row.line, as_text);
        }
        if row.cells > columns && (columns..row.cells).any(|i| !cell(i).trim_ascii().is_empty()) {
            if self.dropped.long.count == 0 {
                self.dropped.long_cells = row.cells;
            }
            self.dropped.long.add(row.line, || format!("{} cells, {columns} columns", row.cells));
            self.place += 1;
            return;
        }
        self.read.clear();
        for w in log.wanted {
            self.read.push(value(cell(w.index), w, self.decimal));
        }
        let numbers = self.read.iter().filter(|c| matches!(c, Cell::Number(_))).count();
        if numbers == 0
            && let Some(bad) = self.read.iter().position(|c| *c == Cell::Bad)
        {
            let is_name = |w: &Wanted| {
                let c = log.cell(cell(w.index));
                let unit = log.sniffed.units.get(w.index);
                c.trim() == w.name || unit.is_some_and(|u| !u.is_empty() && u == c.trim())
            };
            let header = log.wanted.iter().any(is_name);
            let tally = if header { &mut self.dropped.header } else { &mut self.dropped.text };
            if tally.count == 0 {
                self.dropped.text_column = bad;
            }
            return tally.add(row.line, as_text);
        }
        let unfinished = row.last && !row.whole && row.cells < columns;
        if row.cells < self.needed || unfinished {
            if self.dropped.short.count == 0 {
                self.dropped.short_cells = row.cells;
            }
            let tally = if row.last { &mut self.dropped.broken } else { &mut self.dropped.short };
            tally.add(row.line, || format!("{} of {columns} cells", row.cells));
            self.place += 1;
            return;
        }
        let columns = self.read.iter().zip(log.wanted).zip(&mut self.tallies).zip(&mut self.rows.values);
        for (((c, w), tally), values) in columns {
            let written = || clip(log.cell(cell(w.index)).trim());
            values.push(match *c {
                Cell::Number(x) => w.unit.to_si(x),
                Cell::Empty => {
                    tally.empty.add(row.line, String::new);
                    f64::NAN
                }
                Cell::NoValue => {
                    tally.none.add(row.line, written);
                    f64::NAN
                }
                Cell::Bad => {
                    tally.bad.add(row.line, written);
                    f64::NAN
                }
            });
        }
        self.keep(row.line, 1);
    }
}

fn value(bytes: &[u8], w: &Wanted, decimal: Decimal) -> Cell {
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
