//! The folder of results: one writer, each job complete or absent.

use std::fs::{self, File, TryLockError};
use std::io::{Read, Seek, Write};
use std::path::{Component, Path, PathBuf};

use crate::finished::{FINISHED_SCHEMA, Finished, Kept, Wanted};
use crate::inputs::{digest, regular};
use crate::{ArchiveError, Job};

/// Lock of the folder; it stays there, and tells the folder from others.
pub const LOCK: &str = "archive.lock";
/// First line of the lock.
const MARK: &str = "fairpull archive";
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
/// What a folder of results may hold besides.
const KNOWN: [&str; 5] = [LOCK, JOBS, TABLE, FAILURES, WORK];
/// What the place of a job may hold.
const OURS: [&str; 5] = ["report.html", "result.json", "curves.csv", "gains.csv", DONE];
/// End of the name of earlier results while new ones take their place.
const BEFORE: &str = "-before";
/// More than any mark of a finished job holds, bytes.
const LARGEST_MARK: u64 = 256 << 20;

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
        let foreign = |name: String| ArchiveError::Foreign { folder: root.into(), name };
        match fs::symlink_metadata(&lock) {
            // a link would be written to wherever it leads
            Ok(meta) if !meta.is_file() => return Err(foreign(LOCK.into())),
            Ok(_) => {}
            Err(_) => {
                if let Some(name) = stranger(root, &[LOCK])? {
                    return Err(foreign(name));
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
        let taken = file.try_lock();
        let mut content = Vec::new();
        let read = (&mut file).take(200).read_to_end(&mut content);
        let content = String::from_utf8_lossy(&content);
        match taken {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                // the name is only for the message
                let holder = content.lines().nth(1).unwrap_or("").into();
                return Err(ArchiveError::Locked { lock, holder });
            }
            Err(TryLockError::Error(why)) => return Err(ArchiveError::NoLock { lock, why }),
        }
        read.map_err(ArchiveError::output(&lock, "cannot be read"))?;
        if content.is_empty() {
            // made a moment ago, or by a run that was killed then
            if let Some(name) = stranger(root, &KNOWN)? {
                return Err(foreign(name));
            }
        } else if content.lines().next() != Some(MARK) {
            return Err(foreign(LOCK.into()));
        }
        sign(&file, &format!("process {}\n", std::process::id()))
            .map_err(ArchiveError::output(&lock, "cannot be written"))?;
        put_back(root);
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
        if !free(&place)? {
            return Ok(Kept::No);
        }
        let Some(done) = self.finished(job) else { return Ok(Kept::Changed(vec![DONE.into()])) };
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
        mark(&self.place(job)).filter(|done| done.job == job.name)
    }

    /// Puts the results of a job in their place, all at once; earlier ones are replaced, nothing else is.
    ///
    /// # Errors
    /// [`ArchiveError::Taken`] when something else stands in that place, [`ArchiveError::Output`] when the disk does not
    /// take them.
    pub fn commit(&self, job: &Job, files: &[(&str, &[u8])], done: &Finished) -> Result<(), ArchiveError> {
        let place = self.place(job);
        let replaces = free(&place)?;
        let key = key(&job.name);
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
        let before = self.root.join(WORK).join(key + BEFORE);
        if replaces {
            fs::rename(&place, &before).map_err(ArchiveError::output(&place, "cannot be replaced"))?;
        }
        // a run that is killed between the two finds the earlier results again: see `put_back`
        if let Err(why) = fs::rename(&work, &place) {
            if replaces {
                // what cannot be replaced stays
                let _ = fs::rename(&before, &place);
            }
            return Err(ArchiveError::output(&place, "cannot be written")(why));
        }
        if replaces {
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
        sign(&self.lock, "").map_err(ArchiveError::output(&lock, "cannot be written"))
    }
}

/// Writes the lock: what the folder is, and who holds it.
fn sign(mut lock: &File, holder: &str) -> std::io::Result<()> {
    lock.set_len(0)?;
    lock.rewind()?;
    lock.write_all(format!("{MARK}\n{holder}").as_bytes())
}

/// The first thing in a folder that is none of these.
fn stranger(folder: &Path, known: &[&str]) -> Result<Option<String>, ArchiveError> {
    let unread = |e| ArchiveError::output(folder, "cannot be read")(e);
    for entry in fs::read_dir(folder).map_err(unread)? {
        let name = entry.map_err(unread)?.file_name().to_string_lossy().into_owned();
        if !known.contains(&name.as_str()) {
            return Ok(Some(name));
        }
    }
    Ok(None)
}

/// True when the place of a job holds earlier results, false when nothing is there.
fn free(place: &Path) -> Result<bool, ArchiveError> {
    let taken = |name: String| ArchiveError::Taken { folder: place.into(), name };
    match fs::symlink_metadata(place) {
        Err(_) => Ok(false),
        Ok(meta) if meta.is_dir() => stranger(place, &OURS)?.map_or(Ok(true), |name| Err(taken(name))),
        Ok(_) => Err(taken("a file or a link".into())),
    }
}

/// The mark in the place of a job, if there is one and it is as it was written.
fn mark(place: &Path) -> Option<Finished> {
    let mut bytes = Vec::new();
    let file = regular(&place.join(DONE)).ok()?;
    file.take(LARGEST_MARK).read_to_end(&mut bytes).ok()?;
    let done: Finished = serde_json::from_slice(&bytes).ok()?;
    (done.schema == FINISHED_SCHEMA && done.is_whole()).then_some(done)
}

/// Name of a job's work: names of jobs are unique, and so are their hashes.
fn key(job: &str) -> String {
    crate::inputs::measure(job.as_bytes()).1
}

/// Earlier results that a killed run had moved aside and not replaced yet return to their place.
fn put_back(root: &Path) {
    for entry in fs::read_dir(root.join(WORK)).into_iter().flatten().filter_map(Result::ok) {
        let name = entry.file_name();
        let inside = |job: &str| Path::new(job).components().all(|c| matches!(c, Component::Normal(_)));
        let of_job = |done: &Finished| name.to_str() == Some(&(key(&done.job) + BEFORE)) && inside(&done.job);
        let Some(done) = mark(&entry.path()).filter(of_job) else { continue };
        let place = root.join(JOBS).join(&done.job);
        if fs::symlink_metadata(&place).is_err() {
            // where it cannot, the job is reduced again
            let _ = fs::rename(entry.path(), &place);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Inputs;

    /// A run that dies between moving the earlier results aside and putting the new ones in their place.
    #[test]
    fn earlier_results_return_to_their_place() {
        let root = std::env::temp_dir().join(format!("fairpull-folder-{}", std::process::id()));
        let _ = fs::remove_dir_all(&root);
        let job = Job { name: "2025/car/job.toml".into(), path: "job.toml".into() };
        let files: [(&str, &[u8]); 1] = [("report.html", b"earlier")];
        let done = |job: &str| {
            let inputs = Inputs { program: "fairpull".into(), files: Vec::new() };
            Finished::new(job, inputs, "en", &files, Vec::new())
        };
        let aside = |root: &Path, key: &str| root.join(WORK).join(key.to_owned() + BEFORE);
        let folder = Folder::open(&root).unwrap();
        folder.commit(&job, &files, &done(&job.name)).unwrap();
        let place = folder.place(&job);
        fs::rename(&place, aside(&root, &key(&job.name))).unwrap();
        drop(folder);
        let folder = Folder::open(&root).unwrap();
        assert_eq!(fs::read(place.join("report.html")).unwrap(), b"earlier");
        assert_eq!(folder.finished(&job), Some(done(&job.name)));
        // under a name that is not that of the job, or leads out of the folder, it is cleared
        for (mark, name) in [(job.name.as_str(), "other"), ("../out", "../out")] {
            fs::rename(&place, aside(&root, &key(name))).unwrap();
            let text = serde_json::to_string(&done(mark)).unwrap();
            fs::write(aside(&root, &key(name)).join(DONE), text).unwrap();
            put_back(&root);
            assert!(!place.exists() && !root.join("out").exists());
            fs::rename(aside(&root, &key(name)), &place).unwrap();
        }
        drop(folder);
        fs::remove_dir_all(&root).unwrap();
    }
}
