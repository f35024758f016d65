//! The lines of the head, and how a separator divides them.

use memchr::{memchr, memchr_iter};

use crate::Separator;
use crate::form::Form;
use crate::number::{Kind, by_form, kind};
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
    /// The head from its start on.
    pub rest: &'a [u8],
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
    let mut rest = bytes.get(..end).unwrap_or(bytes);
    let mut lines = Vec::with_capacity(most.min(1 + rest.len() / 8));
    let mut offset = 0;
    while !rest.is_empty() && lines.len() < most {
        let length = memchr(b'\n', rest);
        let (line, after) = rest.split_at_checked(length.unwrap_or(rest.len())).unwrap_or((rest, &[]));
        if whole || length.is_some() || lines.is_empty() {
            let bytes = line.strip_suffix(b"\r").unwrap_or(line);
            lines.push(Line { offset, number: lines.len() as u64 + 1, bytes, rest });
        }
        offset += line.len() + 1;
        rest = after.get(1..).unwrap_or(&[]);
    }
    lines
}

/// Where the head ends.
pub(crate) fn head_end(bytes: &[u8]) -> usize {
    let long = bytes.get(..LONGEST).unwrap_or(bytes);
    let few = memchr_iter(b'\n', long).take(FEW).last();
    few.map_or(HEAD, |end| HEAD.max(end + 1)).min(bytes.len())
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
    // What was found in a line whose form says it all.
    let (mut form, mut told) = (Form::default(), (0, 0, 0));
    for (i, line) in lines.iter().enumerate() {
        if !form.fits(line.rest) {
            if line.bytes.trim_ascii().is_empty() || is_comment(line.bytes, byte) {
                continue;
            }
            let by_form;
            (told, by_form) = count(line.bytes, byte);
            form.take(line.rest, line.bytes.len() + 1, by_form);
        }
        let (cells, numbers, others) = told;
        if numbers == 0 || others > numbers {
            continue;
        }
        let score = numbers as i64 - 2 * others as i64;
        match widths.iter_mut().find(|w| w.0 == cells) {
            Some(w) => {
                w.1 += 1;
                w.2 += score;
            }
            None => widths.push((cells, 1, score, i)),
        }
    }
    let (cells, rows, score, start) = widths.into_iter().max_by_key(|w| (w.1, w.0))?;
    // One number a line is a table of one column: any real separator beats it.
    Some(Division { separator, score: if cells == 1 { i64::MIN } else { score }, cells, rows, start })
}

/// How many cells, numbers and other words a line holds, and whether every line of its form does.
fn count(line: &[u8], separator: u8) -> ((usize, usize, usize), bool) {
    let cells = split(line, separator);
    let (mut numbers, mut others, mut alike) = (0, 0, true);
    for cell in &cells {
        let known = by_form(&cell.bytes);
        alike &= known.is_some() || !cell.bytes.iter().any(u8::is_ascii_digit);
        match known.unwrap_or_else(|| kind(&cell.bytes)) {
            Kind::Number => numbers += 1,
            Kind::Neutral => {}
            Kind::Other => others += 1,
        }
    }
    ((cells.len(), numbers, others), alike)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_of_one_form_need_not_hold_the_same() {
        let divided = |first: &str, second: &str| {
            let log = format!("{first}\n{second}\n{first}\n{second}\nwords\nand more words");
            divide(&head(log.as_bytes(), LINES), Separator::Semicolon).map(|d| (d.cells, d.rows, d.score))
        };
        assert_eq!(divided("12.34;-1;;8", "92.99;-7;;0"), Some((4, 4, 12)));
        // no clock shows 99 seconds
        assert_eq!(divided("12:34;1", "12:59;1"), Some((2, 4, 8)));
        assert_eq!(divided("12:34;1", "12:99;1"), Some((2, 4, 2)));
    }
}
