//! Everything that went into a result, by size and SHA-256.

use std::fmt::Write;
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use crate::Wanted;

/// What an input is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// The job file.
    Job,
    /// A standard written as data.
    Declared,
    /// A log.
    Log,
}

/// One input.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Input {
    /// What it is.
    pub kind: Kind,
    /// Name: of a log as the job writes it.
    pub name: String,
    /// Bytes.
    pub bytes: u64,
    /// SHA-256, hexadecimal.
    pub sha256: String,
}

impl Input {
    /// From bytes in memory.
    #[must_use]
    pub fn of(kind: Kind, name: &str, bytes: &[u8]) -> Self {
        let (bytes, sha256) = measure(bytes);
        Self { kind, name: name.into(), bytes, sha256 }
    }

    /// True when the file still holds these bytes; read piece by piece.
    pub(crate) fn is_still(&self, path: &Path) -> bool {
        digest(path).is_ok_and(|(bytes, sha256)| bytes == self.bytes && sha256 == self.sha256)
    }
}

/// Size and SHA-256 of bytes in memory.
pub(crate) fn measure(bytes: &[u8]) -> (u64, String) {
    let mut hash = Sha256::new();
    hash.update(bytes);
    (bytes.len() as u64, hex(hash))
}

/// Opens a file; a pipe or a device, which may have no end, is none.
pub(crate) fn regular(path: &Path) -> std::io::Result<File> {
    if std::fs::metadata(path)?.is_file() {
        File::open(path)
    } else {
        Err(std::io::Error::new(std::io::ErrorKind::InvalidInput, "this is not a file"))
    }
}

/// Size and SHA-256 of a file.
pub(crate) fn digest(path: &Path) -> std::io::Result<(u64, String)> {
    let mut file = regular(path)?;
    let mut hash = Sha256::new();
    let mut piece = vec![0; 1 << 16];
    let mut bytes = 0;
    loop {
        let n = file.read(&mut piece)?;
        if n == 0 {
            return Ok((bytes, hex(hash)));
        }
        hash.update(piece.get(..n).unwrap_or(&[]));
        bytes += n as u64;
    }
}

pub(crate) fn hex(hash: Sha256) -> String {
    hash.finalize().iter().fold(String::new(), |mut out, byte| {
        // writing to a string cannot fail
        let _ = write!(out, "{byte:02x}");
        out
    })
}

/// All inputs of one result.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Inputs {
    /// Program and version.
    pub program: String,
    /// Job file, declared standards, logs in the order read.
    pub files: Vec<Input>,
}

impl Inputs {
    /// One number for all of it: the SHA-256 of program, kinds, names, sizes and hashes, a line each.
    #[must_use]
    pub fn fingerprint(&self) -> String {
        let mut hash = Sha256::new();
        hash.update(&self.program);
        for f in &self.files {
            hash.update(format!("\n{:?} {} {} {:?}", f.kind, f.bytes, f.sha256, f.name));
        }
        hex(hash)
    }

    /// What is no longer as it was; `log` says where a log lies.
    pub(crate) fn changed(&self, wanted: &Wanted<'_>, log: &dyn Fn(&str) -> PathBuf) -> Vec<String> {
        let Wanted { program, fixed: now, .. } = *wanted;
        let mut changed = Vec::new();
        if self.program != program {
            changed.push(format!("{} then, {program} now", self.program));
        }
        let fixed = |i: &&Input| i.kind != Kind::Log;
        let then: Vec<&Input> = self.files.iter().filter(fixed).collect();
        changed.extend(now.iter().filter(|n| !then.contains(n)).map(|n| n.name.clone()));
        let gone = then.iter().filter(|t| !now.iter().any(|n| n.kind == t.kind && n.name == t.name));
        changed.extend(gone.map(|t| t.name.clone()));
        if changed.is_empty() && !then.iter().copied().eq(now) {
            changed.push("the list of declared standards".into());
        }
        // another job text may name other logs: what they hold no longer matters
        if changed.is_empty() {
            let logs = self.files.iter().filter(|f| f.kind == Kind::Log);
            changed.extend(logs.filter(|f| !f.is_still(&log(&f.name))).map(|f| f.name.clone()));
        }
        changed
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two standards of one file name, one of them dropped or the two exchanged.
    #[test]
    fn the_list_of_inputs_counts_and_its_order() {
        let [a, b] = ["a", "b"].map(|text| Input::of(Kind::Declared, "standard.toml", text.as_bytes()));
        let then = Inputs { program: "fairpull".into(), files: vec![a.clone(), b.clone()] };
        let changed = |fixed: &[Input]| {
            then.changed(&Wanted { program: "fairpull", language: "en", fixed }, &|log| log.into())
        };
        assert_eq!(changed(&[a.clone(), b.clone()]), [""; 0]);
        for other in [&[a.clone()][..], &[b.clone(), a.clone()], &[a, b.clone(), b]] {
            assert_eq!(changed(other), ["the list of declared standards"]);
        }
    }
}
