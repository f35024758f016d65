//! A log in pieces that end at line ends, so that a file need not fit in memory.

use std::io::{Read, Seek, SeekFrom};

use memchr::{memchr, memrchr};

use crate::lengths::{Beyond, LONGEST, WIDEST, What, beyond};
use crate::read::clip;
use crate::text::{HEAD, Text, cell, newlines, utf16, without_mark};
use crate::{Encoding, RecordingError};

/// What a log can be read from: a file, or bytes in a [`Cursor`](std::io::Cursor). It is read once from its start,
/// and once more where a message has to show a line.
pub trait Input: Read + Seek {}
impl<T: Read + Seek + ?Sized> Input for T {}

/// Bytes read at once.
const PIECE: usize = 256 * 1024;
/// Bytes checked together.
const STRETCH: usize = 64;
/// The head that is looked at holds at least these bytes and lines (shorter logs: all of it),
const AT_LEAST: (usize, usize) = (HEAD + 1, 12);
/// as long as the lines fit here, bytes.
const MOST: usize = 32 * 1024 * 1024;

/// Whole lines of a log.
pub(crate) struct Piece<'a> {
    pub bytes: &'a [u8],
    /// Line of its first byte, counted from 1.
    pub line: u64,
    /// Nothing follows.
    pub last: bool,
}

/// A log being read.
pub(crate) struct Feed<'a> {
    input: &'a mut dyn Input,
    file: &'a str,
    pub encoding: Encoding,
    /// Length of the byte-order mark.
    skip: usize,
    /// Bare CR ends the lines.
    returns: bool,
    /// The text claims to be UTF-8 and is checked on the way.
    checked: bool,
    /// Line of the first byte that is not UTF-8.
    pub broken: Option<u64>,
    /// UTF-16 that is not decoded yet.
    raw: Vec<u8>,
    text: Vec<u8>,
    /// Bytes of `text` that are done with,
    passed: usize,
    /// and bytes after them that were given away.
    given: usize,
    /// Bytes of the text before those held.
    before: u64,
    ended: bool,
    line: u64,
    size: usize,
}

impl<'a> Feed<'a> {
    /// Looks at the first bytes for the encoding; `stated` overrules them.
    pub fn open(
        input: &'a mut dyn Input,
        file: &'a str,
        stated: Option<Encoding>,
    ) -> Result<Self, RecordingError> {
        let mut feed = Self {
            input,
            file,
            encoding: Encoding::Utf8,
            skip: 0,
            returns: false,
            checked: false,
            broken: None,
            raw: Vec::new(),
            text: Vec::new(),
            passed: 0,
            given: 0,
            before: 0,
            ended: false,
            line: 1,
            size: PIECE,
        };
        feed.rewind()?;
        feed.more()?;
        let (found, skip) = match feed.text.as_slice() {
            [0xEF, 0xBB, 0xBF, ..] => (Some(Encoding::Utf8), 3),
            [0xFF, 0xFE, ..] => (Some(Encoding::Utf16Le), 2),
            [0xFE, 0xFF, ..] => (Some(Encoding::Utf16Be), 2),
            bytes => (without_mark(bytes), 0),
        };
        let blank = |text: &[u8]| text.iter().all(u8::is_ascii_whitespace);
        let mut whole = true;
        while blank(&feed.text) {
            if feed.ended {
                return Err(RecordingError::Empty { file: file.into() });
            }
            whole = false;
            feed.passed = feed.text.len();
            feed.more()?;
        }
        feed.skip = skip;
        feed.encoding = stated.or(found).unwrap_or(Encoding::Utf8);
        feed.checked = feed.encoding == Encoding::Utf8;
        if whole && !feed.wide() {
            feed.text.drain(..skip);
        } else {
            feed.rewind()?;
        }
        Ok(feed)
    }

    /// The same log read in pieces of another size.
    #[cfg(test)]
    pub fn sized(mut self, size: usize) -> Self {
        self.size = size;
        self.rewind().unwrap();
        self
    }

