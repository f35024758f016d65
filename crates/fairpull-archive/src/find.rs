//! Job files below the paths somebody names.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Component, Path, PathBuf};

use crate::ArchiveError;

/// A job of an archive.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// Name in the results: the path below the folder that was named, with `/`.
    pub name: String,
    /// Where it lies.
    pub path: PathBuf,
}

/// Every job of the named files and folders, sorted by name; what could not be looked into stands beside them.
///
/// A file that is named is a job whatever it is called. A folder is searched with everything below it for `job.toml`
/// and `*.job.toml`; folders whose name begins with a dot, links to folders, and `leave_out` (the folder of results)
/// are passed over.
///
/// # Errors
/// [`ArchiveError::Path`] for a path that is neither, or a folder without a job; [`ArchiveError::Twice`] where two jobs
/// would share one place.
pub fn find(
    paths: &[PathBuf],
    leave_out: Option<&Path>,
) -> Result<(Vec<Job>, Vec<ArchiveError>), ArchiveError> {
    let leave_out = leave_out.and_then(|p| fs::canonicalize(p).ok());
    let mut jobs = BTreeMap::new();
    let mut seen = std::collections::BTreeSet::new();
    let mut unread = Vec::new();
    for path in paths {
        let at = |why: String| ArchiveError::Path { path: path.clone(), why };
        let meta = fs::metadata(path).map_err(|e| at(plain(&e)))?;
        let before = (seen.len(), unread.len());
        if meta.is_dir() {
            let mut found = Vec::new();
            below(path, leave_out.as_deref(), &mut found, &mut unread);
            for e in unread.iter_mut().skip(before.1) {
                shorten(e, path);
            }
            if found.is_empty() && unread.len() == before.1 {
                return Err(at(
                    "no job lies in this folder or below it; looked for job.toml and *.job.toml".into()
                ));
            }
            for file in found {
                let name = file.strip_prefix(path).map_or_else(|_| named(&file), named);
                add(&mut jobs, &mut seen, name, file)?;
            }
        } else {
            let plain = path.components().all(|c| matches!(c, Component::Normal(_) | Component::CurDir));
            let whole = if plain { Ok(path.clone()) } else { fs::canonicalize(path) };
            let name = named(&whole.map_err(|e| at(e.to_string()))?);
            add(&mut jobs, &mut seen, name, path.clone())?;
        }
    }
    let nested = jobs.keys().find_map(|name: &String| {
        let above =
            name.match_indices('/').filter_map(|(i, _)| name.get(..i)).find(|a| jobs.contains_key(*a))?;
        Some((above.to_owned(), name.clone()))
    });
    if let Some((above, name)) = nested {
        let path = |n: &String| jobs.get(n).cloned().unwrap_or_default();
        return Err(ArchiveError::Twice { first: path(&above), second: path(&name), name: above });
    }
    Ok((jobs.into_iter().map(|(name, path)| Job { name, path }).collect(), unread))
}

fn add(
    jobs: &mut BTreeMap<String, PathBuf>,
    seen: &mut std::collections::BTreeSet<PathBuf>,
    name: String,
    path: PathBuf,
) -> Result<(), ArchiveError> {
    // the same place by another path is one job, not two; a link to a job file elsewhere is a job of its own, for its
    // logs lie beside the link
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."));
    let place = fs::canonicalize(folder).ok().zip(path.file_name()).map(|(folder, name)| folder.join(name));
    if !seen.insert(place.unwrap_or_else(|| path.clone())) {
        return Ok(());
    }
    match jobs.get(&name) {
        Some(first) => Err(ArchiveError::Twice { first: first.clone(), second: path, name }),
        None => {
            jobs.insert(name, path);
            Ok(())
        }
    }
}

/// The parts of a path that are names, joined by `/`.
fn named(path: &Path) -> String {
    let parts: Vec<_> = path
        .components()
        .filter_map(|c| match c {
            Component::Normal(part) => Some(part.to_string_lossy()),
            _ => None,
        })
        .collect();
    parts.join("/")
}

fn below(top: &Path, leave_out: Option<&Path>, found: &mut Vec<PathBuf>, unread: &mut Vec<ArchiveError>) {
    let mut folders = vec![top.to_path_buf()];
    while let Some(folder) = folders.pop() {
        let entries = fs::read_dir(&folder).and_then(Iterator::collect::<Result<Vec<_>, _>>);
        let entries = match entries {
            Ok(entries) => entries,
            Err(e) => {
                let why = format!("this folder cannot be read: {}; its jobs are left out", plain(&e));
                unread.push(ArchiveError::Path { path: folder, why });
                continue;
            }
        };
        for entry in entries {
            let name = entry.file_name();
            let name = name.to_string_lossy();
            let path = entry.path();
            let is_folder = entry.file_type().is_ok_and(|t| t.is_dir());
            let is_result = || leave_out.is_some_and(|o| fs::canonicalize(&path).is_ok_and(|p| p == o));
            if is_folder && !name.starts_with('.') && !is_result() {
                folders.push(path);
            } else if !is_folder && (name == "job.toml" || name.ends_with(".job.toml")) && !path.is_dir() {
                found.push(path);
            }
        }
    }
}

/// A place in the archive is told by its path below the folder that was named.
fn shorten(e: &mut ArchiveError, folder: &Path) {
    if let ArchiveError::Path { path, .. } = e
        && let Ok(inside) = path.strip_prefix(folder)
        && !inside.as_os_str().is_empty()
    {
        *path = inside.to_path_buf();
    }
}

fn plain(e: &std::io::Error) -> String {
    match e.kind() {
        std::io::ErrorKind::NotFound => "there is no such file".into(),
        _ => e.to_string(),
    }
}
