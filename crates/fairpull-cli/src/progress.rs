//! A line of progress on standard error, on a terminal, for work longer than a second.

use std::collections::VecDeque;
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

/// Progress over many jobs: a line on a terminal, now and then a line elsewhere.
pub struct Pace {
    start: Instant,
    shown: Option<Instant>,
    terminal: bool,
    total: usize,
    done: usize,
    bytes: u64,
    /// When how many jobs and bytes were done; the rate is that of the last of them.
    marks: VecDeque<(Instant, usize, u64)>,
}

/// Marks behind a rate, and the time between two.
const MARKS: usize = 16;
const APART: Duration = Duration::from_secs(1);
/// Time between two lines where there is no terminal.
const SELDOM: Duration = Duration::from_secs(60);

impl Pace {
    /// Starts the clock.
    pub fn new(total: usize) -> Self {
        let start = Instant::now();
        Self {
            start,
            shown: None,
            terminal: std::io::stderr().is_terminal(),
            total,
            done: 0,
            bytes: 0,
            marks: VecDeque::from([(start, 0, 0)]),
        }
    }

    /// One more job is done.
    pub fn step(&mut self, bytes: u64) {
        self.done += 1;
        self.bytes += bytes;
    }

    /// Shows where the work stands, when it is time.
    pub fn show(&mut self) {
        let now = Instant::now();
        if self.marks.back().is_some_and(|m| now - m.0 >= APART) {
            self.marks.push_back((now, self.done, self.bytes));
            if self.marks.len() > MARKS {
                self.marks.pop_front();
            }
        }
        let pause = if self.terminal { APART } else { SELDOM };
        if now - self.shown.unwrap_or(self.start) < pause {
            return;
        }
        let text = self.words(now);
        self.shown = Some(now);
        let mut err = std::io::stderr().lock();
        if self.terminal {
            let _ = write!(err, "\r{text:78}");
        } else {
            let _ = writeln!(err, "{text}");
        }
        let _ = err.flush();
    }

    fn words(&self, now: Instant) -> String {
        let (then, done, bytes) = self.marks.front().copied().unwrap_or((self.start, 0, 0));
        let seconds = (now - then).as_secs_f64().max(1e-3);
        let rate = (self.done - done) as f64 / seconds;
        let megabytes = (self.bytes - bytes) as f64 / seconds / 1e6;
        let left = match (self.total - self.done) as f64 / rate {
            s if !s.is_finite() => "time left unknown".to_owned(),
            s if s < 90.0 => format!("about {s:.0} s left"),
            s if s < 5400.0 => format!("about {:.0} min left", s / 60.0),
            s => format!("about {:.1} h left", s / 3600.0),
        };
        format!("{} of {} jobs, {rate:.1} jobs/s, {megabytes:.1} MB/s, {left}", self.done, self.total)
    }

    /// Removes the line.
    pub fn clear(&mut self) {
        if self.terminal && self.shown.is_some() {
            let _ = write!(std::io::stderr().lock(), "\r{:78}\r", "");
        }
    }
}
