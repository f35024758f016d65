//! `fairpull reduce` of many jobs into one folder of results.

use std::io::Write;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

use fairpull::core::Catalogue;
use fairpull_archive::{
    ArchiveError, FAILURES, Finished, Folder, Input, Inputs, JOBS, Job, Kept, Kind, Row, Wanted, Watch, find,
    run as work,
};
use serde::Serialize;

use crate::args::Reduce;
use crate::catalogue::with_declared;
use crate::fail::Fail;
use crate::progress::Pace;
use crate::reduce::{Written, made, parsed};
use crate::{files, out};

/// Program and version: part of every fingerprint.
const PROGRAM: &str = concat!("fairpull ", env!("CARGO_PKG_VERSION"));

/// What became of a job.
enum Fate {
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
struct Answer {
    fate: Fate,
    changed: Vec<String>,
    rows: Vec<Row>,
    bytes: u64,
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

pub fn run(a: &Reduce) -> Result<(), Fail> {
    if a.out.is_none() && !a.dry_run {
        let what = match a.jobs.as_slice() {
            [folder] => format!("{}: this is a folder of jobs", folder.display()),
            many => format!("{} jobs or folders of them", many.len()),
        };
        return Err(Fail::plain(format!("{what}; say where the results go with --out DIR")));
    }
    let (jobs, unread) = find(&a.jobs, a.out.as_deref())?;
    let folder = match &a.out {
        Some(dir) if !a.dry_run => Some(Folder::open(dir)?),
        _ => None,
    };
    let mut declared = Vec::new();
    for path in &a.declared {
        let name = path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
        declared.push(Input::of(Kind::Declared, &name, files::text(path)?.as_bytes()));
    }
    let cores = || std::thread::available_parallelism().map_or(1, usize::from);
    let threads = a.threads.map_or_else(cores, usize::from);
    let mut desk = Desk::new(a, &jobs, folder.as_ref());
    for e in unread {
        desk.failed(e.to_string(), String::new());
    }
    with_declared(&a.declared, |catalogue| {
        let bench = Bench { a, folder: folder.as_ref(), declared: &declared, catalogue };
        work(jobs.len(), threads, &|i| bench.answer(jobs.get(i)), &mut desk)
            .map_err(|e| Fail::plain(format!("a thread cannot be started: {e}; try --threads 1")))
    })?;
    desk.end()
}

/// What every thread works with.
struct Bench<'a> {
    a: &'a Reduce,
    folder: Option<&'a Folder>,
    declared: &'a [Input],
    catalogue: &'a Catalogue<'a>,
}

impl Bench<'_> {
    fn answer(&self, job: Option<&Job>) -> Answer {
        let mut answer = Answer { fate: Fate::Done, changed: Vec::new(), rows: Vec::new(), bytes: 0 };
        let Some(job) = job else {
            return answer;
        };
        // one job that meets a fault of the program must not take the others with it
        let done = catch_unwind(AssertUnwindSafe(|| self.reduced(job, &mut answer)));
        answer.fate = match done {
            Ok(Ok(fate)) => fate,
            Ok(Err(fail)) => Fate::Failed(fail.words(false).unwrap_or_default()),
            Err(_) => Fate::Failed(
                "error: this job met a fault of the program, not of the input; the others are not affected"
                    .into(),
            ),
        };
        answer
    }

    fn reduced(&self, job: &Job, answer: &mut Answer) -> Result<Fate, Fail> {
        let language = self.a.language.tag();
        let text = files::text(&job.path)?;
        let mut inputs = vec![Input::of(Kind::Job, &job.name, text.as_bytes())];
        inputs.extend(self.declared.iter().cloned());
        if let (Some(folder), false) = (self.folder, self.a.force) {
            match folder.kept(job, &Wanted { program: PROGRAM, language, fixed: &inputs })? {
                Kept::No => {}
                Kept::Changed(what) => answer.changed = what,
                Kept::Yes(done) => {
                    answer.bytes = done.inputs.files.iter().map(|f| f.bytes).sum();
                    answer.rows = done.rows;
                    return Ok(Fate::Kept);
                }
            }
        }
        let mut parsed = parsed(&job.path, &text)?;
        let mut read = |log: &str| {
            let bytes = files::beside(&job.path, log).and_then(|p| files::read(&p))?;
            inputs.push(Input::of(Kind::Log, log, &bytes));
            Ok(bytes)
        };
        // the same results wherever the archive lies
        let mut model = made(&parsed, &text, self.catalogue, &mut read, &mut |_, _| {})?;
        model.job.clone_from(&job.name);
        parsed.file.clone_from(&job.name);
        answer.bytes = inputs.iter().map(|f| f.bytes).sum();
        let inputs = Inputs { program: PROGRAM.into(), files: inputs };
        let rows = Row::of(&parsed, &model, &inputs.fingerprint());
        if let Some(folder) = self.folder {
            let written = Written::of(&model, self.a.language)?;
            let done = Finished::new(&job.name, inputs, language, &written.files(), rows.clone());
            if let Err(e) = folder.commit(job, &written.files(), &done) {
                return Ok(Fate::Ended(e));
            }
        }
        answer.rows = rows;
        Ok(Fate::Done)
    }
}

/// Where the answers go.
struct Desk<'a> {
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
    fn new(a: &'a Reduce, jobs: &'a [Job], folder: Option<&'a Folder>) -> Self {
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
        // nothing is left to do when standard error is closed
        let _ = writeln!(std::io::stderr().lock(), "{text}");
    }

    fn failed(&mut self, message: String, job: String) {
        let head = if job.is_empty() { String::new() } else { format!("refused: {job}\n") };
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
            self.told = text.and_then(|t| out::line(&t));
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
    fn end(mut self) -> Result<(), Fail> {
        self.pace.clear();
        if let Some(e) = self.ended {
            let kept = self.done + self.kept;
            return Err(Fail::plain(format!(
                "{e}; {kept} of {} jobs are finished and kept: mend the cause and run the same command again",
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
        if !self.failures.is_empty() {
            summary += &format!("; {} refused", self.failures.len());
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
        Ok(format!("\nWritten to {}: {table}{FAILURES}, {JOBS}/", dir.display()))
    }
}
