//! What the project takes from elsewhere: licences, versions that stand twice, where packages come from, the oldest
//! compiler, and the page that gives a reason for each direct dependency. The lists stand in `supply.txt`.

use crate::licence::allows;
use crate::step::{Failure, Plan, cargo, output};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

const AGAIN: &str = "cargo xtask supply";
/// A workspace of its own with a lock file of its own: the engine that it serves decides what stands in it twice.
pub const APART: &str = "crates/fairpull-datafusion";
const REGISTRY: &str = "registry+https://github.com/rust-lang/crates.io-index";

/// Every check; the list of what a published crate brings along is written again where `write` says so.
pub fn check(plan: &mut Plan, write: bool) -> Result<(), Failure> {
    plan.step("supply", |p| {
        let lists = Lists::read(&p.root)?;
        let mut wrong = Vec::new();
        compiler(&p.root, &mut wrong)?;
        let packages = packages(p, &["--workspace", "-e", "normal,build,dev"])?;
        let manifest = format!("{APART}/Cargo.toml");
        let mut all = self::packages(p, &["--manifest-path", &manifest, "-e", "normal,build,dev"])?;
        all.extend(packages.clone());
        licences(&all, &lists, &mut wrong);
        twice(&packages, &lists, &mut wrong);
        sources(&p.root, "Cargo.lock", &mut wrong)?;
        sources(&p.root, &format!("{APART}/Cargo.lock"), &mut wrong)?;
        npm(&p.root, &lists, &mut wrong)?;
        crate::dependencies::page(p, write, &mut wrong)?;
        if wrong.is_empty() {
            println!("   {} packages: licences, versions and sources as listed", all.len());
            return Ok(());
        }
        Err(Failure::new(wrong.join("\n        "), AGAIN))
    })
}

/// A file as text, or why not.
pub fn text(path: &Path) -> Result<String, Failure> {
    std::fs::read_to_string(path).map_err(|e| Failure::new(format!("{}: {e}", path.display()), AGAIN))
}

/// The manifests of the workspace's members: what has no workspace of its own.
pub fn manifests(root: &Path) -> Result<Vec<PathBuf>, Failure> {
    let mut all = vec![root.join("wasm/Cargo.toml"), root.join("tests/Cargo.toml")];
    for folder in ["crates", "tests"] {
        let listed = std::fs::read_dir(root.join(folder));
        let listed = listed.map_err(|e| Failure::new(format!("{folder}: {e}"), "git status"))?;
        for path in listed.flatten().map(|e| e.path().join("Cargo.toml")).filter(|p| p.exists()) {
            if !text(&path)?.lines().any(|l| l == "[workspace]") {
                all.push(path);
            }
        }
    }
    all.sort();
    Ok(all)
}

/// Packages from elsewhere: name and version, with the licence; `of` says what cargo is to look at.
pub fn packages(plan: &Plan, of: &[&str]) -> Result<BTreeMap<(String, String), String>, Failure> {
    let mut words = vec!["tree", "--locked", "--target", "all", "--prefix", "none", "-f", "{p}|{l}"];
    words.extend(of);
    let out = cargo(plan, &words).output().map_err(|e| Failure::new(format!("cargo tree: {e}"), AGAIN))?;
    if !out.status.success() {
        return Err(Failure::new(String::from_utf8_lossy(&out.stderr).into_owned(), AGAIN));
    }
    let mut found = BTreeMap::new();
    for line in String::from_utf8_lossy(&out.stdout).lines() {
        let Some((package, licence)) = line.trim_end_matches(" (*)").split_once('|') else { continue };
        let mut words = package.split(' ');
        let (name, version) = (words.next().unwrap_or(""), words.next().unwrap_or(""));
        // our own stand with their folder
        if !package.contains(" (/") && !package.contains(":\\") {
            found.insert((name.into(), version.trim_start_matches('v').into()), licence.into());
        }
    }
    Ok(found)
}

struct Lists {
    licences: Vec<String>,
    npm: Vec<String>,
    twice: BTreeMap<String, String>,
}

impl Lists {
    fn read(root: &Path) -> Result<Self, Failure> {
        let mut lists = Self { licences: Vec::new(), npm: Vec::new(), twice: BTreeMap::new() };
        let path = root.join("crates/xtask/supply.txt");
        for (n, line) in text(&path)?.lines().enumerate() {
            let line = line.trim();
            match line.split_once(' ') {
                Some(("#", _)) => {}
                Some(("licence", id)) => lists.licences.push(id.into()),
                Some(("npm", id)) => lists.npm.push(id.into()),
                Some(("twice", rest)) if rest.contains(": ") => {
                    let (name, why) = rest.split_once(": ").unwrap_or((rest, ""));
                    lists.twice.insert(name.into(), why.into());
                }
                None if line.is_empty() => {}
                _ => {
                    let what = format!("{}:{}: {line:?} is no line of this list", path.display(), n + 1);
                    return Err(Failure::new(what, AGAIN));
                }
            }
        }
        Ok(lists)
    }
}

