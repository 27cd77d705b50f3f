//! Small private texts beside the journal: what is no record, and yet must outlive the program.

use std::fs;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use crate::error::StoreError;
use crate::folder;
use crate::store::Store;

/// A text in the data folder that only its owner reads.
#[derive(Clone, Debug)]
pub struct Beside(PathBuf);

impl Beside {
    pub(crate) fn of(dir: &Path, name: &str) -> Self {
        Self(dir.join(name))
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.0
    }

    /// The text; none where there is no such file.
    ///
    /// # Errors
    /// What the file system says.
    pub fn read(&self) -> Result<Option<String>, StoreError> {
        match fs::read_to_string(&self.0) {
            Ok(text) => Ok(Some(text)),
            Err(why) if why.kind() == ErrorKind::NotFound => Ok(None),
            Err(why) => Err(StoreError::file("read", &self.0)(why)),
        }
    }

    /// Replaces the text. A reader finds the one before or this one, never half of it.
    ///
    /// # Errors
    /// What the file system says; the text before stands then.
    pub fn write(&self, text: &str) -> Result<(), StoreError> {
        let part = self.0.with_extension("part");
        let failed = || StoreError::file("write", &part);
        let mut opened = folder::private().truncate(true).open(&part).map_err(failed())?;
        opened.write_all(text.as_bytes()).map_err(failed())?;
        opened.sync_all().map_err(failed())?;
        fs::rename(&part, &self.0).map_err(StoreError::file("write", &self.0))?;
        folder::sync_names(&self.0);
        Ok(())
    }
}

impl Store {
    /// The private text of that name in this folder, such as `phones.txt`.
    #[must_use]
    pub fn beside(&self, name: &str) -> Beside {
        Beside::of(self.dir(), name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_whole_and_private() {
        let dir = tempfile::tempdir().expect("a folder");
        let text = Beside::of(dir.path(), "words.txt");
        assert_eq!(text.read().expect("read"), None);
        for said in ["one\n", "two, longer\n", ""] {
            text.write(said).expect("written");
            assert_eq!(text.read().expect("read").as_deref(), Some(said));
        }
        assert_eq!(fs::read_dir(dir.path()).expect("listed").count(), 1, "nothing is left over");
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            let mode = fs::metadata(text.path()).expect("there").permissions().mode();
            assert_eq!(mode & 0o777, 0o600);
        }
    }
}
