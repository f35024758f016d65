//! Where a log comes from.

use std::fs::File;
use std::io::Cursor;

use fairpull_recordings::{Input, Layout, Recording, RecordingError, read_from};

/// A log that can be read: an open file, or bytes in memory.
pub struct Source(Box<dyn Input>);

impl Source {
    /// Any other place that can be read twice from its start.
    pub fn new(input: impl Input + 'static) -> Self {
        Self(Box::new(input))
    }

    pub(crate) fn recording(mut self, file: &str, layout: &Layout) -> Result<Recording, RecordingError> {
        read_from(&mut self.0, file, layout)
    }
}

impl From<File> for Source {
    fn from(file: File) -> Self {
        Self::new(file)
    }
}

impl From<Vec<u8>> for Source {
    fn from(bytes: Vec<u8>) -> Self {
        Self::new(Cursor::new(bytes))
    }
}
