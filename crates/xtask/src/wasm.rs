//! The browser module: cargo, then the binding generator as a library, then wasm-opt, then the scripts of wasm/.

use crate::step::{Failure, Plan, cargo, execute, output};
use std::path::Path;
use std::process::Command;

/// The modules, each a superset of the one before: name, features of the crate.
const MODULES: [(&str, &str); 3] = [("calculator", ""), ("advice", "advice"), ("workshop", "workshop")];

/// Builds `wasm/lib/raw-<name>.js`, `.d.ts` and `raw-<name>_bg.wasm` for every module.
pub fn module(plan: &mut Plan) -> Result<(), Failure> {
    for (name, features) in MODULES {
        one(plan, name, features)?;
    }
    Ok(())
}

fn one(plan: &mut Plan, name: &str, features: &str) -> Result<(), Failure> {
    let mut words =
        vec!["build", "--locked", "--package", "fairpull-wasm", "--target", "wasm32-unknown-unknown"];
    words.extend(["--profile", "wasm", "--no-default-features", "--features", features]);
    let mut build = cargo(plan, &words);
    build.env("CARGO_ENCODED_RUSTFLAGS", flags(&plan.root));
    plan.command(&format!("browser module {name}"), build)?;

    let built = plan.target().join("wasm32-unknown-unknown/wasm/fairpull_wasm.wasm");
    let lib = plan.root.join("wasm/lib");
    let (built, out) = (built.to_string_lossy().into_owned(), lib.to_string_lossy().into_owned());
    let raw_name = format!("raw-{name}");
    let bind = cargo(
        plan,
        &["run", "--quiet", "--locked", "--package", "xtask-wasm", "--", &built, &out, &raw_name],
    );
    plan.command(&format!("bindings {name}"), bind)?;

    plan.step(&format!("wasm-opt {name}"), |p| {
        let raw = lib.join(format!("{raw_name}_bg.wasm"));
        let before = size(&raw)?;
        let tool = p.root.join("wasm/node_modules/.bin/wasm-opt");
        let mut opt = Command::new(&tool);
        // the first kilobyte is the far end of the stack: no value has its address there
        opt.args(["-Oz", "--low-memory-unused", "--one-caller-inline-max-function-size=0"]);
        // what is said twice alike compresses better than a local for it
        opt.args([
            "--skip-pass=local-cse",
            "--reorder-functions-by-name",
            "--strip-debug",
            "--strip-producers",
        ]);
        opt.arg(&raw).arg("-o").arg(&raw);
        execute(opt)?;
        println!("   {before} -> {} bytes", size(&raw)?);
        no_own_paths(&raw)
    })
}

/// The scripts of wasm/package.json in their order; those it does not have are passed over.
pub fn scripts(plan: &mut Plan, browser: bool) -> Result<(), Failure> {
    build_scripts(plan)?;
    for name in ["check", "test"] {
        script(plan, name, browser)?;
    }
    Ok(())
}

/// Only what makes files.
pub fn build_scripts(plan: &mut Plan) -> Result<(), Failure> {
    for name in ["types", "build", "sizes"] {
        script(plan, name, false)?;
    }
    Ok(())
}

fn script(plan: &mut Plan, name: &str, browser: bool) -> Result<(), Failure> {
    let wasm = plan.root.join("wasm");
    let listed = output("npm", &["--prefix", &wasm.to_string_lossy(), "run"]).unwrap_or_default();
    if !listed.lines().any(|l| l.trim() == name) {
        return Ok(());
    }
    let mut npm = Command::new("npm");
    npm.args(["run", "--silent", name]).current_dir(&wasm);
    if !browser {
        npm.env("FAIRPULL_NO_BROWSER", "1");
    } else if let Some(chromium) = crate::setup::browser() {
        npm.env("CHROMIUM", chromium);
    }
    plan.command(&format!("npm run {name}"), npm)
}

/// Functions stay apart even if called from one place alone: many short ones compress better than one of a hundred
/// kilobytes, and start sooner. All costs and limits times sixty, beside the fixed bonus for a single caller.
const APART: [&str; 4] = [
    "-Cllvm-args=-inline-instr-cost=300",
    "-Cllvm-args=-inline-call-penalty=1500",
    "-Cllvm-args=-inlinedefault-threshold=13500",
    "-Cllvm-args=-inlinehint-threshold=19500",
];

/// Vectors of 128 bits, rounded as single numbers are: every browser that has the elements' other means has them too
/// (from memory).
const VECTORS: &str = "-Ctarget-feature=+simd128";

/// The compiler's flags; no folder of the building machine stays in the module.
fn flags(root: &Path) -> String {
    let home = std::env::var("CARGO_HOME")
        .unwrap_or_else(|_| format!("{}/.cargo", std::env::var("HOME").unwrap_or_default()));
    let mut all = vec![
        format!("--remap-path-prefix={home}=cargo"),
        format!("--remap-path-prefix={}=fairpull", root.display()),
    ];
    all.push(VECTORS.to_owned());
    all.extend(APART.map(str::to_owned));
    all.join("\u{1f}")
}

fn size(file: &Path) -> Result<u64, Failure> {
    std::fs::metadata(file)
        .map(|m| m.len())
        .map_err(|e| Failure::new(format!("{}: {e}", file.display()), "cargo xtask wasm"))
}

fn no_own_paths(file: &Path) -> Result<(), Failure> {
    let bytes = std::fs::read(file)
        .map_err(|e| Failure::new(format!("{}: {e}", file.display()), "cargo xtask wasm"))?;
    let home = std::env::var("HOME").unwrap_or_default();
    if home.len() > 1 && bytes.windows(home.len() + 1).any(|w| w == format!("{home}/").as_bytes()) {
        return Err(Failure::new(
            format!("{} holds paths of this machine ({home})", file.display()),
            "cargo xtask wasm",
        ));
    }
    Ok(())
}
