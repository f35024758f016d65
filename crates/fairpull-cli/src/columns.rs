//! `fairpull columns`.

use crate::args::Columns;
use crate::fail::Fail;
use crate::{files, out, table};

pub fn run(a: &Columns) -> Result<(), Fail> {
    let name = out::name(&a.log);
    let bytes = files::read(&a.log).map_err(|e| Fail::plain(format!("{name}: {e}")))?;
    let answer = fairpull::columns(&bytes, &name).map_err(|e| Fail::plain(e.to_string()))?;
    if a.json {
        return out::json(&answer);
    }
    let rows: Vec<Vec<String>> = answer
        .columns
        .iter()
        .map(|c| {
            vec![
                c.name.clone(),
                c.unit.clone().unwrap_or_default(),
                c.role.clone().unwrap_or_else(|| "-".into()),
                c.confidence.clone(),
                c.samples.join("  "),
                c.why.clone(),
            ]
        })
        .collect();
    let text = format!(
        "{}: {}\n\n{}\nFor the job file, after checking every line:\n\n{}",
        answer.file,
        answer.format,
        table::table(&["Column", "Unit", "Role", "Sure", "First cells", "Why"], &rows),
        answer.toml
    );
    out::text(&text)
}
