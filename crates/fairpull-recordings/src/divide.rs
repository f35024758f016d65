//! The lines of the head, and how a separator divides them.

use crate::Separator;
use crate::number::{Kind, kind};
use crate::text::{HEAD, split};

/// Lines looked at, at most.
pub(crate) const LINES: usize = 1000;
/// Lines looked at, at least, where they are so long that the head would hold fewer,
const FEW: usize = 12;
/// as long as they fit here, bytes.
const LONGEST: usize = 32 * 1024 * 1024;

/// A line of the head.
pub(crate) struct Line<'a> {
    pub offset: usize,
    pub number: u64,
    pub bytes: &'a [u8],
}

/// How one separator divides the head.
#[derive(Clone, Copy)]
pub(crate) struct Division {
    pub separator: Separator,
    pub score: i64,
    /// Cells in a row of numbers.
    pub cells: usize,
    /// Rows of numbers with so many cells.
    pub rows: usize,
    /// Index of the first of them.
    pub start: usize,
}

/// So many lines of the head; a last line that the head cuts is left out.
pub(crate) fn head(bytes: &[u8], most: usize) -> Vec<Line<'_>> {
    let end = head_end(bytes);
    let whole = bytes.len() <= end;
    let head = bytes.get(..end).unwrap_or(bytes);
    let mut lines = Vec::new();
    let mut offset = 0;
    for (i, raw) in head.split_inclusive(|b| *b == b'\n').take(most).enumerate() {
        if whole || raw.ends_with(b"\n") || i == 0 {
            let line = raw.strip_suffix(b"\n").unwrap_or(raw);
            let line = line.strip_suffix(b"\r").unwrap_or(line);
            lines.push(Line { offset, number: i as u64 + 1, bytes: line });
        }
        offset += raw.len();
    }
    lines
}

/// Where the head ends.
pub(crate) fn head_end(bytes: &[u8]) -> usize {
    let limit = bytes.len().min(LONGEST);
    let ends = bytes.iter().take(limit).enumerate().filter(|(_, b)| **b == b'\n').map(|(i, _)| i + 1);
    ends.take(FEW).last().map_or(HEAD, |few| few.max(HEAD)).min(bytes.len())
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
pub(crate) fn best_of(lines: &[Line<'_>], tried: &[Separator]) -> Option<Division> {
    let mut best: Option<Division> = None;
    for division in tried.iter().filter_map(|s| divide(lines, *s)) {
        if best.is_none_or(|b| division.score > b.score) {
            best = Some(division);
        }
    }
    best
}

/// Rows of numbers under one separator: the commonest number of cells wins, wider rows at a draw.
pub(crate) fn divide(lines: &[Line<'_>], separator: Separator) -> Option<Division> {
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
    let (cells, rows, score, start) = widths.into_iter().max_by_key(|w| (w.1, w.0))?;
    // One number a line is a table of one column: any real separator beats it.
    Some(Division { separator, score: if cells == 1 { i64::MIN } else { score }, cells, rows, start })
}
