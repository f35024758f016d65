//! What a clean machine lacks: rustup targets, npm packages, a browser.

use crate::step::{Failure, Plan, execute, output};
use std::path::{Path, PathBuf};
use std::process::Command;

/// Browser modules, and a microcontroller without standard library.
pub const TARGETS: [&str; 2] = ["wasm32-unknown-unknown", "thumbv7em-none-eabihf"];

pub fn all(plan: &mut Plan, browser: bool) -> Result<(), Failure> {
    plan.step("setup", |p| {
        targets()?;
        parts()?;
        python()?;
        if p.root.join("wasm/package.json").exists() {
            node()?;
            packages(&p.root.join("wasm"))?;
            if browser {
                chromium()?;
            }
        }
        Ok(())
    })
}

fn targets() -> Result<(), Failure> {
    let have = output("rustup", &["target", "list", "--installed"]).unwrap_or_default();
    for target in TARGETS.iter().filter(|t| !have.lines().any(|l| l.trim() == **t)) {
        execute(command("rustup", &["target", "add", target]))?;
    }
    Ok(())
}

fn parts() -> Result<(), Failure> {
    for (tool, part) in [("fmt", "rustfmt"), ("clippy", "clippy")] {
        if output("cargo", &[tool, "--version"]).is_none() {
            execute(command("rustup", &["component", "add", part]))?;
        }
    }
    Ok(())
}

/// Python with pip, for tests that fetch open data from packages; left out with FAIRPULL_OFFLINE=1.
fn python() -> Result<(), Failure> {
    let offline = std::env::var_os("FAIRPULL_OFFLINE").is_some_and(|v| v == "1");
    if offline || output("python3", &["-m", "pip", "--version"]).is_some() {
        return Ok(());
    }
    apt(&["python3", "python3-pip"]).map_err(|f| {
        Failure::new(
            format!("the tests on open data need python3 with pip: {}", f.what),
            "install python3 and pip, or leave those checks out: FAIRPULL_OFFLINE=1 cargo xtask test",
        )
    })
}

fn node() -> Result<(), Failure> {
    if output("npm", &["--version"]).is_none() {
        apt(&["nodejs", "npm"]).map_err(|f| {
            Failure::new(
                format!("Node (20.19 or later) with npm is needed for wasm/: {}", f.what),
                "install Node, then cargo xtask setup",
            )
        })?;
    }
    let version = output("node", &["--version"]).unwrap_or_default();
    let major = version.trim().trim_start_matches('v').split('.').next().and_then(|n| n.parse::<u32>().ok());
    match major {
        Some(n) if n >= 20 => Ok(()),
        _ => Err(Failure::new(
            format!("Node {} is too old for wasm/: 20.19 or later is needed", version.trim()),
            "install Node 20.19 or later, then cargo xtask setup",
        )),
    }
}

/// `npm ci` when the installed packages are not those of the lock file.
fn packages(wasm: &Path) -> Result<(), Failure> {
    let lock = wasm.join("package-lock.json");
    let mark = wasm.join("node_modules/.lock-installed");
    let wanted = std::fs::read(&lock)
        .map_err(|e| Failure::new(format!("{}: {e}", lock.display()), "git status wasm/package-lock.json"))?;
    if std::fs::read(&mark).is_ok_and(|have| have == wanted) {
        return Ok(());
    }
    let mut npm = command("npm", &["ci", "--no-audit", "--no-fund"]);
    npm.current_dir(wasm);
    execute(npm)?;
    std::fs::write(&mark, wanted)
        .map_err(|e| Failure::new(format!("{}: {e}", mark.display()), "cargo xtask setup"))
}

/// A Chromium: `CHROMIUM` names one, or it is on the path.
pub fn browser() -> Option<PathBuf> {
    if let Some(named) = std::env::var_os("CHROMIUM").map(PathBuf::from) {
        return Some(named);
    }
    let path = std::env::var_os("PATH").unwrap_or_default();
    let names = ["chromium", "chromium-browser", "google-chrome"];
    std::env::split_paths(&path).flat_map(|d| names.map(|n| d.join(n))).find(|f| f.is_file())
}

fn chromium() -> Result<(), Failure> {
    if browser().is_some() {
        return Ok(());
    }
    apt(&["chromium"]).map_err(|f| {
        Failure::new(
            format!("the browser tests need Chromium: {}", f.what),
            "install Chromium or name one in CHROMIUM, or leave the browser out: cargo xtask test --no-browser",
        )
    })
}

fn apt(packages: &[&str]) -> Result<(), Failure> {
    let root = output("id", &["-u"]).is_some_and(|id| id.trim() == "0");
    let line = |words: &[&str]| {
        let mut all = if root { Vec::new() } else { vec!["sudo", "-n"] };
        all.push("apt-get");
        all.extend_from_slice(words);
        let mut c = command(all[0], &all[1..]);
        c.env("DEBIAN_FRONTEND", "noninteractive");
        c
    };
    execute(line(&["update", "-qq"]))?;
    let mut words = vec!["install", "-y", "-qq", "--no-install-recommends"];
    words.extend_from_slice(packages);
    execute(line(&words))
}

fn command(program: &str, words: &[&str]) -> Command {
    let mut c = Command::new(program);
    c.args(words);
    c
}
