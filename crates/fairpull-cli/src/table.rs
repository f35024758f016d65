//! Columns of text: numbers to the right, words to the left, the last column wrapped at a readable width.

/// Widest line, in characters.
const WIDE: usize = 110;

/// A table; a heading that begins with `>` is set to the right.
pub fn table(heading: &[&str], rows: &[Vec<String>]) -> String {
    let right: Vec<bool> = heading.iter().map(|h| h.starts_with('>')).collect();
    let heading: Vec<String> = heading.iter().map(|h| h.trim_start_matches('>').to_owned()).collect();
    let n = heading.len();
    let mut wide: Vec<usize> = heading.iter().map(|h| h.chars().count()).collect();
    for r in rows {
        for (w, c) in wide.iter_mut().zip(r) {
            *w = (*w).max(c.chars().count());
        }
    }
    let before: usize = wide.iter().take(n - 1).map(|w| w + 2).sum();
    let last = WIDE.saturating_sub(before).max(24);
    let mut out = String::new();
    for r in core::iter::once(&heading).chain(rows) {
        let mut line = String::new();
        for (i, cell) in r.iter().enumerate().take(n - 1) {
            let pad = " ".repeat(wide[i].saturating_sub(cell.chars().count()));
            let (a, b) = if right[i] { (pad.as_str(), cell.as_str()) } else { (cell.as_str(), pad.as_str()) };
            line += a;
            line += b;
            line += "  ";
        }
        let empty = String::new();
        for (k, part) in wrap(r.last().unwrap_or(&empty), last).iter().enumerate() {
            if k > 0 {
                out += line.trim_end();
                out.push('\n');
                line = " ".repeat(before);
            }
            line += part;
        }
        out += line.trim_end();
        out.push('\n');
    }
    out
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
