//! The file and its folder: made if missing, readable by the owner only.
//!
//! Owns permissions. Knows nothing of what is in the file.

use std::ffi::OsString;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::error::BookError;

/// Makes folder and file where missing and gives the path in full.
pub(super) fn prepare(path: &Path) -> Result<PathBuf, BookError> {
    let place = |e: io::Error| BookError::Place { path: path.to_owned(), why: e.to_string() };
    // Absolute, because SQLite gives names such as ":memory:" a meaning of their own.
    let path = std::path::absolute(path).map_err(place)?;
    if let Some(folder) = path.parent() {
        make_folder(folder).map_err(place)?;
    }
    make_file(&path).map_err(place)?;
    Ok(path)
}

/// The same path with something added to the file's name.
pub(super) fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = OsString::from(path);
    name.push(suffix);
    PathBuf::from(name)
}

fn make_folder(folder: &Path) -> io::Result<()> {
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(folder)
}

/// Makes an empty file with the owner's rights only, if there is none.
pub(super) fn make_file(path: &Path) -> io::Result<()> {
    let mut options = fs::OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    match options.open(path) {
        Err(e) if e.kind() == io::ErrorKind::AlreadyExists => Ok(()),
        other => other.map(|_| ()),
    }
}

/// Takes the rights of group and others away from a book and what stands beside it.
///
/// A file system without rights (some sticks) is accepted: there is nothing to take away.
pub(super) fn restrict(path: &Path) {
    for suffix in ["", "-wal", "-shm"] {
        restrict_one(&beside(path, suffix));
    }
}

#[cfg(unix)]
fn restrict_one(path: &Path) {
    use std::os::unix::fs::PermissionsExt;
    if let Ok(meta) = fs::metadata(path)
        && meta.permissions().mode() & 0o077 != 0
    {
        // Fails only where the file is another's or the file system has no rights; opening then tells more.
        let _ = fs::set_permissions(path, fs::Permissions::from_mode(0o600));
    }
}

#[cfg(not(unix))]
fn restrict_one(_: &Path) {}
