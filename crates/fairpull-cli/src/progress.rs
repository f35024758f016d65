//! A line of progress on standard error, on a terminal, for work longer than a second.

use std::io::{IsTerminal, Write};
use std::time::{Duration, Instant};

/// Progress of one piece of work.
pub struct Progress {
    start: Instant,
    shown: bool,
    terminal: bool,
}

impl Progress {
    /// Starts the clock.
    pub fn new() -> Self {
        Self { start: Instant::now(), shown: false, terminal: std::io::stderr().is_terminal() }
    }

    /// `done` of `total` logs are read.
    pub fn step(&mut self, done: usize, total: usize) {
        let spent = self.start.elapsed();
        if !self.terminal || spent < Duration::from_secs(1) {
            return;
        }
        self.shown = true;
        let left = spent.as_secs_f64() * (total - done) as f64 / done.max(1) as f64;
        let mut err = std::io::stderr().lock();
        let _ = write!(err, "\r{done} of {total} logs, about {left:.0} s left   ");
        let _ = err.flush();
    }

    /// Removes the line.
    pub fn finish(&self) {
        if self.shown {
            let _ = write!(std::io::stderr().lock(), "\r{:60}\r", "");
        }
    }
}
