//! Fixtures again from their reference libraries.

use crate::step::{Failure, Plan, execute};
use std::path::PathBuf;
use std::process::Command;

/// Scripts that print their fixture instead of writing it.
const PRINTS: [(&str, &str); 1] = [("standards.py", "fixtures/standards/workshop-sheet.toml")];

/// Scripts that fetch open data for a test and leave nothing in the repository.
const FETCHES: [&str; 1] = ["open_data.py"];

/// Runs every script of tests/reference in a virtual environment of its own, then shows what changed.
pub fn all(plan: &mut Plan) -> Result<(), Failure> {
    let scripts = scripts(plan)?;
    let python = environment(plan, "reference", "tests/reference/requirements.txt")?;
    for script in scripts {
        let name = script.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
        let mut run = Command::new(&python);
        run.arg(format!("tests/reference/{name}")).current_dir(&plan.root);
        if let Some((_, fixture)) = PRINTS.iter().find(|(script, _)| *script == name) {
            let path = plan.root.join(fixture);
            let file = std::fs::File::create(&path)
                .map_err(|e| Failure::new(format!("{}: {e}", path.display()), "cargo xtask reference"))?;
            run.stdout(file);
        }
        plan.command(&name, run)?;
    }
    let mut changed = Command::new("git");
    changed.args(["--no-pager", "diff", "--stat", "--exit-code", "--", "fixtures"]).current_dir(&plan.root);
    plan.command("fixtures unchanged", changed)
}

/// The work of `tests/bench/side_by_side.py` here and by general-purpose libraries; the programs must be built.
pub fn side_by_side(plan: &mut Plan) -> Result<(), Failure> {
    let python = environment(plan, "side-by-side", "tests/bench/requirements.txt")?;
    let release = plan.target().join("release");
    let mut run = Command::new(python);
    run.arg("tests/bench/side_by_side.py").current_dir(&plan.root);
    run.arg(release.join("fairpull")).arg(release.join("fairpull-bench"));
    plan.command("side by side", run)
}

/// The Python of a virtual environment with the versions of a list.
fn environment(plan: &mut Plan, name: &str, list: &str) -> Result<PathBuf, Failure> {
    let folder = plan.target().join(name);
    let python = folder.join("bin/python");
    plan.step("virtual environment", |p| {
        if !python.exists() {
            let mut venv = Command::new("python3");
            venv.args(["-m", "venv"]).arg(&folder);
            execute(venv)?;
        }
        let mut pip = Command::new(&python);
        pip.args(["-m", "pip", "install", "--quiet", "--requirement"]).arg(p.root.join(list));
        execute(pip)
    })?;
    Ok(python)
}

fn scripts(plan: &Plan) -> Result<Vec<PathBuf>, Failure> {
    let folder = plan.root.join("tests/reference");
    let failed = |e: std::io::Error| Failure::new(format!("{}: {e}", folder.display()), "ls tests/reference");
    let mut scripts = Vec::new();
    for entry in std::fs::read_dir(&folder).map_err(failed)? {
        let path = entry.map_err(failed)?.path();
        let fetches = path.file_name().is_some_and(|n| FETCHES.iter().any(|f| n == *f));
        if path.extension().is_some_and(|e| e == "py") && !fetches {
            scripts.push(path);
        }
    }
    scripts.sort();
    Ok(scripts)
}
