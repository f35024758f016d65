//! Columns of text: numbers to the right, words to the left, long words wrapped at a readable width.

use fairpull::report::escape::clean_line;

use crate::brief;

/// Widest line, in characters.
pub const WIDE: usize = 110;
/// Least width of the last column.
const LAST: usize = 24;
/// Width of the other columns of words where a line would become too wide.
const NARROW: usize = 30;

/// A table, its cells cleaned; a heading that begins with `>` is set to the right and not wrapped.
pub fn table(heading: &[&str], rows: &[Vec<String>]) -> String {
    // nothing stands behind the last column to line up with: it begins where the heading does
    let right: Vec<bool> =
        heading.iter().enumerate().map(|(i, h)| h.starts_with('>') && i + 1 < heading.len()).collect();
    let heading: Vec<String> = heading.iter().map(|h| h.trim_start_matches('>').to_owned()).collect();
    let rows: Vec<Vec<String>> =
        rows.iter().map(|r| r.iter().map(|c| clean_line(&brief::numbers(c))).collect()).collect();
    let n = heading.len();
    let mut wide: Vec<usize> = heading.iter().map(|h| h.chars().count()).collect();
    for r in &rows {
        for (w, c) in wide.iter_mut().zip(r) {
            *w = (*w).max(c.chars().count());
        }
    }
    let before = |wide: &[usize]| wide.iter().take(n - 1).map(|w| w + 2).sum::<usize>();
    if before(&wide) + LAST > WIDE {
        for (w, right) in wide.iter_mut().zip(&right) {
            *w = if *right { *w } else { (*w).min(NARROW) };
        }
    }
    let last = WIDE.saturating_sub(before(&wide)).max(LAST);
    if let Some(w) = wide.last_mut() {
        *w = last;
    }
    let mut out = String::new();
    for r in core::iter::once(&heading).chain(&rows) {
        let cells: Vec<Vec<String>> = r.iter().zip(&wide).map(|(c, w)| fold(c, *w)).collect();
        let lines = cells.iter().map(Vec::len).max().unwrap_or(0);
        for k in 0..lines {
            let mut line = String::new();
            for ((cell, width), right) in cells.iter().zip(&wide).zip(&right) {
                let part = cell.get(k).map_or("", String::as_str);
                let pad = " ".repeat(width.saturating_sub(part.chars().count()));
                line += &if *right { format!("{pad}{part}  ") } else { format!("{part}{pad}  ") };
            }
            out += line.trim_end();
            out.push('\n');
        }
    }
    out
}

/// A cell that fits stays as it is.
fn fold(cell: &str, width: usize) -> Vec<String> {
    if cell.chars().count() <= width { vec![cell.to_owned()] } else { wrap(cell, width) }
}

/// Lines of at most `width` characters, broken at spaces.
pub fn wrap(text: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let here = lines.last_mut().map_or(0, |l| l.chars().count());
        if here > 0 && here + 1 + word.chars().count() > width {
            lines.push(word.to_owned());
        } else if let Some(l) = lines.last_mut() {
            if here > 0 {
                l.push(' ');
            }
            l.push_str(word);
        }
    }
    lines
}
