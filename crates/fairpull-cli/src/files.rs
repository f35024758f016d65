//! Files in and out: nothing half-written under its final name, nothing overwritten unasked.

use std::fs;
use std::io::Write;
use std::path::{Component, Path, PathBuf};

use crate::fail::Fail;
use crate::out;

/// Largest log, bytes.
const LARGEST: u64 = 4 << 30;
/// Largest job, claim, question or standard, bytes: held whole, and their tree takes up to 350 times as much.
const LARGEST_TEXT: u64 = 2_000_000;

/// Whether a file can be read at all, before any work begins.
pub fn usable(path: &Path) -> Result<(), String> {
    let meta = fs::metadata(path).map_err(|e| why(&e))?;
    if meta.is_dir() {
        return Err("this is a folder; name a file".into());
    }
    if !meta.is_file() {
        return Err("this is a device or a pipe, not a file; copy its content into a file first".into());
    }
    if meta.len() > LARGEST {
        return Err(format!("{} bytes are more than this program reads ({LARGEST})", meta.len()));
    }
    Ok(())
}

/// What the system says, with the mend where there is one.
fn why(e: &std::io::Error) -> String {
    match e.kind() {
        std::io::ErrorKind::NotFound => "there is no such file".into(),
        std::io::ErrorKind::PermissionDenied => {
            "you may not read this file: change its permissions, or use a copy of your own".into()
        }
        _ => e.to_string(),
    }
}

/// Opens a file that is read in pieces, gives its size, and says plainly why it cannot.
pub fn open(path: &Path) -> Result<(fs::File, u64), String> {
    usable(path)?;
    let file = fs::File::open(path).map_err(|e| why(&e))?;
    let size = file.metadata().map_err(|e| e.to_string())?.len();
    Ok((file, size))
}

/// Whether a file is still as large as it was: half a recording is a shorter one to every other check.
pub fn unchanged(path: &Path, before: u64) -> Result<(), String> {
    let after = fs::metadata(path).map_err(|e| e.to_string())?.len();
    if before == after {
        return Ok(());
    }
    Err(format!(
        "the file changed from {before} to {after} bytes while it was read; run again when the recording is finished"
    ))
}

/// Reads a file and says plainly why it cannot.
pub fn read(path: &Path) -> Result<Vec<u8>, String> {
    let (_, before) = open(path)?;
    let bytes = fs::read(path).map_err(|e| why(&e))?;
    unchanged(path, before)?;
    unchanged(path, bytes.len() as u64)?;
    Ok(bytes)
}

/// Whether a file that is held whole is small enough for that.
fn small(path: &Path) -> Result<(), String> {
    let (_, size) = open(path)?;
    if size <= LARGEST_TEXT {
        return Ok(());
    }
    Err(format!(
        "{size} bytes are too many for a file of this kind; expected at most {LARGEST_TEXT} bytes. Check that this is the file you mean; recordings belong in logs of their own"
    ))
}

/// The text of a file.
pub fn text(path: &Path) -> Result<String, Fail> {
    text_shown(path, &out::name(path))
}

/// The text of a file that messages call `shown`.
pub fn text_shown(path: &Path, shown: &str) -> Result<String, Fail> {
    let bytes = small(path).and_then(|()| read(path)).map_err(|e| Fail::plain(format!("{shown}: {e}")))?;
    String::from_utf8(bytes).map_err(|e| {
        let good = e.utf8_error().valid_up_to();
        let before = e.as_bytes().get(..good).unwrap_or(&[]);
        let line = before.iter().filter(|b| **b == b'\n').count() + 1;
        let column = before.iter().rev().take_while(|b| **b != b'\n').count() + 1;
        Fail::plain(format!(
            "{shown}:{line}:{column}: this is not UTF-8 text; save the file as UTF-8 in your editor"
        ))
    })
}

/// A log named in a job, below the job's own folder.
pub fn beside(job: &Path, name: &str) -> Result<PathBuf, String> {
    let inside = Path::new(name);
    let escapes = inside.components().any(|c| !matches!(c, Component::Normal(_) | Component::CurDir));
    if escapes || name.is_empty() {
        return Err(
            "a log must lie in the job file's folder or below it: write a relative path without ..".into()
        );
    }
    Ok(job.parent().unwrap_or_else(|| Path::new("")).join(inside))
}

/// Checks that the files may be written before the work begins; `instead` says what else can be named.
pub fn prepare(dir: &Path, names: &[&str], force: bool, instead: &str) -> Result<(), Fail> {
    if dir.exists() && !dir.is_dir() {
        return Err(Fail::plain(format!("{}: this is a file, not a folder; name {instead}", out::name(dir))));
    }
    if !force {
        let there: Vec<&str> = names.iter().copied().filter(|n| dir.join(n).exists()).collect();
        if !there.is_empty() {
            return Err(Fail::plain(format!(
                "{}: {} there already; use --force to replace, or {instead}",
                out::name(dir),
                if there.len() == 1 {
                    format!("{} is", there[0])
                } else {
                    format!("{} are", there.join(", "))
                }
            )));
        }
    }
    fs::create_dir_all(dir).map_err(|e| Fail::plain(format!("{}: cannot be made: {e}", out::name(dir))))?;
    // a folder that cannot be written is better known before the work than after it
    let probe = dir.join(format!(".probe.{}.part", std::process::id()));
    fs::File::create(&probe)
        .and_then(|_| fs::remove_file(&probe))
        .map_err(|e| Fail::plain(format!("{}: cannot be written: {e}", out::name(dir))))
}

/// Writes all files beside their final names and renames them when every one is whole, so that no reader ever sees
/// half a file.
pub fn write(dir: &Path, files: &[(&str, &[u8])]) -> Result<(), Fail> {
    let part = |name: &str| dir.join(format!(".{name}.{}.part", std::process::id()));
    let cannot = |name: &str, e: std::io::Error| {
        for (n, _) in files {
            let _ = fs::remove_file(part(n));
        }
        Fail::plain(format!("{}: cannot be written: {e}", out::name(&dir.join(name))))
    };
    for (name, bytes) in files {
        let done = fs::File::create(part(name)).and_then(|mut f| {
            f.write_all(bytes)?;
            f.sync_all()
        });
        done.map_err(|e| cannot(name, e))?;
    }
    for (name, _) in files {
        fs::rename(part(name), dir.join(name)).map_err(|e| cannot(name, e))?;
    }
    Ok(())
}

/// A question from a file, or an empty one.
pub fn question<T: fairpull::Field + Default>(path: Option<&Path>) -> Result<T, Fail> {
    match path {
        None => Ok(T::default()),
        Some(p) => Ok(fairpull::question_file(&text(p)?, &out::name(p))?),
    }
}

#[cfg(test)]
mod tests {
    use std::io::{Error, ErrorKind};

    #[test]
    fn what_the_system_says_comes_with_a_mend() {
        assert_eq!(super::why(&Error::from(ErrorKind::NotFound)), "there is no such file");
        let closed = super::why(&Error::from(ErrorKind::PermissionDenied));
        assert_eq!(closed, "you may not read this file: change its permissions, or use a copy of your own");
    }
}
