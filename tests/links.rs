//! Every relative link in the pages of the repository leads somewhere.
#![allow(clippy::unwrap_used)]

use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn pages(folder: &Path) -> Vec<PathBuf> {
    let mut found: Vec<PathBuf> = std::fs::read_dir(folder)
        .unwrap()
        .map(|f| f.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "md"))
        .collect();
    found.sort();
    found
}

/// Targets of `](target)` with the line they stand on; code blocks hold no links.
fn targets(text: &str) -> Vec<(usize, &str)> {
    let mut found = Vec::new();
    let mut code = false;
    for (i, line) in text.lines().enumerate() {
        if line.trim_start().starts_with("```") {
            code = !code;
        } else if !code {
            let parts = line.split("](").skip(1).filter_map(|rest| rest.split_once(')'));
            found.extend(parts.map(|(target, _)| (i + 1, target)));
        }
    }
    found
}

/// The anchor that a heading gets: lower case, punctuation dropped, blanks to hyphens.
fn anchor(heading: &str) -> String {
    let words = heading.trim_start_matches('#').trim().to_lowercase();
    words
        .chars()
        .filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'))
        .map(|c| if c == ' ' { '-' } else { c })
        .collect()
}

fn broken(page: &Path) -> Vec<String> {
    let text = std::fs::read_to_string(page).unwrap();
    let mut bad = Vec::new();
    for (line, target) in targets(&text) {
        if target.contains("://") || target.starts_with("mailto:") {
            continue;
        }
        let (file, mark) = target.split_once('#').map_or((target, None), |(f, m)| (f, Some(m)));
        let path = if file.is_empty() { page.to_path_buf() } else { page.parent().unwrap().join(file) };
        let known = |m: &str| {
            let there = std::fs::read_to_string(&path).unwrap_or_default();
            there.lines().any(|l| l.starts_with('#') && anchor(l) == m)
        };
        if !path.exists() || mark.is_some_and(|m| !known(m)) {
            bad.push(format!("{}:{line}: {target}", page.display()));
        }
    }
    bad
}

#[test]
fn every_relative_link_resolves() {
    let root = root();
    let mut all = pages(&root);
    all.extend(pages(&root.join("docs")));
    all.extend(pages(&root.join("docs/standards")));
    let counted: usize = all.iter().map(|p| targets(&std::fs::read_to_string(p).unwrap()).len()).sum();
    assert!(counted > 30, "only {counted} links found");
    let bad: Vec<String> = all.iter().flat_map(|p| broken(p)).collect();
    assert!(bad.is_empty(), "links that lead nowhere:\n{}", bad.join("\n"));
}

#[test]
fn a_link_that_leads_nowhere_is_found() {
    let page = std::env::temp_dir().join(format!("fairpull-links-{}.md", std::process::id()));
    std::fs::write(&page, "# A heading\n[here](#a-heading) [gone](no-such-file.md) [lost](#nothing)\n")
        .unwrap();
    let bad = broken(&page);
    std::fs::remove_file(&page).unwrap();
    assert_eq!(bad.len(), 2, "{bad:?}");
}
