//! `fairpull reduce` of many jobs into one folder of results.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};

use fairpull::core::Catalogue;
use fairpull::reduction::{ReduceError, Source};
use fairpull_archive::{
    Finished, Folder, Gate, Input, Inputs, Job, Kept, Kind, Reading, Row, Wanted, find, run as work,
};

use crate::archive_desk::{Answer, Desk, Fate};
use crate::args::Reduce;
use crate::catalogue::with_declared;
use crate::fail::Fail;
use crate::files;
use crate::reduce::{Written, made, parsed};

/// Logs in work at the same time, bytes: what is kept of them can take twice as much memory.
const IN_WORK: u64 = 256 << 20;
/// Program and version: part of every fingerprint.
const PROGRAM: &str = concat!("fairpull ", env!("CARGO_PKG_VERSION"));

pub fn run(a: &Reduce) -> Result<(), Fail> {
    if a.out.is_none() && !a.dry_run {
        let what = match a.jobs.as_slice() {
            [folder] => format!("{}: this is a folder of jobs", folder.display()),
            many => format!("{} jobs or folders of them", many.len()),
        };
        return Err(Fail::Usage(format!("{what}; say where the results go with --out DIR")));
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
        let bench =
            Bench { a, folder: folder.as_ref(), declared: &declared, catalogue, gate: Gate::new(IN_WORK) };
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
    gate: Gate,
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
        // named by its place in the archive: the listing is the same wherever the archive lies
        let text = files::text_shown(&job.path, &job.name)?;
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
        let parsed = parsed(&job.path, &job.name, &text)?;
        let logs = parsed.states.iter().flat_map(|s| &s.logs).filter(|l| l.skip.is_none());
        let sizes = logs.filter_map(|l| files::beside(&job.path, &l.file).ok()?.metadata().ok());
        let _pass = self.gate.pass(sizes.map(|m| m.len()).sum());
        let mut logs = Logs::default();
        let mut read = |log: &str| logs.open(&job.path, log);
        // the same results wherever the archive lies
        let made = made(&parsed, &text, self.catalogue, &mut read, &mut |_, _| {});
        inputs.append(&mut logs.all().map_err(|e| Fail::reduction(e, &text, &parsed.file))?);
        let mut model = made?;
        model.job.clone_from(&job.name);
        answer.bytes = inputs.iter().map(|f| f.bytes).sum();
        let inputs = Inputs { program: PROGRAM.into(), files: inputs };
        let rows = Row::of(&parsed, &model, &inputs.fingerprint());
        if let Some(folder) = self.folder {
            let written = Written::of(&model, self.a.language)?;
            let done = Finished::new(&job.name, inputs, language, &written.files(), rows.clone());
            if let Err(e) = folder.commit(job, &written.files(), &done) {
                return if e.is_of_one_job() { Err(e.into()) } else { Ok(Fate::Ended(e)) };
            }
        }
        answer.rows = rows;
        Ok(Fate::Done)
    }
}

/// The logs of a job, one open at a time.
#[derive(Default)]
struct Logs {
    open: Option<(String, PathBuf, u64, Reading)>,
    read: Vec<Input>,
    /// The first that is not as it was when it was opened.
    changed: Option<ReduceError>,
}

impl Logs {
    fn open(&mut self, job: &Path, log: &str) -> Result<Source, String> {
        self.close();
        let path = files::beside(job, log)?;
        let (file, size) = files::open(&path)?;
        let reading = Reading::new(file);
        self.open = Some((log.into(), path, size, reading.clone()));
        Ok(Source::new(reading))
    }

    fn close(&mut self) {
        let Some((name, path, size, reading)) = self.open.take() else { return };
        let input = reading.input(&name).map_err(|e| e.to_string()).and_then(|input| {
            files::unchanged(&path, size)?;
            files::unchanged(&path, input.bytes)?;
            Ok(input)
        });
        match input {
            Ok(input) => self.read.push(input),
            Err(problem) => {
                self.changed.get_or_insert(ReduceError::File { file: name, problem });
            }
        }
    }

    /// What was read, unless it changed on the way: that explains whatever else went wrong.
    fn all(mut self) -> Result<Vec<Input>, ReduceError> {
        self.close();
        self.changed.map_or(Ok(self.read), Err)
    }
}
