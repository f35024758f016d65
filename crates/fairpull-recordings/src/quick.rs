//! The usual row, read in one go.

use crate::cells::{behind, to_line_end};
use crate::form::Form;
use crate::place::Place;
use crate::read::Log;
use crate::resolve::Wanted;
use crate::{Decimal, Separator};

/// Rows read together.
const ROWS: usize = 128;

/// What it takes to read the usual row: as many cells as there are columns (and an empty one at most), plain numbers in
/// those that are mapped.
///
/// The numbers of a row mostly stand where those of the row before stood. Such rows are gathered and then read column by
/// column.
pub(crate) struct Quick<'l> {
    separator: u8,
    /// The decimal sign.
    sign: (u8, Decimal),
    columns: usize,
    wanted: &'l [Wanted],
    /// Mapped columns as they stand in a row: separators since the one before, and index among the wanted.
    steps: Vec<(usize, usize)>,
    /// The text up to the end of the last mapped cell, as it was found last,
    form: Form,
    /// and where the numbers stand in it, in the order of the steps.
    places: Vec<Place>,
    /// Bytes up to the end of the last of them, and seven more, so that eight can be read from any place.
    reach: usize,
    /// Where the rows of this form start that are not read yet.
    starts: Vec<usize>,
}

impl<'l> Quick<'l> {
    pub fn new(log: &Log<'l, '_>) -> Self {
        // No sort for a handful of columns.
        let mut steps = Vec::with_capacity(log.wanted.len());
        let (mut at, mut next) = (0, 0);
        let from = |next: usize| {
            let rest = log.wanted.iter().enumerate().map(|(i, w)| (w.index, i)).filter(|w| w.0 >= next);
            rest.reduce(|a, b| if b.0 < a.0 { b } else { a })
        };
        while let Some((index, i)) = from(next) {
            steps.push((index - at, i));
            (at, next) = (index, index + 1);
        }
        // Between commas no comma is a decimal sign; a quotation mark, which no plain row holds, takes its place.
        let sign = match (log.sniffed.format.decimal, log.sniffed.format.separator) {
            (Decimal::Point, _) => b'.',
            (Decimal::Comma, Separator::Comma) => b'"',
            (Decimal::Comma, _) => b',',
        };
        Self {
            separator: log.sniffed.format.separator.byte(),
            sign: (sign, log.sniffed.format.decimal),
            columns: log.sniffed.names.len(),
            wanted: log.wanted,
            steps,
            form: Form::default(),
            places: Vec::with_capacity(log.wanted.len()),
            reach: 0,
            starts: Vec::with_capacity(ROWS),
        }
    }

    /// Reads the usual rows at the start of the text, up to the first other one. How many there are, and bytes in them.
    pub fn rows(&mut self, text: &[u8], columns: &mut [Vec<f64>]) -> (usize, usize) {
        let (mut rows, mut at) = (0, 0);
        while let Some(row) = text.get(at..)
            && let Some(length) = self.length(row)
        {
            let fits = row.len() >= self.reach && self.form.fits(row);
            if !fits || self.starts.len() == ROWS {
                self.read(text, columns);
            }
            if !fits && self.find(row).is_none() {
                break;
            }
            self.starts.push(at);
            rows += 1;
            at += length;
        }
        self.read(text, columns);
        (rows, at)
    }

    /// Bytes of the row at the start of the text, if it has as many cells as it should.
    fn length(&self, text: &[u8]) -> Option<usize> {
        let (separators, end) = to_line_end(text, self.separator)?;
        // A separator at the end opens one more cell, which holds nothing.
        let open = || {
            let line = text.get(..end).unwrap_or(&[]);
            line.strip_suffix(b"\r").unwrap_or(line).ends_with(&[self.separator])
        };
        let usual = separators + 1 == self.columns || separators == self.columns && open();
        usual.then_some(end + 1)
    }

    /// Reads the rows gathered.
    fn read(&mut self, text: &[u8], columns: &mut [Vec<f64>]) {
        for (place, (_, i)) in self.places.iter().zip(&self.steps) {
            let (Some(values), Some(w)) = (columns.get_mut(*i), self.wanted.get(*i)) else { continue };
            match self.starts.as_slice() {
                [row] => values.push(w.unit.to_si(place.number(text, *row))),
                rows => place.column(text, rows, w.unit, values),
            }
        }
        self.starts.clear();
    }

    /// Finds where the numbers stand.
    fn find(&mut self, text: &[u8]) -> Option<()> {
        self.form.clear();
        self.places.clear();
        // A blank or a sign of comments may begin a row that is none.
        if text.first().is_none_or(|b| b.is_ascii_whitespace() || matches!(b, b'#' | b'%' | b'/' | b';')) {
            return None;
        }
        let mut at = 0;
        for (skip, _) in &self.steps {
            let rest = text.get(at..)?;
            at += match skip {
                0 => 0,
                1 if *rest.first()? == self.separator => 1,
                many => behind(rest, self.separator, *many)?,
            };
            let (place, end) = Place::find(text, at, self.sign)?;
            let ends = *text.get(end)?;
            if ends != self.separator && ends != b'\n' && ends != b'\r' {
                return None;
            }
            self.places.push(place);
            at = end;
        }
        self.reach = at + 8;
        text.get(..self.reach).and_then(|_| self.form.set(text, at + 1))
    }
}
