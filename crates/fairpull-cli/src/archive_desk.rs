//! What is told of an archive while it is worked through, and what is written at its end.

use std::io::Write;
use std::path::Path;

use fairpull_archive::{ArchiveError, FAILURES, Folder, JOBS, Job, Row, Watch};
use serde::Serialize;

use crate::args::Reduce;
use crate::fail::Fail;
use crate::out;
use crate::progress::Pace;

/// What became of a job.
pub enum Fate {
    /// Reduced now.
    Done,
    /// Finished by an earlier run.
    Kept,
    /// Refused, and why.
    Failed(String),
    /// The disk or the folder is at fault: no later job would fare better.
    Ended(ArchiveError),
}

/// The answer to one job.
pub struct Answer {
    /// What became of it.
    pub fate: Fate,
    /// What is no longer as an earlier run found it.
    pub changed: Vec<String>,
    /// Its rows of the table.
    pub rows: Vec<Row>,
    /// Bytes that went in.
    pub bytes: u64,
}

/// One line of `--json`.
#[derive(Serialize)]
struct Line<'a> {
    job: &'a str,
    status: &'a str,
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    changed: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    results: Option<String>,
    #[serde(skip_serializing_if = "<[Row]>::is_empty")]
    states: &'a [Row],
}

/// One line of the listing of failures.
#[derive(Serialize)]
struct Failure {
    job: String,
    message: String,
}

/// Where the answers go.
pub struct Desk<'a> {
    a: &'a Reduce,
    jobs: &'a [Job],
    folder: Option<&'a Folder>,
    pace: Pace,
    failures: Vec<Failure>,
    /// Which jobs are finished.
    finished: Vec<bool>,
    done: usize,
    kept: usize,
    refused: usize,
    told: Result<(), Fail>,
    ended: Option<ArchiveError>,
}

impl<'a> Desk<'a> {
    /// For these jobs.
    pub fn new(a: &'a Reduce, jobs: &'a [Job], folder: Option<&'a Folder>) -> Self {
        Self {
            a,
            jobs,
            folder,
            pace: Pace::new(jobs.len()),
            failures: Vec::new(),
            finished: vec![false; jobs.len()],
            done: 0,
            kept: 0,
            refused: 0,
            told: Ok(()),
            ended: None,
        }
    }

    fn note(&mut self, text: &str) {
        self.pace.clear();
        out::told(text);
    }

    /// Tells and notes a refusal.
    pub fn failed(&mut self, message: String, job: String) {
        let head =
            if job.is_empty() { String::new() } else { format!("refused: {}\n", out::name(Path::new(&job))) };
        self.note(&format!("{head}{message}\n"));
        self.failures.push(Failure { job, message });
    }

    fn line(&mut self, index: usize, answer: &Answer) {
        let Some(job) = self.jobs.get(index) else {
            return;
        };
        let (status, message) = match &answer.fate {
            Fate::Done => ("done", None),
            Fate::Kept => ("kept", None),
            Fate::Failed(why) => ("refused", Some(why.as_str())),
            Fate::Ended(_) => return,
        };
        let whole = message.is_none();
        let line = Line {
            job: &job.name,
            status,
            changed: &answer.changed,
            message,
            results: self.folder.filter(|_| whole).map(|f| f.place(job).display().to_string()),
            states: &answer.rows,
        };
        if self.told.is_ok() {
            let text = serde_json::to_string(&line).map_err(|e| Fail::plain(format!("JSON: {e}")));
            self.told = text.and_then(|t| out::data_line(&t));
        }
    }
}

impl Watch<Answer> for Desk<'_> {
    fn arrived(&mut self, answer: &Answer) -> bool {
        self.pace.step(answer.bytes);
        !matches!(answer.fate, Fate::Ended(_))
    }

    fn next(&mut self, index: usize, answer: Answer) -> bool {
        let name = self.jobs.get(index).map_or_else(String::new, |j| j.name.clone());
        if !answer.changed.is_empty() && matches!(answer.fate, Fate::Done) {
            self.note(&format!("note: {name}: reduced again, for {} changed", answer.changed.join(", ")));
        }
        if self.a.json {
            self.line(index, &answer);
        }
        let whole = matches!(answer.fate, Fate::Done | Fate::Kept);
        if let Some(f) = self.finished.get_mut(index) {
            *f = whole;
        }
        match answer.fate {
            Fate::Done => self.done += 1,
            Fate::Kept => self.kept += 1,
            Fate::Failed(message) => {
                self.refused += 1;
                self.failed(message, name);
            }
            Fate::Ended(e) => self.ended = Some(e),
        }
        // a reader that went away wants no more lines; the results are still wanted
        matches!(self.told, Ok(()) | Err(Fail::Pipe)) && self.ended.is_none()
    }

    fn tick(&mut self) {
        self.pace.show();
    }
}

impl Desk<'_> {
    /// The table, the listing, the summary.
    pub fn end(mut self) -> Result<(), Fail> {
        self.pace.clear();
        if let Some(e) = self.ended {
            let kept = self.done + self.kept;
            return Err(Fail::plain(format!(
                "{e}; {kept} of {} jobs are finished and kept, table and listing are not renewed: mend the cause and run the same command again",
                self.jobs.len()
            )));
        }
        match core::mem::replace(&mut self.told, Ok(())) {
            Ok(()) | Err(Fail::Pipe) => {}
            Err(other) => return Err(other),
        }
        let mut where_to = String::new();
        if let (Some(folder), Some(dir)) = (self.folder, &self.a.out) {
            where_to = self.close(folder, dir)?;
        }
        let finished = self.done + self.kept;
        let mut summary = format!("{finished} of {} jobs finished", self.jobs.len());
        if self.kept > 0 {
            summary += &format!(", {} of them by an earlier run", self.kept);
        }
        if self.refused > 0 {
            summary += &format!("; {} refused", self.refused);
        }
        let unread = self.failures.len() - self.refused;
        if unread > 0 {
            summary += &format!(
                "; {unread} {} not be read",
                if unread == 1 { "folder could" } else { "folders could" }
            );
        }
        if !self.a.json {
            out::line(&format!("{summary}.{where_to}"))?;
        }
        if self.failures.is_empty() { Ok(()) } else { Err(Fail::Told) }
    }

    fn close(&self, folder: &Folder, dir: &Path) -> Result<String, Fail> {
        let mut listing = Vec::new();
        for f in &self.failures {
            serde_json::to_writer(&mut listing, f).map_err(|e| Fail::plain(format!("JSON: {e}")))?;
            listing.push(b'\n');
        }
        folder.write(FAILURES, |file, path| {
            file.write_all(&listing).map_err(|why| ArchiveError::Output {
                path: path.into(),
                what: "cannot be written",
                why,
            })
        })?;
        let finished = self.jobs.iter().zip(&self.finished).filter(|(_, f)| **f).map(|(j, _)| j);
        #[cfg(feature = "parquet")]
        let table = {
            let rows = fairpull_archive::table::write(folder, finished)?;
            format!("{} ({rows} rows), ", fairpull_archive::TABLE)
        };
        #[cfg(not(feature = "parquet"))]
        let table = {
            drop(finished);
            String::new()
        };
        folder.close()?;
        Ok(format!("\nWritten to {}: {table}{FAILURES}, {JOBS}/", out::name(dir)))
    }
}