/// `rust-version` stands in every manifest, and this compiler is at least that.
fn compiler(root: &Path, wrong: &mut Vec<String>) -> Result<(), Failure> {
    let top = text(&root.join("Cargo.toml"))?;
    let asked = top.lines().find_map(|l| l.strip_prefix("rust-version = ")).unwrap_or("").trim_matches('"');
    for path in manifests(root)? {
        if !text(&path)?.lines().any(|l| l == "rust-version.workspace = true") {
            wrong.push(format!("{}: add rust-version.workspace = true", path.display()));
        }
    }
    let have = output("cargo", &["--version"]).unwrap_or_default();
    let have = have.split(' ').nth(1).unwrap_or("");
    if asked.is_empty() || numbers(have) < numbers(asked) {
        wrong.push(format!("cargo {have} is older than the {asked} that Cargo.toml asks for: rustup update"));
    }
    Ok(())
}

fn numbers(version: &str) -> Vec<u32> {
    version.split(['.', '-']).map_while(|n| n.parse().ok()).collect()
}

fn licences(packages: &BTreeMap<(String, String), String>, lists: &Lists, wrong: &mut Vec<String>) {
    let mut used = BTreeSet::new();
    for ((name, version), licence) in packages {
        match allows(licence, &lists.licences) {
            Some(ids) => used.extend(ids),
            None => wrong.push(format!(
                "{name} {version} is under {licence:?}, which crates/xtask/supply.txt does not let through"
            )),
        }
    }
    let idle = lists.licences.iter().filter(|id| !used.contains(*id));
    wrong.extend(idle.map(|id| format!("crates/xtask/supply.txt: nothing needs `licence {id}`")));
}

fn twice(packages: &BTreeMap<(String, String), String>, lists: &Lists, wrong: &mut Vec<String>) {
    let mut versions: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for (name, version) in packages.keys() {
        versions.entry(name).or_default().push(version);
    }
    versions.retain(|_, v| v.len() > 1);
    for (name, v) in &versions {
        if !lists.twice.contains_key(*name) {
            wrong.push(format!(
                "{name} stands in versions {}: make them one, or give the reason in crates/xtask/supply.txt",
                v.join(" and ")
            ));
        }
    }
    let idle = lists.twice.keys().filter(|name| !versions.contains_key(name.as_str()));
    wrong.extend(
        idle.map(|name| format!("crates/xtask/supply.txt: {name} stands once now, take the line out")),
    );
}

/// Every package of the lock file is our own or from the registry, with its checksum.
fn sources(root: &Path, lock: &str, wrong: &mut Vec<String>) -> Result<(), Failure> {
    for block in text(&root.join(lock))?.split("[[package]]").skip(1) {
        let field = |key: &str| {
            let line = block.lines().find_map(|l| l.strip_prefix(key)?.strip_prefix(" = "));
            line.map(|v| v.trim_matches('"').to_owned())
        };
        let name = field("name").unwrap_or_default();
        match field("source") {
            None => {}
            Some(s) if s == REGISTRY && field("checksum").is_some_and(|c| c.len() == 64) => {}
            Some(s) => wrong.push(format!("{lock}: {name} comes from {s}, or has no checksum")),
        }
    }
    Ok(())
}

/// Licences of the npm lock file, and nothing in the package that is not for development only.
fn npm(root: &Path, lists: &Lists, wrong: &mut Vec<String>) -> Result<(), Failure> {
    let lock = text(&root.join("wasm/package-lock.json"))?;
    let mut used = BTreeSet::new();
    for line in lock.lines() {
        let Some(licence) = line.trim().strip_prefix("\"license\": \"") else { continue };
        let licence = licence.trim_end_matches(',').trim_end_matches('"');
        match allows(licence, &lists.npm) {
            Some(ids) => used.extend(ids),
            None => {
                wrong.push(format!("wasm/package-lock.json: {licence:?} is not in crates/xtask/supply.txt"))
            }
        }
    }
    let idle = lists.npm.iter().filter(|id| !used.contains(*id));
    wrong.extend(idle.map(|id| format!("crates/xtask/supply.txt: nothing needs `npm {id}`")));
    if text(&root.join("wasm/package.json"))?.contains("\"dependencies\"") {
        wrong
            .push("wasm/package.json: the published package takes nothing along; use devDependencies".into());
    }
    Ok(())
}
