//! `fairpull reduce`: the main job.

use std::path::{Path, PathBuf};

use fairpull::core::Catalogue;
use fairpull::reduction::{Job, Source, reduce};
use fairpull::report::{self, Language, ResultModel};

use crate::args::Reduce;
use crate::catalogue::with_declared;
use crate::fail::Fail;
use crate::progress::Progress;
use crate::{archive, files, out};

/// Files of a report.
const FILES: [&str; 4] = ["report.html", "result.json", "curves.csv", "gains.csv"];

pub fn run(a: &Reduce) -> Result<(), Fail> {
    match a.jobs.as_slice() {
        [job] if !job.is_dir() => one(a, job),
        _ => archive::run(a),
    }
}

/// One job: its report, its summary.
fn one(a: &Reduce, path: &Path) -> Result<(), Fail> {
    let text = files::text(path)?;
    let job = parsed(path, &out::name(path), &text)?;
    let dir = a.out.clone().unwrap_or_else(|| path.parent().unwrap_or_else(|| Path::new("")).join("report"));
    if !a.dry_run {
        files::prepare(&dir, &FILES, a.force, "another folder with --out")?;
    }
    let mut progress = Progress::new();
    let mut read = Vec::new();
    let model = with_declared(&a.declared, |c| {
        made(
            &job,
            &text,
            c,
            &mut |log| {
                let log = files::beside(path, log)?;
                let (file, size) = files::open(&log)?;
                read.push((log, size));
                Ok(file)
            },
            &mut |n, of| {
                progress.step(n, of);
            },
        )
    })?;
    progress.finish();
    for (log, size) in read {
        files::unchanged(&log, size).map_err(|why| Fail::plain(format!("{}: {why}", out::name(&log))))?;
    }
    let written = Written::of(&model, a.language)?;
    if !a.dry_run {
        files::write(&dir, &written.files())?;
    }
    if a.json {
        return out::data_line(&written.json);
    }
    out::styled(|colour| {
        let mut summary = report::summary_text_in(&model, 100, colour, a.language);
        if !a.dry_run {
            summary += &format!("\nWritten to {}: {}\n", out::name(&dir), FILES.join(", "));
        }
        summary
    })
}

/// A job whose logs are all there.
pub fn parsed(path: &Path, shown: &str, text: &str) -> Result<Job, Fail> {
    let job = Job::parse(text, shown).map_err(|e| Fail::Job(Box::new(e), text.into()))?;
    for log in job.states.iter().flat_map(|s| &s.logs) {
        if log.skip.is_none() {
            files::beside(path, &log.file)
                .and_then(|p: PathBuf| files::open(&p))
                .map_err(|why| Fail::log(text, shown, log.span.clone(), &why))?;
        }
    }
    Ok(job)
}

/// The result of a job.
pub fn made<S: Into<Source>>(
    job: &Job,
    text: &str,
    catalogue: &Catalogue<'_>,
    read: &mut dyn FnMut(&str) -> Result<S, String>,
    step: &mut dyn FnMut(usize, usize),
) -> Result<ResultModel, Fail> {
    let outcome = reduce(job, catalogue, read, &mut |done, total| {
        step(done, total);
        true
    })
    .map_err(|e| Fail::reduction(e, text, &job.file))?;
    Ok(fairpull::present(job, &outcome, catalogue))
}

/// The files of a report.
pub struct Written {
    json: String,
    page: String,
    curves: String,
    gains: String,
}

impl Written {
    /// Of a result whose figures are all numbers.
    pub fn of(model: &ResultModel, language: Language) -> Result<Self, Fail> {
        Ok(Self {
            json: report::to_json(model).map_err(|e| Fail::plain(e.to_string()))?,
            page: report::to_html_in(model, language),
            curves: report::curves_csv(model),
            gains: report::gains_csv(model),
        })
    }

    /// Names and contents.
    pub fn files(&self) -> [(&str, &[u8]); 4] {
        let [page, json, curves, gains] = FILES;
        [
            (page, self.page.as_bytes()),
            (json, self.json.as_bytes()),
            (curves, self.curves.as_bytes()),
            (gains, self.gains.as_bytes()),
        ]
    }
}