    /// Back to the start of the text.
    fn rewind(&mut self) -> Result<(), RecordingError> {
        self.input.seek(SeekFrom::Start(self.skip as u64)).map_err(|e| unreadable(self.file, e))?;
        self.raw.clear();
        self.text.clear();
        (self.passed, self.given, self.before, self.ended, self.line) = (0, 0, 0, false, 1);
        Ok(())
    }

    /// The head of the text; pieces start behind what [`pass`](Self::pass) leaves out of it.
    pub fn head(&mut self) -> Result<Text<'_>, RecordingError> {
        while !self.ended && self.text.len() < HEAD {
            self.more()?;
        }
        let head = self.text.get(..HEAD.min(self.text.len())).unwrap_or(&[]);
        if let Some(offset) = odd(head) {
            let byte = head.get(offset).copied().unwrap_or(0);
            return Err(RecordingError::Binary { file: self.file.into(), offset: offset + self.skip, byte });
        }
        self.returns = memchr(b'\r', head).is_some() && memchr(b'\n', head).is_none();
        self.end_lines(0);
        while !self.ended
            && self.text.len() <= MOST
            && (self.text.len() < AT_LEAST.0 || newlines(&self.text) < AT_LEAST.1 as u64)
        {
            self.more()?;
        }
        self.measure(self.text.len(), WIDEST)?;
        Ok(Text { bytes: &self.text, encoding: self.encoding })
    }

    /// Leaves out the first `bytes` of the head, which must be whole lines.
    pub fn pass(&mut self, bytes: usize) -> Result<(), RecordingError> {
        self.give(bytes.min(self.rest().len())).map(|_| ())
    }

    /// The next lines, none at the end.
    pub fn next(&mut self) -> Result<Option<Piece<'_>>, RecordingError> {
        let given = core::mem::take(&mut self.given);
        let (done, left) = self.rest().split_at_checked(given).unwrap_or_default();
        // Nobody asks for the line behind the end.
        if !(self.ended && left.is_empty()) {
            self.line += newlines(done);
        }
        self.passed += given;
        while !self.ended {
            // The last line waits until it is known whether anything follows.
            let before = self.rest().split_last().map_or(&[][..], |(_, before)| before);
            if let Some(cut) = memrchr(b'\n', before) {
                return self.give(cut + 1).map(Some);
            }
            self.measure(self.rest().len(), usize::MAX)?;
            self.more()?;
        }
        match self.rest().len() {
            0 => Ok(None),
            all => self.give(all).map(Some),
        }
    }

    /// What is not done with.
    fn rest(&self) -> &[u8] {
        self.text.get(self.passed..).unwrap_or(&[])
    }

    /// Refuses a line among the next bytes that is too long, or has too many cells. Bytes that are no text come first.
    fn measure(&self, bytes: usize, widest: usize) -> Result<(), RecordingError> {
        let Some(Beyond { line, text, start, what }) =
            beyond(self.rest().get(..bytes).unwrap_or(&[]), self.line, widest)
        else {
            return Ok(());
        };
        let file = self.file.into();
        if !self.wide()
            && let Some(at) = odd(text)
        {
            let offset = self.before + (self.skip + self.passed + start + at) as u64;
            let (offset, byte) =
                (usize::try_from(offset).unwrap_or(usize::MAX), text.get(at).copied().unwrap_or(0));
            return Err(RecordingError::Binary { file, offset, byte });
        }
        let begins = clip(&cell(text.get(..text.len().min(256)).unwrap_or(&[]), self.encoding));
        Err(match what {
            What::Length => RecordingError::TooLong { file, line, begins, most: LONGEST / 1_000_000 },
            What::Cells(cells, separator) => {
                let separator = separator.words();
                RecordingError::TooWide { file, line, cells, separator, most: WIDEST }
            }
        })
    }

    fn give(&mut self, bytes: usize) -> Result<Piece<'_>, RecordingError> {
        self.measure(bytes, usize::MAX)?;
        self.given = bytes;
        let line = self.line;
        let rest = self.text.get(self.passed..).unwrap_or(&[]);
        let given = rest.get(..bytes).unwrap_or(&[]);
        if self.checked
            && !given.is_ascii()
            && let Err(e) = core::str::from_utf8(given)
        {
            let line = line + newlines(given.get(..e.valid_up_to()).unwrap_or(&[]));
            self.broken = Some(line);
            return Err(RecordingError::Encoding { file: self.file.into(), line, stated: "utf-8" });
        }
        Ok(Piece { bytes: given, line, last: self.ended && bytes == rest.len() })
    }

    /// Reads on to the end to see whether all of the text is UTF-8.
    pub fn drain(&mut self) {
        while self.checked && self.broken.is_none() && matches!(self.next(), Ok(Some(_))) {}
    }

    /// The text of a line, counted from 1, without its end.
    pub fn text_of(&mut self, line: u64) -> Vec<u8> {
        let checked = core::mem::replace(&mut self.checked, false);
        let mut found = Vec::new();
        if self.rewind().is_ok() {
            while let Ok(Some(piece)) = self.next() {
                let lines = piece.bytes.split_inclusive(|b| *b == b'\n');
                if let Some(raw) = lines.zip(piece.line..).find(|(_, n)| *n == line) {
                    found = crate::read::line_of(raw.0).to_vec();
                    break;
                }
            }
        }
        self.checked = checked;
        found
    }

    fn more(&mut self) -> Result<(), RecordingError> {
        self.text.drain(..self.passed);
        self.before += self.passed as u64;
        self.passed = 0;
        // A line longer than a piece is read in growing steps.
        let size = self.size.max(self.text.len().min(LONGEST));
        let wide = self.wide();
        let from = self.text.len();
        let into = if wide { &mut self.raw } else { &mut self.text };
        into.reserve(size);
        let got =
            (&mut *self.input).take(size as u64).read_to_end(into).map_err(|e| unreadable(self.file, e))?;
        self.ended = got < size;
        if wide {
            let big = self.encoding == Encoding::Utf16Be;
            let mut end = self.raw.len() & !1;
            let high = end.checked_sub(if big { 2 } else { 1 }).and_then(|i| self.raw.get(i));
            if !self.ended && high.is_some_and(|b| (0xD8..=0xDB).contains(b)) {
                end -= 2;
            }
            self.text.append(&mut utf16(self.raw.get(..end).unwrap_or(&[]), big).into_bytes());
            self.raw.drain(..end);
        }
        self.end_lines(from);
        Ok(())
    }

    fn wide(&self) -> bool {
        matches!(self.encoding, Encoding::Utf16Le | Encoding::Utf16Be)
    }

    /// Bare CR to LF from an offset on, where that is what ends the lines.
    fn end_lines(&mut self, from: usize) {
        if self.returns {
            for b in self.text.iter_mut().skip(from).filter(|b| **b == b'\r') {
                *b = b'\n';
            }
        }
    }
}

/// The first byte that does not occur in text: tab, line feed, carriage return, form feed, Ctrl-Z (old end of file) and
/// escape do, other control characters do not.
fn odd(head: &[u8]) -> Option<usize> {
    let rare = |b: &u8| *b < 0x20 && *b != b'\n' && *b != b'\r' && *b != b'\t';
    let odd = |b: &u8| rare(b) && !matches!(b, 0x0C | 0x1A | 0x1B);
    // Nearly all stretches hold none of these; a loop without a way out goes many bytes at a time.
    let any = |s: &[u8; STRETCH]| s.iter().fold(false, |any, b| any | rare(b));
    let (stretches, rest) = head.as_chunks();
    let mut some = stretches.iter().enumerate().filter(|(_, s)| any(s));
    let found = some.find_map(|(i, s)| Some(i * STRETCH + s.iter().position(odd)?));
    found.or_else(|| Some(head.len() - rest.len() + rest.iter().position(odd)?))
}

fn unreadable(file: &str, e: std::io::Error) -> RecordingError {
    RecordingError::Unreadable { file: file.into(), problem: e.to_string() }
}
