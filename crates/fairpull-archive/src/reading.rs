//! A log that is hashed while it is read, so that it need not be held and the hash is of what was read.

use std::fs::File;
use std::io::{Error, ErrorKind, Read, Result, Seek, SeekFrom};
use std::sync::{Arc, Mutex, PoisonError};

use sha2::{Digest, Sha256};

use crate::inputs::hex;
use crate::{Input, Kind};

/// Bytes kept of the start, so that a reader may begin again behind a byte-order mark.
const KEPT: usize = 16;
/// Bytes read at once where nobody asks for a number: most logs have been read to their end by then.
const PIECE: usize = 1 << 13;

/// An open log. A clone reads on where the other stopped.
///
/// The hash begins again with the reader: it is that of the bytes that were handed out last.
#[derive(Clone, Debug)]
pub struct Reading(Arc<Mutex<Pass>>);

/// One way through a file.
#[derive(Debug)]
struct Pass {
    file: File,
    /// Where the next byte is read.
    at: u64,
    /// Of all bytes before that place; none where some were passed over.
    hash: Option<Sha256>,
    /// The first bytes.
    first: Vec<u8>,
}

impl Reading {
    /// From the start of a file.
    #[must_use]
    pub fn new(file: File) -> Self {
        Self(Arc::new(Mutex::new(Pass { file, at: 0, hash: None, first: Vec::new() })))
    }

    /// Reads on to the end and tells name, size and SHA-256.
    ///
    /// # Errors
    /// What the system says when the file cannot be read.
    pub fn input(&self, name: &str) -> Result<Input> {
        let mut pass = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if pass.hash.is_none() {
            pass.seek(SeekFrom::Start(0))?;
        }
        let mut piece = [0; PIECE];
        while pass.read(&mut piece)? > 0 {}
        let hash = pass.hash.take().ok_or_else(|| Error::from(ErrorKind::InvalidInput))?;
        Ok(Input { kind: Kind::Log, name: name.into(), bytes: pass.at, sha256: hex(hash) })
    }
}

impl Pass {
    fn read(&mut self, into: &mut [u8]) -> Result<usize> {
        let n = loop {
            match self.file.read(into) {
                Err(e) if e.kind() == ErrorKind::Interrupted => {}
                other => break other?,
            }
        };
        let read = into.get(..n).unwrap_or(&[]);
        if self.at == 0 {
            self.hash = Some(Sha256::new());
        }
        if let Some(hash) = &mut self.hash {
            hash.update(read);
        }
        if let Some(room) = usize::try_from(self.at).ok().and_then(|at| KEPT.checked_sub(at)) {
            self.first.truncate(KEPT - room);
            self.first.extend(read.iter().take(room));
        }
        self.at += n as u64;
        Ok(n)
    }

    fn seek(&mut self, to: SeekFrom) -> Result<u64> {
        let at = self.file.seek(to)?;
        if at != self.at {
            let before = usize::try_from(at).ok().and_then(|at| self.first.get(..at));
            self.hash = before.map(|bytes| Sha256::new().chain_update(bytes));
            self.at = at;
        }
        Ok(at)
    }
}

impl Read for Reading {
    fn read(&mut self, into: &mut [u8]) -> Result<usize> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).read(into)
    }
}

impl Seek for Reading {
    fn seek(&mut self, to: SeekFrom) -> Result<u64> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).seek(to)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Write;
    use std::path::PathBuf;

    fn file(name: &str, bytes: &[u8]) -> (PathBuf, Reading) {
        let path = std::env::temp_dir().join(format!("fairpull-reading-{name}-{}", std::process::id()));
        std::fs::write(&path, bytes).unwrap();
        let reading = Reading::new(File::open(&path).unwrap());
        (path, reading)
    }

    fn bytes() -> Vec<u8> {
        (0..200_000_u64).map(|i| (i * i % 251) as u8).collect()
    }

    #[test]
    fn the_hash_is_that_of_the_file_however_it_is_read() {
        let bytes = bytes();
        let whole = Input::of(Kind::Log, "a.csv", &bytes);
        type Way = fn(&mut Reading, &mut [u8]);
        let ways: [Way; 6] = [
            |_, _| {},
            |r, b| r.read_exact(b).unwrap(),
            |r, b| {
                r.read_exact(b).unwrap();
                r.rewind().unwrap();
            },
            |r, b| {
                r.read_exact(b).unwrap();
                r.seek(SeekFrom::Start(3)).unwrap();
                r.read_exact(b).unwrap();
                r.seek(SeekFrom::Start(0)).unwrap();
                r.read_exact(b).unwrap();
            },
            |r, b| {
                r.seek(SeekFrom::Start(90_000)).unwrap();
                r.read_exact(b).unwrap();
            },
            |r, b| {
                r.read_exact(b).unwrap();
                r.seek(SeekFrom::Current(1)).unwrap();
                r.read_exact(b).unwrap();
            },
        ];
        for (i, way) in ways.into_iter().enumerate() {
            for length in [1, 7, 16, 17, 5000, 90_000] {
                let (path, reading) = file(&format!("way-{i}-{length}"), &bytes);
                way(&mut reading.clone(), &mut vec![0; length]);
                assert_eq!(reading.input("a.csv").unwrap(), whole, "{i} {length}");
                std::fs::remove_file(path).unwrap();
            }
        }
        let (path, reading) = file("empty", b"");
        assert_eq!(reading.input("a.csv").unwrap(), Input::of(Kind::Log, "a.csv", b""));
        std::fs::remove_file(path).unwrap();
    }

    #[test]
    fn the_hash_is_of_what_was_handed_out() {
        let bytes = bytes();
        let (path, reading) = file("changed", &bytes);
        let mut handed = vec![0; 100_000];
        reading.clone().read_exact(&mut handed).unwrap();
        // The part that was read already is written over.
        let mut other = File::options().write(true).open(&path).unwrap();
        other.write_all(&[7; 50_000]).unwrap();
        assert_eq!(reading.input("a.csv").unwrap(), Input::of(Kind::Log, "a.csv", &bytes));
        // A reader that begins again is handed the new bytes, and so is the hash.
        reading.clone().rewind().unwrap();
        let now = std::fs::read(&path).unwrap();
        assert_eq!(reading.input("a.csv").unwrap(), Input::of(Kind::Log, "a.csv", &now));
        std::fs::remove_file(path).unwrap();
    }
}
