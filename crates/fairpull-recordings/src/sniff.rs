//! Where the header and the numbers are, and how cells are separated.

use crate::header::{fold, is_units_row};
use crate::number::{Kind, kind};
use crate::text::{Cell, HEAD, Text, split};
use crate::{Format, Layout, RecordingError, Separator, decimal};

/// What was found out about a log from its head.
pub(crate) struct Sniffed {
    pub format: Format,
    /// Names of the columns, trailing empty ones left out.
    pub names: Vec<String>,
    /// The row of units, as long as `names` or empty.
    pub units: Vec<String>,
    /// Offset of the first row of numbers.
    pub data: usize,
}

/// Lines looked at, at most.
const LINES: usize = 1000;
/// Lines looked at, at least, where they are so long that the head would hold fewer,
const FEW: usize = 12;
/// as long as they fit here, bytes.
const LONGEST: usize = 32 * 1024 * 1024;

/// A line of the head.
struct Line<'a> {
    offset: usize,
    number: u64,
    bytes: &'a [u8],
}

/// How one separator divides the head.
#[derive(Clone, Copy)]
struct Division {
    separator: Separator,
    score: i64,
    /// Cells in a row of numbers.
    cells: usize,
    /// Index of the first row of numbers.
    start: usize,
}

pub(crate) fn sniff(text: &Text<'_>, file: &str, layout: &Layout) -> Result<Sniffed, RecordingError> {
    let lines = head(text.bytes);
    let declared = lines.first().and_then(|l| separator_line(l.bytes));
    let tried: Vec<Separator> = match layout.separator.or(declared) {
        Some(s) => vec![s],
        None => Separator::ALL.to_vec(),
    };
    // A separator that stands nowhere makes a table of one column, which any other beats.
    let stands = |s: &Separator| lines.iter().any(|l| memchr::memchr(s.byte(), l.bytes).is_some());
    let standing: Vec<Separator> = tried.iter().copied().filter(stands).collect();
    let best = best_of(&lines, &standing).filter(|b| b.score > i64::MIN).or_else(|| best_of(&lines, &tried));
    let Some(division) = best else {
        return Err(RecordingError::NoNumbers {
            file: file.into(),
            lines: lines.len() as u64,
            mend: if layout.separator.is_some() {
                "Leave `separator` out of the layout to have it detected, or export the log as comma or semicolon separated text"
            } else {
                "Export the log as comma or semicolon separated text"
            },
        });
    };
    let separator = division.separator.byte();
    let cells = |bytes: &[u8]| -> Vec<String> {
        split(bytes, separator).iter().map(|c| text.cell(&c.bytes).trim().to_owned()).collect()
    };
    let before = lines.get(..division.start).unwrap_or(&[]);
    let found = find_header(before, &division, layout, &cells);
    let (mut names, header) = match &found {
        Some(h) => (h.names.clone(), Some(h.line)),
        None => ((1..=division.cells).map(|n| format!("column {n}")).collect(), None),
    };
    while names.len() > 1 && names.last().is_some_and(String::is_empty) {
        names.pop();
    }
    let mut units = found.as_ref().and_then(|h| h.units.clone()).map(|u| u.1).unwrap_or_default();
    units.truncate(names.len());
    let data = lines.get(division.start);
    let rows = lines.get(division.start..).unwrap_or(&[]);
    let sample = rows.iter().map(|l| split(l.bytes, separator));
    let decimal = match layout.decimal {
        Some(d) => d,
        None => decimal::detect(sample, &names, file, data.map_or(1, |l| l.number), text)?,
    };
    let header_numbers = [header, found.as_ref().and_then(|h| h.units.as_ref().map(|u| u.0))];
    Ok(Sniffed {
        format: Format {
            encoding: text.encoding,
            separator: division.separator,
            decimal,
            header_line: header_numbers[0],
            units_line: header_numbers[1],
            data_line: data.map_or(1, |l| l.number),
            preamble: before
                .iter()
                .filter(|l| !header_numbers.contains(&Some(l.number)) && !l.bytes.trim_ascii().is_empty())
                .map(|l| text.cell(l.bytes).trim_end().to_owned())
                .collect(),
        },
        names,
        units,
        data: data.map_or(0, |l| l.offset),
    })
}

/// The lines of the head; a last line that the head cuts is left out.
fn head(bytes: &[u8]) -> Vec<Line<'_>> {
    let end = head_end(bytes);
    let whole = bytes.len() <= end;
    let head = bytes.get(..end).unwrap_or(bytes);
    let mut lines = Vec::new();
    let mut offset = 0;
    for (i, raw) in head.split_inclusive(|b| *b == b'\n').take(LINES).enumerate() {
        if whole || raw.ends_with(b"\n") || i == 0 {
            let line = raw.strip_suffix(b"\n").unwrap_or(raw);
            let line = line.strip_suffix(b"\r").unwrap_or(line);
            lines.push(Line { offset, number: i as u64 + 1, bytes: line });
        }
        offset += raw.len();
    }
    lines
}

