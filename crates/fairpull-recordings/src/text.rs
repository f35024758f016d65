//! Bytes to text that can be split at ASCII separators: encoding, byte-order mark, line ends.

use std::borrow::Cow;

use crate::Encoding;

/// How much of a file is looked at to find out how it is written.
pub(crate) const HEAD: usize = 256 * 1024;

/// The head of a log as bytes whose separators, digits and line ends (LF or CR LF) are ASCII.
pub(crate) struct Text<'a> {
    pub bytes: &'a [u8],
    pub encoding: Encoding,
}

impl Text<'_> {
    /// One cell as text.
    pub fn cell(&self, bytes: &[u8]) -> String {
        cell(bytes, self.encoding)
    }
}

/// One cell as text; bytes that do not fit the encoding become U+FFFD.
pub(crate) fn cell(bytes: &[u8], encoding: Encoding) -> String {
    match encoding {
        Encoding::Latin1 => bytes.iter().map(|b| latin1(*b)).collect(),
        _ => String::from_utf8_lossy(bytes).into_owned(),
    }
}

/// UTF-16 without a mark: every other byte of plain text is zero.
pub(crate) fn without_mark(bytes: &[u8]) -> Option<Encoding> {
    let head = bytes.get(..bytes.len().min(512)).unwrap_or(&[]);
    let pairs = head.chunks_exact(2).len();
    let zero = |at: usize| head.chunks_exact(2).filter(|p| p.get(at) == Some(&0)).count();
    let (even, odd) = (zero(0), zero(1));
    match pairs {
        8.. if odd * 10 > pairs * 8 && even * 20 < pairs => Some(Encoding::Utf16Le),
        8.. if even * 10 > pairs * 8 && odd * 20 < pairs => Some(Encoding::Utf16Be),
        _ => None,
    }
}

pub(crate) fn utf16(bytes: &[u8], big: bool) -> String {
    let units = bytes.chunks_exact(2).map(|p| match p {
        [a, b] if big => u16::from_be_bytes([*a, *b]),
        [a, b] => u16::from_le_bytes([*a, *b]),
        _ => 0xFFFD,
    });
    char::decode_utf16(units).map(|c| c.unwrap_or(char::REPLACEMENT_CHARACTER)).collect()
}

/// ISO 8859-1; 0x80 to 0x9F as Windows-1252 prints them, because loggers on that system write `’`, `–` and `€` so.
fn latin1(b: u8) -> char {
    const HIGH: [char; 32] = [
        '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}',
        '\u{90}', '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
    ];
    match b {
        0x80..=0x9F => HIGH.get(usize::from(b - 0x80)).copied().unwrap_or('\u{FFFD}'),
        _ => char::from(b),
    }
}

/// Number of line feeds.
pub(crate) fn newlines(bytes: &[u8]) -> u64 {
    memchr::memchr_iter(b'\n', bytes).count() as u64
}

/// One cell of a line: its bytes without quotation marks, and where it starts.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Cell<'a> {
    pub bytes: Cow<'a, [u8]>,
    pub start: usize,
}

/// Splits one line; a quotation mark counts at the start of a cell only, a doubled one stands for itself.
pub(crate) fn split(line: &[u8], separator: u8) -> Vec<Cell<'_>> {
    split_first(line, separator, usize::MAX)
}

/// The first `most` cells of a line.
pub(crate) fn split_first(line: &[u8], separator: u8, most: usize) -> Vec<Cell<'_>> {
    let mut cells = Vec::with_capacity(most.min(memchr::memchr_iter(separator, line).count() + 1));
    let mut at = 0;
    loop {
        let rest = line.get(at..).unwrap_or(&[]);
        let (bytes, used) = match rest.strip_prefix(b"\"") {
            Some(quoted) => unquote(quoted, separator),
            None => {
                let n = rest.iter().position(|b| *b == separator).unwrap_or(rest.len());
                (Cow::Borrowed(rest.get(..n).unwrap_or(&[])), n)
            }
        };
        cells.push(Cell { bytes, start: at });
        at += used;
        if line.get(at) != Some(&separator) || cells.len() >= most {
            return cells;
        }
        at += 1;
    }
}

/// Whether the last cell of a line has a quotation mark that is not closed.
pub(crate) fn left_open(line: &[u8], separator: u8) -> bool {
    let last = split(line, separator).last().map_or(0, |c| c.start);
    let cell = line.get(last..).unwrap_or(&[]);
    cell.first() == Some(&b'"') && !memchr::memchr_iter(b'"', cell).count().is_multiple_of(2)
}

/// The cell after an opening quotation mark, and how many bytes it takes with its marks.
fn unquote(rest: &[u8], separator: u8) -> (Cow<'_, [u8]>, usize) {
    let mut text = Vec::new();
    let mut i = 0;
    let mut open = true;
    while let Some(b) = rest.get(i) {
        match (*b, open) {
            (b'"', true) if rest.get(i + 1) == Some(&b'"') => {
                text.push(b'"');
                i += 1;
            }
            (b'"', true) => open = false,
            (c, false) if c == separator => break,
            (c, _) => text.push(c),
        }
        i += 1;
    }
    (Cow::Owned(text), i + 1)
}
