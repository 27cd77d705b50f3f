//! Every text file of the workspace, by path.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result};

/// Folders that hold nothing of ours.
const SKIPPED: &[&str] = &["target", ".git", "node_modules", "shots"];

/// The files of the workspace with their text, sorted by path; `/` parts the folders.
pub struct Tree {
    files: Vec<(String, String)>,
}

impl Tree {
    /// Reads every file that is text.
    pub fn read(root: &Path) -> Result<Self> {
        let mut files = Vec::new();
        walk(root, "", &mut files)?;
        files.sort();
        Ok(Self { files })
    }

    /// A tree of these files, for tests.
    #[cfg(test)]
    pub fn of(files: &[(&str, &str)]) -> Self {
        let mut files: Vec<_> =
            files.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())).collect();
        files.sort();
        Self { files }
    }

    /// Every file.
    pub fn all(&self) -> impl Iterator<Item = (&str, &str)> {
        self.files.iter().map(|(path, text)| (path.as_str(), text.as_str()))
    }

    /// Files under a folder (or of exactly that name) whose name ends so.
    pub fn under<'a>(
        &'a self,
        folder: &'a str,
        ending: &'a str,
    ) -> impl Iterator<Item = (&'a str, &'a str)> {
        self.all().filter(move |(path, _)| path.starts_with(folder) && path.ends_with(ending))
    }

    /// The text of one file.
    pub fn text(&self, path: &str) -> Option<&str> {
        self.all().find(|(p, _)| *p == path).map(|(_, text)| text)
    }
}

fn walk(folder: &Path, prefix: &str, files: &mut Vec<(String, String)>) -> Result<()> {
    let entries = fs::read_dir(folder).with_context(|| format!("reading {}", folder.display()))?;
    for entry in entries {
        let entry = entry?;
        let name = entry.file_name().to_string_lossy().into_owned();
        let path = format!("{prefix}{name}");
        let kind = entry.file_type()?;
        if kind.is_dir() {
            if !SKIPPED.contains(&name.as_str()) && !name.ends_with(".clutchwright") {
                walk(&entry.path(), &format!("{path}/"), files)?;
            }
        } else if kind.is_file()
            && let Ok(text) = fs::read_to_string(entry.path())
        {
            files.push((path, text));
        }
    }
    Ok(())
}
