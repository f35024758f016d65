//! Lines that are too long to be held, and bytes that are no text in them.

use memchr::{memchr, memchr_iter};

use crate::Separator;

/// Longest line, bytes: a row of 100,000 columns takes 1 to 2 MB, and a line some ten times as long can still be held
/// whole, with what is made of it. A file without line ends would otherwise be held as one line.
pub(crate) const LONGEST: usize = 16_000_000;
/// Most cells in a line of the head, where each takes some 150 bytes.
pub(crate) const WIDEST: usize = 1_000_000;

/// A line beyond a limit.
pub(crate) struct Beyond<'a> {
    pub line: u64,
    pub text: &'a [u8],
    /// Where it starts in what was measured.
    pub start: usize,
    pub what: What,
}

/// Which limit.
pub(crate) enum What {
    Length,
    Cells(usize, Separator),
}

/// The first of these lines that is longer than a line may be or has more cells than `widest`. `line` is the number of the
/// first.
pub(crate) fn beyond(text: &[u8], line: u64, widest: usize) -> Option<Beyond<'_>> {
    let (mut start, mut number) = (0, line);
    loop {
        let rest = text.get(start..)?;
        if rest.len() <= LONGEST.min(widest) {
            return None;
        }
        let line = rest.get(..memchr(b'\n', rest).unwrap_or(rest.len()))?;
        let found = |what| Some(Beyond { line: number, text: line, start, what });
        if line.len() > LONGEST {
            return found(What::Length);
        }
        if line.len() > widest {
            for separator in Separator::ALL {
                let cells = memchr_iter(separator.byte(), line).count() + 1;
                if cells > widest {
                    return found(What::Cells(cells, separator));
                }
            }
        }
        start += line.len() + 1;
        number += 1;
    }
}
