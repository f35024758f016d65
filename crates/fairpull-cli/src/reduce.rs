//! `fairpull reduce`: the main job.

use fairpull::reduction::{Job, reduce};
use fairpull::report;

use crate::args::Reduce;
use crate::catalogue::with_declared;
use crate::fail::Fail;
use crate::progress::Progress;
use crate::{files, out};

/// Files of a report.
const FILES: [&str; 4] = ["report.html", "result.json", "curves.csv", "gains.csv"];

pub fn run(a: &Reduce) -> Result<(), Fail> {
    let name = a.job.display().to_string();
    let text = files::text(&a.job)?;
    let job = Job::parse(&text, &name).map_err(|e| Fail::Job(Box::new(e), text.clone()))?;
    for log in job.states.iter().flat_map(|s| &s.logs) {
        if log.skip.is_none() {
            files::beside(&a.job, &log.file).and_then(|p| files::usable(&p)).map_err(|why| {
                let (problem, mend) = why.split_once(": ").unwrap_or((&why, ""));
                Fail::at(&text, &name, log.span.clone(), "state.log.file", problem, mend)
            })?;
        }
    }
    let dir = a
        .out
        .clone()
        .unwrap_or_else(|| a.job.parent().unwrap_or_else(|| std::path::Path::new("")).join("report"));
    if !a.dry_run {
        files::prepare(&dir, &FILES, a.force)?;
    }
    let mut progress = Progress::new();
    let model = with_declared(&a.declared, |c| {
        let outcome = reduce(
            &job,
            c,
            &mut |log| files::beside(&a.job, log).and_then(|p| files::read(&p)),
            &mut |done, total| {
                progress.step(done, total);
                true
            },
        )
        .map_err(|e| Fail::reduction(e, &text))?;
        Ok(fairpull::present(&job, &outcome, c))
    })?;
    progress.finish();
    let json = report::to_json(&model).map_err(|e| Fail::plain(e.to_string()))?;
    if !a.dry_run {
        let (page, curves, gains) =
            (report::to_html_in(&model, a.language), report::curves_csv(&model), report::gains_csv(&model));
        let [html_name, json_name, curves_name, gains_name] = FILES;
        files::write(
            &dir,
            &[
                (html_name, page.as_bytes()),
                (json_name, json.as_bytes()),
                (curves_name, curves.as_bytes()),
                (gains_name, gains.as_bytes()),
            ],
        )?;
    }
    if a.json {
        return out::line(&json);
    }
    let mut summary = report::summary_text_in(&model, 100, out::colour(), a.language);
    if !a.dry_run {
        summary += &format!("\nWritten to {}: {}\n", dir.display(), FILES.join(", "));
    }
    out::bytes(summary.as_bytes())
}
