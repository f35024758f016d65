//! `fairpull catalogue`, and the catalogue with standards written as data.

use std::path::PathBuf;

use fairpull::core::{Catalogue as Plugins, CorrectionStandard};
use fairpull::report::escape::clean_line;

use crate::args::Catalogue;
use crate::fail::Fail;
use crate::{files, out, table};

/// Runs with the built-in plug-ins and those of the declaration files.
pub fn with_declared<T>(
    paths: &[PathBuf],
    run: impl FnOnce(&Plugins<'_>) -> Result<T, Fail>,
) -> Result<T, Fail> {
    let built = fairpull::builtin();
    let mut own = Vec::new();
    for path in paths {
        let text = files::text(path)?;
        let name = out::name(path);
        let json = path.extension().is_some_and(|e| e.eq_ignore_ascii_case("json"));
        let read = if json { fairpull::declared::parse_json } else { fairpull::declared::parse_toml };
        own.push(read(&text, &name).map_err(|e| Fail::plain(e.to_string()))?);
    }
    let mut standards: Vec<&dyn CorrectionStandard> = built.standards().to_vec();
    standards.extend(own.iter().map(|d| d as &dyn CorrectionStandard));
    let all =
        Plugins::new(&standards, built.losses(), built.knocks()).map_err(|e| Fail::plain(e.to_string()))?;
    run(&all)
}

pub fn run(a: &Catalogue) -> Result<(), Fail> {
    with_declared(&a.declared, |c| match &a.id {
        Some(id) => one(c, id, a.json),
        None => all(c, a.json),
    })
}

fn all(c: &Plugins<'_>, json: bool) -> Result<(), Fail> {
    let entries = fairpull::catalogue(c);
    if json {
        return out::json(&entries);
    }
    let mut text = String::new();
    for (family, heading) in
        [("standard", "Correction standards"), ("loss", "Loss models"), ("knock", "Knock-margin models")]
    {
        let rows: Vec<Vec<String>> = entries
            .iter()
            .filter(|e| e.family == family)
            .map(|e| {
                let about = if family == "standard" {
                    format!("{}; {}", e.applies, e.reference)
                } else {
                    e.reference.clone()
                };
                vec![e.id.clone(), e.title.clone(), format!("{}; {about}; {}", e.status, e.reading)]
            })
            .collect();
        text += &format!(
            "{heading}\n\n{}\n",
            table::table(&["Id", "Designation", "Standing, scope, reading"], &rows)
        );
    }
    text += "fairpull catalogue ID shows the whole card: formula, ranges, sources, gaps.\n";
    out::text(&text)
}

fn one(c: &Plugins<'_>, id: &str, json: bool) -> Result<(), Fail> {
    let card = fairpull::card(c, id).map_err(|e| Fail::plain(e.to_string()))?;
    if json {
        return out::json(&card);
    }
    let mut text = format!("{} ({})\n\n", clean_line(&card.title), card.id);
    let mut rows = vec![vec!["formula".to_owned(), card.formula.clone()]];
    rows.extend(card.facts.iter().map(|(a, b)| vec![a.clone(), b.clone()]));
    text += &table::table(&["", ""], &rows);
    let sources: Vec<Vec<String>> =
        card.sources.iter().map(|(a, b, r)| vec![a.clone(), format!("{b}: {r}")]).collect();
    text += &format!("\n{}", table::table(&["What", "Source and grade of reading"], &sources));
    if !card.gaps.is_empty() {
        text += "\nNot established\n";
        for g in &card.gaps {
            for (i, l) in table::wrap(g, 100).iter().enumerate() {
                text += if i == 0 { "- " } else { "  " };
                text += l;
                text.push('\n');
            }
        }
    }
    out::text(&text)
}
