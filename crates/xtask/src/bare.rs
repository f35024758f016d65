//! Proofs that the calculation needs no operating system: a microcontroller build, and a module linked from nothing.

use crate::step::{Failure, Plan, cargo};
use std::path::Path;

/// Rooms that may use the standard library or an allocator. Every other crate is a plug-in or lies beneath one and
/// must do without, so a new standard is checked from its first day.
const WITH_STD: [&str; 21] = [
    "fairpull",
    "fairpull-archive",
    "fairpull-claims",
    "fairpull-cli",
    "fairpull-conformance",
    "fairpull-datafusion",
    "fairpull-declared",
    "fairpull-recordings",
    "fairpull-reduction",
    "fairpull-report",
    "fairpull-restate",
    "fairpull-road",
    "fairpull-smoothing",
    "fairpull-stress",
    "fairpull-tracks",
    "fairpull-tree",
    "fairpull-uncertainty",
    "fairpull-units",
    "xtask",
    "xtask-api",
    "xtask-wasm",
];

/// The crates that must build without standard library, in order of name.
fn plain_crates(root: &Path) -> Result<Vec<String>, Failure> {
    let folder = root.join("crates");
    let failed = |e: std::io::Error| Failure::new(format!("{}: {e}", folder.display()), "ls crates");
    let mut names = Vec::new();
    for entry in std::fs::read_dir(&folder).map_err(failed)? {
        let entry = entry.map_err(failed)?;
        let name = entry.file_name().to_string_lossy().into_owned();
        if entry.path().join("Cargo.toml").exists() && !WITH_STD.contains(&name.as_str()) {
            names.push(name);
        }
    }
    names.sort();
    Ok(names)
}

/// Builds them for a Cortex-M4F, which has no standard library at all.
pub fn microcontroller(plan: &mut Plan) -> Result<(), Failure> {
    let names = plain_crates(&plan.root)?;
    let mut words =
        vec!["build", "--locked", "--lib", "--no-default-features", "--target", "thumbv7em-none-eabihf"];
    words.extend(names.iter().flat_map(|n| ["--package", n.as_str()]));
    let build = cargo(plan, &words);
    plan.command("no_std build", build)
}

/// Links tests/bare and looks for traces of an allocator, of the standard library or of a reachable panic.
pub fn link_proof(plan: &mut Plan, write: bool) -> Result<(), Failure> {
    let folder = plan.root.join("tests/bare");
    let target = plan.target().join("bare");
    let target_word = target.to_string_lossy().into_owned();
    let mut build = cargo(
        plan,
        &["build", "--release", "--target", "wasm32-unknown-unknown", "--target-dir", &target_word],
    );
    build.current_dir(&folder);
    let named = std::fs::read_to_string(folder.join("Cargo.toml")).unwrap_or_default();
    let plain = plain_crates(&plan.root)?;
    let missing: Vec<&str> = plain
        .iter()
        .filter(|n| !named.lines().any(|l| l.starts_with(&format!("{n} "))))
        .map(String::as_str)
        .collect();
    plan.step("link proof", |plan| {
        if !missing.is_empty() {
            return Err(Failure::new(
                format!(
                    "tests/bare does not link {}: add each to its Cargo.toml and src/lib.rs",
                    missing.join(", ")
                ),
                "cargo xtask bare",
            ));
        }
        let functions = crate::every::check(&plan.root, &plain, write)?;
        // It is no member, so it would have a lock file of its own to fall out of step: it takes ours, which cargo
        // cuts down to what it needs.
        std::fs::copy(plan.root.join("Cargo.lock"), folder.join("Cargo.lock"))
            .map_err(|e| Failure::new(format!("Cargo.lock: {e}"), "git status Cargo.lock"))?;
        crate::step::execute(build)?;
        let module = target.join("wasm32-unknown-unknown/release/fairpull_bare.wasm");
        let bytes = std::fs::read(&module)
            .map_err(|e| Failure::new(format!("{}: {e}", module.display()), "cargo xtask bare"))?;
        for (trace, meaning) in [
            ("fairpull_panicked", "a calculation can panic"),
            ("__rust_alloc", "an allocator is linked"),
            ("rust_begin_unwind", "unwinding is linked"),
        ] {
            if bytes.windows(trace.len()).any(|w| w == trace.as_bytes()) {
                return Err(Failure::new(
                    format!("{} holds `{trace}`: {meaning}", module.display()),
                    "cargo xtask bare",
                ));
            }
        }
        println!(
            "   {functions} public functions in {} bytes: no allocator, no standard library, no reachable panic",
            bytes.len()
        );
        Ok(())
    })
}
