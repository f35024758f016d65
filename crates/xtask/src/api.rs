//! docs/api: the public items of each published library, so that a change of them shows in review.

use crate::dependencies::published;
use crate::step::{Failure, Plan, cargo, execute};
use crate::supply::text;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode};

const AGAIN: &str = "cargo xtask api";
const REAL: &str = "FAIRPULL_XTASK_RUSTDOC";

/// rustdoc writes JSON only when it is told to take unstable options. Set for cargo as a whole that would build every
/// dependency again; so cargo is given this program as its rustdoc, which sets it for rustdoc alone.
pub fn as_rustdoc() -> Option<ExitCode> {
    let real = std::env::var_os(REAL)?;
    let status = Command::new(real).args(std::env::args_os().skip(1)).env("RUSTC_BOOTSTRAP", "1").status();
    let good = status.is_ok_and(|s| s.success());
    Some(if good { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

/// Lists every library and compares with docs/api, or writes it.
pub fn check(plan: &mut Plan, write: bool) -> Result<(), Failure> {
    let names: Vec<String> = published(&plan.root)?
        .into_iter()
        .filter(|n| plan.root.join("crates").join(n).join("src/lib.rs").exists())
        .collect();
    let mut words = vec!["doc", "--quiet", "--locked", "--no-deps", "--lib"];
    words.extend(names.iter().flat_map(|n| ["--package", n.as_str()]));
    let mut doc = cargo(plan, &words);
    let failed = |e: std::io::Error| Failure::new(format!("api: {e}"), AGAIN);
    doc.env(REAL, std::env::var_os("RUSTDOC").unwrap_or_else(|| "rustdoc".into()));
    doc.env("RUSTDOC", std::env::current_exe().map_err(failed)?);
    doc.env("RUSTDOCFLAGS", "-Z unstable-options --output-format json");
    plan.step("public items", |p| {
        execute(doc)?;
        let out = p.target().join("api");
        std::fs::create_dir_all(&out).map_err(failed)?;
        let mut list = cargo(p, &["run", "--quiet", "--locked", "--package", "xtask-api", "--"]);
        list.arg(&out);
        list.args(names.iter().map(|n| p.target().join("doc").join(format!("{}.json", n.replace('-', "_")))));
        execute(list)?;
        compare(&p.root, &out, &names, write)
    })
}

fn compare(root: &Path, out: &Path, names: &[String], write: bool) -> Result<(), Failure> {
    let folder = root.join("docs/api");
    let mut changed = Vec::new();
    for name in names {
        let now = text(&out.join(format!("{}.txt", name.replace('-', "_"))))?;
        let path = folder.join(format!("{name}.txt"));
        let then = std::fs::read_to_string(&path).unwrap_or_default();
        if now != then {
            if !then.is_empty() {
                show(name, &then, &now);
            }
            changed.push((path, now));
        }
    }
    let strays = strays(&folder, names)?;
    if write {
        let failed = |e: std::io::Error| Failure::new(format!("docs/api: {e}"), "cargo xtask api --write");
        std::fs::create_dir_all(&folder).map_err(failed)?;
        for (path, now) in changed {
            std::fs::write(path, now).map_err(failed)?;
        }
        return strays.into_iter().try_for_each(|p| std::fs::remove_file(p).map_err(failed));
    }
    if changed.is_empty() && strays.is_empty() {
        return Ok(());
    }
    let what = "the public items differ from docs/api; if that is meant, `cargo xtask api --write`, and say so in docs/CHANGELOG.md";
    Err(Failure::new(what, AGAIN))
}

/// Listings of crates that there are no longer.
fn strays(folder: &Path, names: &[String]) -> Result<Vec<PathBuf>, Failure> {
    let Ok(listed) = std::fs::read_dir(folder) else { return Ok(Vec::new()) };
    let paths = listed.flatten().map(|e| e.path());
    let stray = |p: &PathBuf| p.file_stem().is_none_or(|s| !names.iter().any(|n| s == n.as_str()));
    Ok(paths.filter(stray).collect())
}

fn show(name: &str, then: &str, now: &str) {
    let (a, b): (BTreeSet<&str>, BTreeSet<&str>) = (then.lines().collect(), now.lines().collect());
    println!("   {name}:");
    a.difference(&b).for_each(|l| println!("   - {l}"));
    b.difference(&a).for_each(|l| println!("   + {l}"));
}
