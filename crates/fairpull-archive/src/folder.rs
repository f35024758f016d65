//! The folder of results: one writer, each job complete or absent.

use std::fs::{self, File, TryLockError};
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use crate::finished::{FINISHED_SCHEMA, Finished, Kept, Wanted};
use crate::inputs::digest;
use crate::{ArchiveError, Job};

/// Lock of the folder; it stays there, empty.
pub const LOCK: &str = "archive.lock";
/// Folder with one folder a job.
pub const JOBS: &str = "jobs";
/// The table.
pub const TABLE: &str = "table.parquet";
/// Jobs that were refused.
pub const FAILURES: &str = "failures.jsonl";
/// Mark of a finished job.
const DONE: &str = "done.json";
/// Where files and folders grow until they are whole.
const WORK: &str = ".work";

/// A folder of results that no other run writes.
#[derive(Debug)]
pub struct Folder {
    root: PathBuf,
    // the system gives it back when the run ends, however it ends
    lock: File,
}

impl Folder {
    /// Takes the folder for this run, makes it if need be, and clears what a killed run left half done.
    ///
    /// # Errors
    /// [`ArchiveError`] when it is in use, holds something else, or cannot be written.
    pub fn open(root: &Path) -> Result<Self, ArchiveError> {
        if root.exists() && !root.is_dir() {
            return Err(ArchiveError::NoFolder(root.into()));
        }
        fs::create_dir_all(root).map_err(ArchiveError::output(root, "cannot be made"))?;
        let lock = root.join(LOCK);
        if !lock.exists() {
            let mut there = fs::read_dir(root).map_err(ArchiveError::output(root, "cannot be read"))?;
            if let Some(entry) = there.next() {
                let entry = entry.map_err(ArchiveError::output(root, "cannot be read"))?;
                // another run may have made its lock a moment ago
                if entry.file_name() != LOCK {
                    let name = entry.file_name().to_string_lossy().into_owned();
                    return Err(ArchiveError::Foreign { folder: root.into(), name });
                }
            }
        }
        let mut file = File::options()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .open(&lock)
            .map_err(ArchiveError::output(&lock, "cannot be written"))?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                let mut holder = String::new();
                // the name is only for the message
                let _ = (&mut file).take(200).read_to_string(&mut holder);
                return Err(ArchiveError::Locked { lock, holder: holder.trim().into() });
            }
            Err(TryLockError::Error(why)) => return Err(ArchiveError::NoLock { lock, why }),
        }
        let written = file.set_len(0).and_then(|()| writeln!(file, "process {}", std::process::id()));
        written.map_err(ArchiveError::output(&lock, "cannot be written"))?;
        let work = root.join(WORK);
        if work.exists() {
            fs::remove_dir_all(&work).map_err(ArchiveError::output(&work, "cannot be cleared"))?;
        }
        fs::create_dir(&work).map_err(ArchiveError::output(&work, "cannot be made"))?;
        Ok(Self { root: root.into(), lock: file })
    }

    /// Where the results of a job belong.
    #[must_use]
    pub fn place(&self, job: &Job) -> PathBuf {
        self.root.join(JOBS).join(&job.name)
    }

    /// What is known of a job.
    ///
    /// # Errors
    /// [`ArchiveError::Taken`] when something else stands in its place.
    pub fn kept(&self, job: &Job, wanted: &Wanted<'_>) -> Result<Kept, ArchiveError> {
        let place = self.place(job);
        if !place.exists() {
            return Ok(Kept::No);
        }
        let Some(done) = self.finished(job) else {
            return match foreign(&place) {
                Some(name) => Err(ArchiveError::Taken { folder: place, name }),
                None => Ok(Kept::Changed(vec![DONE.into()])),
            };
        };
        let beside = job.path.parent().unwrap_or_else(|| Path::new(""));
        let mut changed = done.inputs.changed(wanted, &|log| beside.join(log));
        if done.language != wanted.language {
            changed.push("the language".into());
        }
        let whole = |name: &str, bytes: u64, sha256: &str| {
            digest(&place.join(name)).is_ok_and(|(b, s)| b == bytes && s == sha256)
        };
        let lost = done.results.iter().filter(|r| !whole(&r.name, r.bytes, &r.sha256));
        changed.extend(lost.map(|r| r.name.clone()));
        Ok(if changed.is_empty() { Kept::Yes(Box::new(done)) } else { Kept::Changed(changed) })
    }

    /// The mark of a job, if it can be read.
    #[must_use]
    pub fn finished(&self, job: &Job) -> Option<Finished> {
        let bytes = fs::read(self.place(job).join(DONE)).ok()?;
        let done: Finished = serde_json::from_slice(&bytes).ok()?;
        (done.schema == FINISHED_SCHEMA && done.job == job.name).then_some(done)
    }

    /// Puts the results of a job in their place, all at once; earlier ones are replaced.
    ///
    /// # Errors
    /// [`ArchiveError::Output`] when the disk does not take them.
    pub fn commit(&self, job: &Job, files: &[(&str, &[u8])], done: &Finished) -> Result<(), ArchiveError> {
        let place = self.place(job);
        // names of jobs are unique, and so are their fingerprints with the name in them
        let (_, key) = crate::inputs::measure(job.name.as_bytes());
        let work = self.root.join(WORK).join(&key);
        fs::create_dir(&work).map_err(ArchiveError::output(&work, "cannot be made"))?;
        for (name, bytes) in files {
            let path = work.join(name);
            fs::write(&path, bytes).map_err(ArchiveError::output(&path, "cannot be written"))?;
        }
        let mark = work.join(DONE);
        let mut text = serde_json::to_vec_pretty(done).map_err(|e| ArchiveError::Output {
            path: mark.clone(),
            what: "cannot be written",
            why: e.into(),
        })?;
        text.push(b'\n');
        fs::write(&mark, text).map_err(ArchiveError::output(&mark, "cannot be written"))?;
        if let Some(above) = place.parent() {
            fs::create_dir_all(above).map_err(ArchiveError::output(above, "cannot be made"))?;
        }
        let before = self.root.join(WORK).join(format!("{key}-before"));
        if place.exists() {
            fs::rename(&place, &before).map_err(ArchiveError::output(&place, "cannot be replaced"))?;
        }
        fs::rename(&work, &place).map_err(ArchiveError::output(&place, "cannot be written"))?;
        if before.exists() {
            fs::remove_dir_all(&before).map_err(ArchiveError::output(&before, "cannot be cleared"))?;
        }
        Ok(())
    }

    /// Writes one file of the folder: it grows elsewhere and takes its name when it is whole and on the disk.
    ///
    /// # Errors
    /// [`ArchiveError`] from `write`, or when the disk does not take it.
    pub fn write(
        &self,
        name: &str,
        write: impl FnOnce(&mut File, &Path) -> Result<(), ArchiveError>,
    ) -> Result<(), ArchiveError> {
        let (part, whole) = (self.root.join(WORK).join(name), self.root.join(name));
        let cannot = |e| ArchiveError::output(&whole, "cannot be written")(e);
        let mut file = File::create(&part).map_err(cannot)?;
        write(&mut file, &whole)?;
        file.sync_all().map_err(cannot)?;
        fs::rename(&part, &whole).map_err(cannot)
    }

    /// Leaves the folder as a finished run leaves it.
    ///
    /// # Errors
    /// [`ArchiveError::Output`] when it cannot be cleared.
    pub fn close(&self) -> Result<(), ArchiveError> {
        let work = self.root.join(WORK);
        fs::remove_dir_all(&work).map_err(ArchiveError::output(&work, "cannot be cleared"))?;
        let lock = self.root.join(LOCK);
        self.lock.set_len(0).map_err(ArchiveError::output(&lock, "cannot be written"))
    }
}

/// Something in a place of results that no run ever put there.
fn foreign(place: &Path) -> Option<String> {
    const OURS: [&str; 5] = ["report.html", "result.json", "curves.csv", "gains.csv", DONE];
    let Ok(entries) = fs::read_dir(place) else {
        return Some("a file or an unreadable folder".into());
    };
    entries
        .filter_map(Result::ok)
        .map(|e| e.file_name().to_string_lossy().into_owned())
        .find(|name| !OURS.contains(&name.as_str()))
}
