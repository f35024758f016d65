//! Steps: one command each, announced, timed, stopped at the first failure.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

/// Why a chore stopped, and how to run the failing part alone.
pub struct Failure {
    pub what: String,
    pub again: String,
}

impl Failure {
    pub fn new(what: impl Into<String>, again: impl Into<String>) -> Self {
        Self { what: what.into(), again: again.into() }
    }
}

/// The run so far.
pub struct Plan {
    pub root: PathBuf,
    begun: Instant,
    times: Vec<(String, Duration)>,
}

impl Plan {
    pub fn new() -> Self {
        let here = std::env::var_os("CARGO_MANIFEST_DIR")
            .map_or_else(|| PathBuf::from("crates/xtask"), PathBuf::from);
        let root = here.parent().and_then(Path::parent).map_or_else(|| PathBuf::from("."), Path::to_path_buf);
        Self { root, begun: Instant::now(), times: Vec::new() }
    }

    /// Where cargo puts what it builds.
    pub fn target(&self) -> PathBuf {
        std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| self.root.join("target"), |d| self.root.join(d))
    }

    /// A step that is Rust of our own.
    pub fn step<T>(
        &mut self,
        name: &str,
        work: impl FnOnce(&Self) -> Result<T, Failure>,
    ) -> Result<T, Failure> {
        println!("\n== {name}");
        let begun = Instant::now();
        let done = work(self);
        let took = begun.elapsed();
        println!(
            "   {name}: {} in {:.1} s",
            if done.is_ok() { "done" } else { "FAILED" },
            took.as_secs_f64()
        );
        self.times.push((name.to_owned(), took));
        done
    }

    /// A step that is one command; its output stays on screen.
    pub fn command(&mut self, name: &str, command: Command) -> Result<(), Failure> {
        self.step(name, |_| execute(command))
    }

    /// The times again, in one place.
    pub fn report(&self, good: bool) {
        println!("\n{:>8}  step", "seconds");
        for (name, took) in &self.times {
            println!("{:>8.1}  {name}", took.as_secs_f64());
        }
        let end = if good { "all steps done" } else { "stopped" };
        println!("{:>8.1}  {end}", self.begun.elapsed().as_secs_f64());
    }
}

/// Runs a command with its output on screen.
pub fn execute(mut command: Command) -> Result<(), Failure> {
    let shown = shown(&command);
    println!("   $ {shown}");
    match command.status() {
        Ok(status) if status.success() => Ok(()),
        Ok(status) => Err(Failure::new(format!("`{shown}` ended with {status}"), shown)),
        Err(e) => Err(Failure::new(format!("`{shown}` did not start: {e}"), shown)),
    }
}

/// What a command writes to its standard output, or nothing if it fails.
pub fn output(program: &str, words: &[&str]) -> Option<String> {
    let out = Command::new(program).args(words).output().ok()?;
    out.status.success().then(|| String::from_utf8_lossy(&out.stdout).into_owned())
}

/// `cargo` of this toolchain, on two cores unless told otherwise.
pub fn cargo(plan: &Plan, words: &[&str]) -> Command {
    let mut c = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    c.args(words).current_dir(&plan.root);
    // What `cargo run` sets for this program is not meant for the packages it builds.
    for (name, _) in std::env::vars_os() {
        if name.to_str().is_some_and(|n| n.starts_with("CARGO_PKG_") || n.starts_with("CARGO_MANIFEST_")) {
            c.env_remove(name);
        }
    }
    for name in ["CARGO_BUILD_JOBS", "NEXTEST_TEST_THREADS", "RUST_TEST_THREADS"] {
        if std::env::var_os(name).is_none() {
            c.env(name, "2");
        }
    }
    c
}

fn shown(command: &Command) -> String {
    let program = Path::new(command.get_program()).file_name().unwrap_or_else(|| OsStr::new("?"));
    let mut words = vec![program.to_string_lossy().into_owned()];
    words.extend(command.get_args().map(|a| {
        let a = a.to_string_lossy();
        if a.contains([' ', '(', '*']) { format!("'{a}'") } else { a.into_owned() }
    }));
    let line = words.join(" ");
    match command.get_current_dir() {
        Some(dir) if ["wasm", "bare", "fairpull-datafusion"].iter().any(|d| dir.ends_with(d)) => {
            format!("(cd {}; {line})", dir.display())
        }
        _ => line,
    }
}
