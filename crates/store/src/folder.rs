//! The data folder: which files it holds, and that only their owner reads them.

use std::fs::{self, File, OpenOptions};
use std::path::{Path, PathBuf};

use crate::error::StoreError;

/// The database.
pub(crate) fn journal(dir: &Path) -> PathBuf {
    dir.join("journal.sqlite")
}

/// Locked by the operating system for as long as somebody writes; always empty.
pub(crate) fn lock(dir: &Path) -> PathBuf {
    dir.join("writer.lock")
}

/// Says in words who writes. Apart from the lock: some systems let nobody read a locked file.
pub(crate) fn holder(dir: &Path) -> PathBuf {
    dir.join("writer.txt")
}

/// Makes the folder, closed to everyone else. A folder that already holds files keeps its mode.
pub(crate) fn make(dir: &Path) -> Result<(), StoreError> {
    let failed = || StoreError::file("make the folder", dir);
    fs::create_dir_all(dir).map_err(failed())?;
    let empty = fs::read_dir(dir).map_err(failed())?.next().is_none();
    if empty {
        close_to_others(dir).map_err(failed())?;
    }
    Ok(())
}

#[cfg(unix)]
fn close_to_others(dir: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(dir, fs::Permissions::from_mode(0o700))
}

#[cfg(not(unix))]
fn close_to_others(_dir: &Path) -> std::io::Result<()> {
    Ok(())
}

/// Options for a file that only its owner may read and write.
pub(crate) fn private() -> OpenOptions {
    let mut options = OpenOptions::new();
    options.read(true).write(true).create(true).truncate(false);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(0o600);
    }
    options
}

/// Makes an empty private file where there is none, and puts its name on disk. SQLite gives its
/// side files the mode of the database.
pub(crate) fn touch(path: &Path) -> Result<(), StoreError> {
    private().open(path).and_then(|f| f.sync_all()).map_err(StoreError::file("write", path))?;
    sync_names(path);
    Ok(())
}

/// Puts the names of a file's folder on disk, where the system can do that.
pub(crate) fn sync_names(path: &Path) {
    if let Some(dir) = path.parent()
        && let Ok(dir) = File::open(dir)
    {
        // Windows opens no folder as a file, and writes names through by itself.
        let _ = dir.sync_all();
    }
}
