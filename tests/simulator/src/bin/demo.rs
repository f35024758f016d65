//! Writes the demo job: `demo [--seed N] DIRECTORY`.

use std::process::ExitCode;

use fairpull_simulator::{DEMO_SEED, demo_files};

fn main() -> ExitCode {
    let mut seed = DEMO_SEED;
    let mut folder = None;
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        if word == "--seed" {
            match words.next().and_then(|n| n.parse().ok()) {
                Some(n) => seed = n,
                None => return usage("--seed wants a whole number, e.g. --seed 7"),
            }
        } else if folder.replace(word).is_some() {
            return usage("one directory is wanted");
        }
    }
    let Some(folder) = folder else { return usage("no directory given") };
    let folder = std::path::Path::new(&folder);
    if let Err(e) = std::fs::create_dir_all(folder) {
        return usage(&format!("cannot make {}: {e}", folder.display()));
    }
    for (name, bytes) in demo_files(seed) {
        if let Err(e) = std::fs::write(folder.join(&name), &bytes) {
            return usage(&format!("cannot write {}: {e}", folder.join(&name).display()));
        }
        println!("{name} {} bytes", bytes.len());
    }
    ExitCode::SUCCESS
}

fn usage(what: &str) -> ExitCode {
    eprintln!("demo: {what}\nusage: demo [--seed N] DIRECTORY");
    ExitCode::from(2)
}
