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
    let folder = plan.target().join("reference");
    let python = folder.join("bin/python");
    plan.step("virtual environment", |p| {
        if !python.exists() {
            let mut venv = Command::new("python3");
            venv.args(["-m", "venv"]).arg(&folder);
            execute(venv)?;
        }
        let list = p.root.join("tests/reference/requirements.txt");
        let mut pip = Command::new(&python);
        pip.args(["-m", "pip", "install", "--quiet", "--requirement"]).arg(list);
        execute(pip)
    })?;
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
