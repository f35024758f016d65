//! Where the header and the numbers are, and how cells are separated.

use crate::decimal::Evidence;
use crate::divide::{Division, LINES, Line, best_of, head, is_comment};
use crate::glance::glance;
use crate::header::{fold, is_units_row};
use crate::text::{Text, split};
use crate::{Decimal, Format, Layout, RecordingError, Separator};

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

pub(crate) fn sniff(text: &Text<'_>, file: &str, layout: &Layout) -> Result<Sniffed, RecordingError> {
    if let Some((lines, division, decimal)) = glance(text, layout) {
        return Ok(described(&lines, &division, decimal, layout, text));
    }
    let lines = head(text.bytes, LINES);
    let tried = tried(&lines, layout);
    let standing = standing(text, &lines, &tried);
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
    let mut sniffed = described(&lines, &division, Decimal::Point, layout, text);
    sniffed.format.decimal = match layout.decimal {
        Some(d) => d,
        None => {
            Evidence::of(&lines, &division, text).decide(&sniffed.names, file, sniffed.format.data_line)?
        }
    };
    Ok(sniffed)
}

/// The separators that may be meant.
pub(crate) fn tried(lines: &[Line<'_>], layout: &Layout) -> Vec<Separator> {
    match layout.separator.or_else(|| lines.first().and_then(|l| separator_line(l.bytes))) {
        Some(s) => vec![s],
        None => Separator::ALL.to_vec(),
    }
}

/// Those that stand anywhere: any other makes a table of one column, which each of these beats.
pub(crate) fn standing(text: &Text<'_>, lines: &[Line<'_>], tried: &[Separator]) -> Vec<Separator> {
    let end = lines.last().map_or(0, |l| l.offset + l.bytes.len());
    let lines = text.bytes.get(..end).unwrap_or(&[]);
    tried.iter().copied().filter(|s| memchr::memchr(s.byte(), lines).is_some()).collect()
}

/// What follows from how the lines are divided.
fn described(
    lines: &[Line<'_>],
    division: &Division,
    decimal: Decimal,
    layout: &Layout,
    text: &Text<'_>,
) -> Sniffed {
    let separator = division.separator.byte();
    let cells = |bytes: &[u8]| -> Vec<String> {
        split(bytes, separator).iter().map(|c| text.cell(&c.bytes).trim().to_owned()).collect()
    };
    let before = lines.get(..division.start).unwrap_or(&[]);
    let found = find_header(before, division, layout, &cells);
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
    let header_numbers = [header, found.as_ref().and_then(|h| h.units.as_ref().map(|u| u.0))];
    Sniffed {
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
    }
}

/// The first line `sep=;` that spreadsheets write.
fn separator_line(line: &[u8]) -> Option<Separator> {
    match line.strip_prefix(b"sep=").or_else(|| line.strip_prefix(b"SEP="))? {
        [one] => Separator::ALL.into_iter().find(|s| s.byte() == *one),
        _ => None,
    }
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
    let mapped: Vec<String> = layout.columns.iter().map(|c| fold(&c.name)).collect();
    let hits = |names: &[String]| {
        let folded: Vec<String> = names.iter().map(|n| fold(n)).collect();
        mapped.iter().filter(|name| folded.iter().any(|f| f.starts_with(name.as_str()))).count()
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
