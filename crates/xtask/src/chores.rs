//! The order of the checks.

use crate::step::{Failure, Plan, cargo, output};
use crate::{api, bare, setup, supply, wasm};

/// Everything that must hold before a change goes in.
pub fn test(plan: &mut Plan, browser: bool) -> Result<(), Failure> {
    setup::all(plan, browser)?;
    supply::check(plan, false)?;
    let format = cargo(plan, &["fmt", "--all", "--check"]);
    plan.command("format", format)?;
    let clippy = cargo(plan, &["clippy", "--locked", "--workspace", "--all-targets", "--", "-D", "warnings"]);
    plan.command("lints", clippy)?;
    // the command without its table: a handful of crates is checked again, some seconds
    let small = ["clippy", "--locked", "--package", "fairpull-cli", "--no-default-features", "--all-targets"];
    let mut small = cargo(plan, &small);
    small.args(["--", "-D", "warnings"]);
    plan.command("lints without the table", small)?;
    let tests = if output("cargo", &["nextest", "--version"]).is_some() {
        cargo(plan, &["nextest", "run", "--locked", "--workspace"])
    } else {
        cargo(plan, &["test", "--locked", "--workspace", "--lib", "--bins", "--tests"])
    };
    plan.command("tests", tests)?;
    let examples = cargo(plan, &["test", "--locked", "--workspace", "--doc"]);
    plan.command("doc tests", examples)?;
    docs(plan)?;
    api::check(plan, false)?;
    bare_alone(plan, false)?;
    if plan.root.join("wasm/package.json").exists() {
        wasm::module(plan)?;
        wasm::scripts(plan, browser)?;
    }
    sql(plan)
}

/// The SQL functions: a workspace of its own with its own lock file, because the query engine is large. The lints ride on
/// the build of the tests: a pass of their own would check the engine's crates a second time.
pub fn sql(plan: &mut Plan) -> Result<(), Failure> {
    let folder = plan.root.join("crates/fairpull-datafusion");
    let mut format = cargo(plan, &["fmt", "--check"]);
    format.current_dir(&folder);
    plan.command("SQL functions: format", format)?;
    let mut tests = cargo(plan, &["test", "--locked"]);
    tests
        .current_dir(&folder)
        .env("CARGO_TARGET_DIR", plan.target().join("sql"))
        .env("RUSTC_WORKSPACE_WRAPPER", "clippy-driver")
        .env("RUSTFLAGS", "-D warnings");
    plan.command("SQL functions: lints and tests", tests)
}

/// No standard library, no allocator, no panic.
pub fn bare_alone(plan: &mut Plan, write: bool) -> Result<(), Failure> {
    bare::microcontroller(plan)?;
    bare::link_proof(plan, write)
}

/// The documentation with every warning refused: a broken link is an error.
pub fn docs(plan: &mut Plan) -> Result<(), Failure> {
    let mut docs = cargo(plan, &["doc", "--locked", "--workspace", "--no-deps"]);
    docs.env("RUSTDOCFLAGS", "-D warnings");
    plan.command("documentation", docs)
}

/// The reduction against known truth over many seeds.
pub fn truth(plan: &mut Plan) -> Result<(), Failure> {
    let truth =
        cargo(plan, &["run", "--locked", "--release", "--package", "fairpull-tests", "--bin", "truth"]);
    plan.command("truth", truth)
}

/// The long part of the fault tests: one at a time, with what they measured.
pub fn faults(plan: &mut Plan) -> Result<(), Failure> {
    let mut faults = cargo(plan, &["test", "--locked", "--release", "--package", "fairpull-cli"]);
    faults.args([
        "--test",
        "faults",
        "--test",
        "beyond",
        "--no-fail-fast",
        "--",
        "--include-ignored",
        "--nocapture",
        "--test-threads",
        "1",
    ]);
    plan.command("faults", faults)
}

/// The browser module without the rest.
pub fn wasm_alone(plan: &mut Plan) -> Result<(), Failure> {
    setup::all(plan, false)?;
    wasm::module(plan)?;
    wasm::build_scripts(plan)
}
