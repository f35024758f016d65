//! Why a run over an archive cannot go on.

use std::path::{Path, PathBuf};

/// Why a run over an archive cannot go on.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ArchiveError {
    /// Another run holds the folder.
    #[error(
        "{}: another run{} writes this folder; wait until it is done, or name another folder with --out", .lock.display(), by(holder)
    )]
    Locked {
        /// The lock.
        lock: PathBuf,
        /// What the other run wrote into it.
        holder: String,
    },
    /// The file system knows no locks.
    #[error("{}: cannot be locked: {why}; name a folder on a local disk with --out", .lock.display())]
    NoLock {
        /// The lock.
        lock: PathBuf,
        /// What the system said.
        why: std::io::Error,
    },
    /// The folder holds something else.
    #[error(
        "{}: this folder is not empty and holds no results of an archive ({name} is in it); name an empty one with --out", .folder.display()
    )]
    Foreign {
        /// The folder.
        folder: PathBuf,
        /// A file in it.
        name: String,
    },
    /// A file where the folder should be.
    #[error("{}: this is a file, not a folder; name another with --out", .0.display())]
    NoFolder(PathBuf),
    /// A result could not be written or read.
    #[error("{}: {what}: {why}", .path.display())]
    Output {
        /// File or folder.
        path: PathBuf,
        /// What was tried.
        what: &'static str,
        /// What the system said.
        why: std::io::Error,
    },
    /// The place of a job's results is taken by something else.
    #[error(
        "{}: {name} stands where the results of this job belong and is none of them; move it away, or name another folder with --out", .folder.display()
    )]
    Taken {
        /// The place.
        folder: PathBuf,
        /// What is in it.
        name: String,
    },
    /// A path that leads to no job.
    #[error("{}: {why}", .path.display())]
    Path {
        /// The path.
        path: PathBuf,
        /// What is wrong and how to mend it.
        why: String,
    },
    /// Two jobs would share one place.
    #[error(
        "{} and {} would both put their results into {name}; name a folder above both, or use two --out folders", .first.display(), .second.display()
    )]
    Twice {
        /// Name of the place.
        name: String,
        /// A job file.
        first: PathBuf,
        /// Another.
        second: PathBuf,
    },
    /// The table could not be made.
    #[error("{}: the table cannot be written: {why}", .path.display())]
    Table {
        /// The file.
        path: PathBuf,
        /// Why.
        why: String,
    },
}

fn by(holder: &str) -> String {
    if holder.is_empty() { String::new() } else { format!(" ({holder})") }
}

impl ArchiveError {
    /// True when the place of one job is at fault and other jobs may fare better.
    #[must_use]
    pub fn is_of_one_job(&self) -> bool {
        use std::io::ErrorKind::{AlreadyExists, InvalidFilename, IsADirectory, NotADirectory};
        match self {
            Self::Taken { .. } => true,
            Self::Output { why, .. } => {
                matches!(why.kind(), AlreadyExists | InvalidFilename | IsADirectory | NotADirectory)
            }
            _ => false,
        }
    }

    pub(crate) fn output(path: &Path, what: &'static str) -> impl FnOnce(std::io::Error) -> Self {
        let path = path.to_path_buf();
        move |why| Self::Output { path, what, why }
    }
}
