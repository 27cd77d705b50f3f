//! One writer at a time: a lock of the operating system, and a text that says who holds it.
//!
//! The lock ends with its process, however that ends; the text alone proves nothing.

use std::fmt;
use std::fs::{self, File, TryLockError};
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::error::StoreError;
use crate::folder;

/// Who writes to a folder.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Holder {
    /// Its process number, where it could be read.
    pub process: Option<u32>,
    /// The address it serves, where it serves one.
    pub address: Option<String>,
}

impl fmt::Display for Holder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.process {
            Some(process) => write!(f, "process {process}")?,
            None => f.write_str("another program")?,
        }
        match &self.address {
            Some(address) => {
                write!(f, ", which serves {address}: record it there, or stop it first")
            }
            None => f.write_str(": wait until it is done, or stop it first"),
        }
    }
}

impl Holder {
    fn read(dir: &Path) -> Self {
        let text = fs::read_to_string(folder::holder(dir)).unwrap_or_default();
        let value = |key: &str| {
            let line = text.lines().find_map(|l| l.strip_prefix(key)?.strip_prefix(" = "));
            line.map(str::to_owned).filter(|v| !v.is_empty())
        };
        Self { process: value("process").and_then(|p| p.parse().ok()), address: value("address") }
    }

    fn write(&self, dir: &Path) -> Result<(), StoreError> {
        let path = folder::holder(dir);
        let process = self.process.map_or_else(String::new, |p| p.to_string());
        let address = self.address.as_deref().unwrap_or_default().replace(['\n', '\r'], " ");
        let text = format!("process = {process}\naddress = {address}\n");
        let written = folder::private()
            .truncate(true)
            .open(&path)
            .and_then(|mut file| std::io::Write::write_all(&mut file, text.as_bytes()));
        written.map_err(StoreError::file("write", &path))
    }
}

/// Held by the one writer of a folder.
#[derive(Debug)]
pub(crate) struct WriterLock {
    dir: PathBuf,
    holder: Holder,
    _file: File,
}

impl WriterLock {
    /// Takes the lock, or says who has it.
    pub(crate) fn take(dir: &Path) -> Result<Self, StoreError> {
        let path = folder::lock(dir);
        let file = folder::private().open(&path).map_err(StoreError::file("open", &path))?;
        // Whoever asks `writer_of` holds the lock for a moment: that is no reason to give up.
        for patience in (0..10).rev() {
            match file.try_lock() {
                Ok(()) => break,
                Err(TryLockError::WouldBlock) if patience > 0 => {
                    std::thread::sleep(Duration::from_millis(10));
                }
                Err(TryLockError::WouldBlock) => {
                    return Err(StoreError::Busy {
                        dir: dir.to_owned(),
                        holder: Holder::read(dir),
                    });
                }
                Err(TryLockError::Error(source)) => {
                    return Err(StoreError::File { doing: "lock", path, source });
                }
            }
        }
        let holder = Holder { process: Some(std::process::id()), address: None };
        holder.write(dir)?;
        Ok(Self { dir: dir.to_owned(), holder, _file: file })
    }

    /// Tells readers the address served.
    pub(crate) fn announce(&mut self, address: &str) -> Result<(), StoreError> {
        self.holder.address = Some(address.to_owned());
        self.holder.write(&self.dir)
    }
}

impl Drop for WriterLock {
    fn drop(&mut self) {
        // Only tidiness: the next writer overwrites it.
        let _ = fs::remove_file(folder::holder(&self.dir));
    }
}

/// Who writes to the folder at this moment.
pub(crate) fn writer_of(dir: &Path) -> Option<Holder> {
    let file = File::open(folder::lock(dir)).ok()?;
    match file.try_lock_shared() {
        Err(TryLockError::WouldBlock) => Some(Holder::read(dir)),
        _ => None,
    }
}
