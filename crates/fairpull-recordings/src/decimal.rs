//! Which decimal sign a log uses.

use crate::divide::{Division, Line};
use crate::error::Place;
use crate::form::Form;
use crate::number::unit_behind;
use crate::text::{Text, split};
use crate::{Decimal, RecordingError};

/// Counts over the cells of the head.
#[derive(Default)]
pub(crate) struct Evidence {
    /// Cells that are numbers only with a decimal point.
    point: usize,
    /// Cells that are numbers only with a decimal comma.
    comma: usize,
    /// First cell such as `1,234`, a number either way: column, row, offset, text.
    either: Option<(usize, usize, usize, String)>,
}

impl Evidence {
    /// What the rows of numbers say.
    pub fn of(lines: &[Line<'_>], division: &Division, text: &Text<'_>) -> Self {
        let mut seen = Self::default();
        let rows = lines.get(division.start..).unwrap_or(&[]);
        // Points in a row of nothing but digits and points, whose form says it all.
        let (mut form, mut points) = (Form::default(), 0);
        for (n, row) in rows.iter().enumerate() {
            if form.fits(row.rest) {
                seen.point += points;
                continue;
            }
            let before = seen.point;
            let mut alike = true;
            for (column, cell) in split(row.bytes, division.separator.byte()).iter().enumerate() {
                let bytes = cell.bytes.trim_ascii();
                if let Some(points) = plain(bytes) {
                    seen.point += points;
                    continue;
                }
                alike = false;
                match vote(bytes) {
                    Some(Vote::Point) => seen.point += 1,
                    Some(Vote::Comma) => seen.comma += 1,
                    Some(Vote::Either) if seen.either.is_none() => {
                        seen.either = Some((column, n, cell.start, text.cell(bytes)));
                    }
                    _ => {}
                }
            }
            points = seen.point - before;
            form.take(row.rest, row.bytes.len() + 1, alike);
        }
        seen
    }

    /// The sign that alone is seen, and so often at least.
    pub fn clear(&self, often: usize) -> Option<Decimal> {
        match (self.comma, self.point) {
            (0, n) if n >= often => Some(Decimal::Point),
            (n, 0) if n >= often => Some(Decimal::Comma),
            _ => None,
        }
    }

    /// Decides from the numbers themselves; a log whose only commas could as well group thousands is refused.
    pub fn decide(self, names: &[String], file: &str, first_line: u64) -> Result<Decimal, RecordingError> {
        match (self.comma, self.point, self.either) {
            (0, 0, Some((column, row, start, cell))) => Err(RecordingError::AmbiguousDecimal {
                at: Box::new(Place {
                    file: file.into(),
                    line: first_line + row as u64,
                    character: start as u64 + 1,
                    column: column + 1,
                    name: names.get(column).cloned().unwrap_or_default(),
                }),
                as_decimal: cell.replace(',', "."),
                as_thousands: cell.replace(',', ""),
                text: cell,
            }),
            (comma, point, _) if comma > point => Ok(Decimal::Comma),
            _ => Ok(Decimal::Point),
        }
    }
}

enum Vote {
    Point,
    Comma,
    Either,
}

/// Most cells: digits, and a point between them at most. The number of points; none for any other cell.
fn plain(cell: &[u8]) -> Option<usize> {
    let body = if let [b'-', rest @ ..] = cell { rest } else { cell };
    let points = body.iter().filter(|b| **b == b'.').count();
    let plain = points <= 1 && body.iter().all(|b| b.is_ascii_digit() || *b == b'.') && body.len() > points;
    plain.then_some(points)
}

/// `12.5` votes for the point, `12,5` for the comma, `1,234` for either; whole numbers and clock times do not vote.
fn vote(cell: &[u8]) -> Option<Vote> {
    let cell = unit_behind(cell).map_or(cell, |(number, _)| number);
    if cell.contains(&b':') || !cell.iter().any(u8::is_ascii_digit) {
        return None;
    }
    let last = cell.iter().rposition(|b| matches!(b, b'.' | b','))?;
    let sign = cell.get(last).copied()?;
    let numeric =
        |b: &u8| b.is_ascii_digit() || matches!(b, b'+' | b'-' | b'.' | b',' | b'e' | b'E' | b' ' | b'\'');
    if !cell.iter().all(numeric) {
        return None;
    }
    let other = if sign == b',' { b'.' } else { b',' };
    let repeated = cell.iter().filter(|b| **b == sign).count() > 1;
    let mixed = cell.contains(&other);
    let point = Some(Vote::Point);
    let comma = Some(Vote::Comma);
    match (sign, repeated, mixed) {
        // 1.234.567 groups with points, so the decimal sign is the comma; 1,234,567 the other way round.
        (b'.', true, _) => comma,
        (_, true, _) => point,
        (b'.', ..) => point,
        (_, false, true) => comma,
        _ => {
            let head: Vec<u8> = cell.get(..last)?.iter().copied().filter(u8::is_ascii_digit).collect();
            let tail = cell.get(last + 1..)?;
            let group = tail.len() == 3 && tail.iter().all(u8::is_ascii_digit);
            let thousands = group && (1..=3).contains(&head.len()) && head.first() != Some(&b'0');
            if thousands { Some(Vote::Either) } else { comma }
        }
    }
}
