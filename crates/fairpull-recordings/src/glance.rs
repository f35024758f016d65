//! What the first lines of a log say, where they say it clearly.

use crate::cells::to_line_end;
use crate::decimal::Evidence;
use crate::divide::{Division, LINES, Line, divide, head, head_end};
use crate::sniff::{standing, tried};
use crate::text::Text;
use crate::{Decimal, Layout, Separator};

/// Lines taken apart.
const FIRST: usize = 64;
/// Bytes looked at together.
const STRETCH: usize = 64;

/// How the log is written, if its first lines leave no doubt and the lines after them hold nothing that could raise one:
///
/// - half of the first lines at least are rows of numbers, one behind the other and all with the same number of cells;
/// - no other separator divides them into more numbers than words;
/// - there are decimal points or decimal commas in them, not both, one a row at least;
/// - the lines after them, as far as a log is looked at, hold no other separator, no quotation mark and no other decimal
///   sign, and fewer of them have another number of cells than there are rows already, so that the commonest stays it.
///
/// Anything else (a table before the table, a column that is empty at first, text) wants all the lines to be taken apart.
pub(crate) fn glance<'a>(text: &Text<'a>, layout: &Layout) -> Option<(Vec<Line<'a>>, Division, Decimal)> {
    let lines = head(text.bytes, FIRST);
    let last = lines.get(FIRST - 1)?;
    let after = last.offset + memchr::memchr(b'\n', last.rest)? + 1;
    let tried = tried(&lines, layout);
    let divisions: Vec<Division> =
        standing(text, &lines, &tried).iter().filter_map(|s| divide(&lines, *s)).collect();
    let mut good = divisions.iter().filter(|d| d.score > 0);
    let (Some(division), None) = (good.next().copied(), good.next()) else { return None };
    let rows = lines.len() - division.start;
    if division.cells < 2 || division.rows != rows || rows < FIRST / 2 {
        return None;
    }
    let decimal = match layout.decimal {
        Some(d) => d,
        None => Evidence::of(&lines, &division, text).clear(rows)?,
    };
    let rest = text.bytes.get(after..head_end(text.bytes)).unwrap_or(&[]);
    let (mut others, mut end) = (0, 0);
    for _ in FIRST..LINES {
        let line = rest.get(end..).unwrap_or(&[]);
        let Some((separators, length)) = to_line_end(line, division.separator.byte()) else { break };
        others += usize::from(separators + 1 != division.cells);
        end += length + 1;
    }
    let doubts = doubts(division.separator, decimal, &tried);
    let doubtless = others < rows && without(rest.get(..end).unwrap_or(&[]), doubts);
    doubtless.then_some((lines, division, decimal))
}

/// What would make the lines after the first ones worth taking apart. At most five signs; the quotation mark fills up.
fn doubts(separator: Separator, decimal: Decimal, tried: &[Separator]) -> [u8; 5] {
    let mut doubts = [b'"'; 5];
    let (own, other) = match decimal {
        Decimal::Point => (None, b','),
        Decimal::Comma => (Some(Separator::Comma), b'.'),
    };
    let others = tried.iter().filter(|s| **s != separator && Some(**s) != own).map(|s| s.byte());
    let other = Some(other).filter(|b| *b != separator.byte());
    for (place, sign) in doubts.iter_mut().skip(1).zip(other.into_iter().chain(others)) {
        *place = sign;
    }
    doubts
}

/// True where none of the bytes stands in a text. A loop without a way out goes many bytes at a time.
fn without(text: &[u8], [a, b, c, d, e]: [u8; 5]) -> bool {
    let is = |x: &u8| (*x == a) | (*x == b) | (*x == c) | (*x == d) | (*x == e);
    let any = |stretch: &[u8; STRETCH]| stretch.iter().fold(false, |any, x| any | is(x));
    let (stretches, rest) = text.as_chunks();
    !stretches.iter().any(any) && !rest.iter().any(is)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Column, Encoding, Role};

    fn says(log: &str) -> Option<(Separator, Decimal, usize)> {
        let text = Text { bytes: log.as_bytes(), encoding: Encoding::Utf8 };
        let layout = Layout::of(vec![Column::new(Role::Time, "t")]);
        glance(&text, &layout).map(|(_, division, decimal)| (division.separator, decimal, division.cells))
    }

    fn log(rows: usize, row: impl Fn(usize) -> String) -> String {
        (0..rows).fold("t;n;v\n".to_owned(), |log, i| log + &row(i) + "\n")
    }

    #[test]
    fn clear_logs_are_told_by_their_first_lines() {
        let point = log(300, |i| format!("{i}.0;{};4.5", 900 + i));
        assert_eq!(says(&point), Some((Separator::Semicolon, Decimal::Point, 3)));
        assert_eq!(says(&point.replace('.', ",")), Some((Separator::Semicolon, Decimal::Comma, 3)));
        assert_eq!(says(&point.replace(';', ",")), Some((Separator::Comma, Decimal::Point, 3)));
        assert_eq!(
            says(&(point.replace('\n', "\r\n") + "1;2")),
            Some((Separator::Semicolon, Decimal::Point, 3))
        );
        assert_eq!(
            says(&(format!("made by hand\nat noon, outside\n{point}"))),
            Some((Separator::Semicolon, Decimal::Point, 3))
        );
    }

    #[test]
    fn doubts_want_all_lines() {
        let clear = log(300, |i| format!("{i}.0;{};4.5", 900 + i));
        let late = |with: &str| {
            let doubtful = clear.replacen("200.0;1100;4.5", with, 1);
            assert_ne!(doubtful, clear);
            doubtful
        };
        assert!(says(&clear).is_some());
        // a quotation mark, another separator, another decimal sign
        for with in ["200.0;\"1100\";4.5", "200.0;1|100;4.5", "200.0;1100;4,5"] {
            assert_eq!(says(&late(with)), None, "{with}");
        }
        // a few rows of another width, comments and blank lines raise none; many do
        for with in ["200.0;1100", "200.0;1100;4.5;", "", "# note"] {
            assert_eq!(says(&late(with)), says(&clear), "{with}");
        }
        let many = |n: usize| {
            log(300, |i| if i > 100 && i <= 100 + n { "1.0;2".into() } else { format!("{i}.0;900;4.5") })
        };
        assert_eq!(says(&many(50)), says(&clear));
        assert_eq!(says(&many(70)), None);
        // too few lines, no decimal sign, one column, text between the rows, both signs
        assert_eq!(says(&log(40, |i| format!("{i}.0;900;4.5"))), None);
        assert_eq!(says(&log(300, |i| format!("{i};900;4"))), None);
        assert_eq!(says(&log(300, |i| format!("{i}.5")).replace("t;n;v", "t")), None);
        assert_eq!(says(&log(300, |i| if i == 9 { "note".into() } else { format!("{i}.0;900;4.5") })), None);
        assert_eq!(says(&log(300, |i| format!("{i}.0;900;4,5"))), None);
        // a text of which too much stands before the rows
        assert_eq!(says(&("words\n".repeat(40) + &clear)), None);
    }
}