fn head_end(bytes: &[u8]) -> usize {
    let limit = bytes.len().min(LONGEST);
    let ends = bytes.iter().take(limit).enumerate().filter(|(_, b)| **b == b'\n').map(|(i, _)| i + 1);
    ends.take(FEW).last().map_or(HEAD, |few| few.max(HEAD)).min(bytes.len())
}

/// The first line `sep=;` that spreadsheets write.
fn separator_line(line: &[u8]) -> Option<Separator> {
    match line.strip_prefix(b"sep=").or_else(|| line.strip_prefix(b"SEP="))? {
        [one] => Separator::ALL.into_iter().find(|s| s.byte() == *one),
        _ => None,
    }
}

/// True for a line that is a comment by its first sign.
pub(crate) fn is_comment(line: &[u8], separator: u8) -> bool {
    match line.trim_ascii_start() {
        [b'#' | b'%', ..] | [b'/', b'/', ..] => true,
        [b';', ..] => separator != b';',
        _ => false,
    }
}

/// The first of the separators that divide the head best.
fn best_of(lines: &[Line<'_>], tried: &[Separator]) -> Option<Division> {
    let mut best: Option<Division> = None;
    for division in tried.iter().filter_map(|s| divide(lines, *s)) {
        if best.is_none_or(|b| division.score > b.score) {
            best = Some(division);
        }
    }
    best
}

/// Rows of numbers under one separator: the commonest number of cells wins, wider rows at a draw.
fn divide(lines: &[Line<'_>], separator: Separator) -> Option<Division> {
    let byte = separator.byte();
    // (cells, rows, score, first row)
    let mut widths: Vec<(usize, usize, i64, usize)> = Vec::new();
    for (i, line) in lines.iter().enumerate() {
        if line.bytes.trim_ascii().is_empty() || is_comment(line.bytes, byte) {
            continue;
        }
        let cells = split(line.bytes, byte);
        let (mut numbers, mut others) = (0, 0);
        for cell in &cells {
            match kind(&cell.bytes) {
                Kind::Number => numbers += 1,
                Kind::Neutral => {}
                Kind::Other => others += 1,
            }
        }
        if numbers == 0 || others > numbers {
            continue;
        }
        let score = numbers as i64 - 2 * others as i64;
        match widths.iter_mut().find(|w| w.0 == cells.len()) {
            Some(w) => {
                w.1 += 1;
                w.2 += score;
            }
            None => widths.push((cells.len(), 1, score, i)),
        }
    }
    let (cells, _, score, start) = widths.into_iter().max_by_key(|w| (w.1, w.0))?;
    // One number a line is a table of one column: any real separator beats it.
    Some(Division { separator, score: if cells == 1 { i64::MIN } else { score }, cells, start })
}

struct Header {
    line: u64,
    names: Vec<String>,
    units: Option<(u64, Vec<String>)>,
}

/// The header among the lines before the numbers: the line with most of the mapped names; otherwise the last line
/// with about as many cells as the numbers, a row of units passed over; otherwise such a comment line.
fn find_header(
    before: &[Line<'_>],
    division: &Division,
    layout: &Layout,
    cells: &dyn Fn(&[u8]) -> Vec<String>,
) -> Option<Header> {
    let byte = division.separator.byte();
    let plain = |l: &&Line<'_>| !l.bytes.trim_ascii().is_empty() && !is_comment(l.bytes, byte);
    let wide =
        |names: &[String]| names.len() * 2 >= division.cells && (names.len() > 1 || division.cells == 1);
    let mut rows: Vec<(u64, Vec<String>)> =
        before.iter().filter(plain).map(|l| (l.number, cells(l.bytes))).collect();
    rows.retain(|r| wide(&r.1));
    let hits = |names: &[String]| {
        let folded: Vec<String> = names.iter().map(|n| fold(n)).collect();
        layout.columns.iter().filter(|c| folded.iter().any(|f| f.starts_with(&fold(&c.name)))).count()
    };
    let named = rows.iter().enumerate().map(|(i, r)| (hits(&r.1), i)).filter(|h| h.0 > 0).max();
    let at = match named {
        Some((_, i)) => Some(i),
        None => match rows.as_slice() {
            [.., _, last] if is_units_row(&last.1) => Some(rows.len() - 2),
            [.., _] => Some(rows.len() - 1),
            [] => None,
        },
    };
    if let Some(i) = at {
        let units = rows.get(i + 1).filter(|r| is_units_row(&r.1)).cloned();
        let (line, names) = rows.into_iter().nth(i)?;
        return Some(Header { line, names, units });
    }
    // "# time;speed;rpm"
    let commented = before.iter().rev().filter(|l| is_comment(l.bytes, byte)).find_map(|l| {
        let body = l.bytes.trim_ascii_start();
        let skip = body.iter().take_while(|b| matches!(b, b'#' | b'%' | b'/' | b';' | b' ')).count();
        let names = cells(body.get(skip..).unwrap_or(&[]));
        (wide(&names) && names.len().abs_diff(division.cells) <= 1).then_some((l.number, names))
    });
    commented.map(|(line, names)| Header { line, names, units: None })
}

/// Cells of a line as the sample of the decimal search takes them.
pub(crate) type Sample<'a> = Vec<Cell<'a>>;
