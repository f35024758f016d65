//! docs/dependencies.md: a reason for each direct dependency, and what each published crate brings along.

use crate::step::{Failure, Plan};
use crate::supply::{APART, manifests, packages, text};
use std::collections::BTreeMap;
use std::path::Path;

const PAGE: &str = "docs/dependencies.md";
const BEGIN: &str = "<!-- brought along: written by cargo xtask supply --write -->";
const END: &str = "<!-- end -->";

/// Compares the page with the manifests; writes its table where `write` says so.
pub fn page(plan: &Plan, write: bool, wrong: &mut Vec<String>) -> Result<(), Failure> {
    let path = plan.root.join(PAGE);
    let page = text(&path)?;
    for name in direct(&plan.root)? {
        if !page.contains(&format!("| `{name}` |")) {
            wrong.push(format!("{PAGE}: add a line for {name}, a direct dependency, with its reason"));
        }
    }
    idle(&plan.root, wrong)?;
    let table = table(plan)?;
    let parts = page.split_once(BEGIN).and_then(|(head, rest)| Some((head, rest.split_once(END)?)));
    let Some((head, (old, tail))) = parts else {
        wrong.push(format!("{PAGE}: the lines {BEGIN} and {END} are missing"));
        return Ok(());
    };
    if old == table {
        return Ok(());
    }
    if !write {
        wrong.push(format!("{PAGE}: what crates bring along has changed: cargo xtask supply --write"));
        return Ok(());
    }
    let whole = format!("{head}{BEGIN}{table}{END}{tail}");
    std::fs::write(&path, whole)
        .map_err(|e| Failure::new(format!("{}: {e}", path.display()), "cargo xtask supply --write"))
}

/// Names of the packages that our manifests ask for themselves.
fn direct(root: &Path) -> Result<Vec<String>, Failure> {
    let mut names = table_names(&text(&root.join("Cargo.toml"))?, &["[workspace.dependencies]"]);
    names.extend(table_names(&text(&root.join("tests/fuzz/Cargo.toml"))?, &["[dependencies]"]));
    let apart = text(&root.join(APART).join("Cargo.toml"))?;
    names.extend(table_names(&apart, &["[dependencies]", "[dev-dependencies]"]));
    let npm = text(&root.join("wasm/package.json"))?;
    let listed = npm.split_once("\"devDependencies\": {").and_then(|(_, rest)| rest.split_once('}'));
    let listed = listed.map_or("", |(inside, _)| inside);
    names.extend(
        listed.lines().filter_map(|l| l.trim().strip_prefix('"')?.split('"').next().map(String::from)),
    );
    Ok(names)
}

/// Names of the lines of these tables that are not our own folders.
fn table_names(manifest: &str, tables: &[&str]) -> Vec<String> {
    let mut names = Vec::new();
    let mut inside = false;
    for line in manifest.lines() {
        if line.starts_with('[') {
            inside = tables.contains(&line);
        }
        let Some((name, what)) = line.split_once(" = ") else { continue };
        if inside && !what.contains("path = ") && !name.starts_with('#') {
            names.push(name.to_owned());
        }
    }
    names
}

/// Packages that the workspace names and no member asks for.
fn idle(root: &Path, wrong: &mut Vec<String>) -> Result<(), Failure> {
    let mut all = String::new();
    for path in manifests(root)? {
        all += &text(&path)?;
    }
    for name in table_names(&text(&root.join("Cargo.toml"))?, &["[workspace.dependencies]"]) {
        let asked = all
            .lines()
            .any(|l| l.strip_prefix(&name).is_some_and(|r| r.starts_with('.') || r.starts_with(" =")));
        if !asked {
            wrong.push(format!("Cargo.toml: no member asks for {name}, take it out"));
        }
    }
    Ok(())
}

/// Names of the crates that go to the registry.
pub fn published(root: &Path) -> Result<Vec<String>, Failure> {
    let mut names = Vec::new();
    for path in manifests(root)? {
        let manifest = text(&path)?;
        if !manifest.lines().any(|l| l == "publish = false") {
            let name = manifest.lines().find_map(|l| l.strip_prefix("name = "));
            names.extend(name.map(|n| n.trim_matches('"').to_owned()));
        }
    }
    Ok(names)
}

/// One row for all crates that bring the same along, fewest first.
fn table(plan: &Plan) -> Result<String, Failure> {
    let mut rows: BTreeMap<(usize, String), Vec<String>> = BTreeMap::new();
    for name in published(&plan.root)? {
        let found = packages(plan, &["-p", &name, "-e", "normal"])?;
        let names: Vec<&str> = found.keys().map(|(name, _)| name.as_str()).collect();
        rows.entry((names.len(), names.join(", "))).or_default().push(name);
    }
    let mut out = String::from("\n\n| crates | packages | which |\n|---|---|---|\n");
    for ((count, which), crates) in rows {
        out += &format!("| {} | {count} | {which} |\n", crates.join(", "));
    }
    out.push('\n');
    Ok(out)
}
