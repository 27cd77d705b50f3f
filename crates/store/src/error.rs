//! What can go wrong with a data folder. Each message says what is wrong and what to do next.

use std::path::{Path, PathBuf};

use thiserror::Error;

use crate::lock::Holder;
use crate::text::TextError;
use crate::wire::WireError;

/// What can go wrong with a data folder.
#[derive(Debug, Error)]
pub enum StoreError {
    /// There is no journal in the folder.
    #[error(
        "there is no journal in {}: check the path of the data folder, or make one there by \
         importing your sheets", .dir.display()
    )]
    NoJournal {
        /// The folder.
        dir: PathBuf,
    },
    /// A new journal was asked for where one already is.
    #[error(
        "{} already holds a journal: open that one, or name an empty folder", .dir.display()
    )]
    AlreadyThere {
        /// The folder.
        dir: PathBuf,
    },
    /// Another program writes to the folder.
    #[error("{} is being written to by {holder}", .dir.display())]
    Busy {
        /// The folder.
        dir: PathBuf,
        /// Who writes.
        holder: Holder,
    },
    /// A write to a store that was opened to read.
    #[error("this folder was opened to read only: open it for writing first")]
    ReadOnly,
    /// The file is a database of something else.
    #[error(
        "{} is a database of another program: name the folder that holds your journal",
        .path.display()
    )]
    NotOurs {
        /// The file.
        path: PathBuf,
    },
    /// A later program made the folder.
    #[error(
        "{} has layout {found} and this program knows layouts up to {known}: install the newest \
         program", .path.display()
    )]
    TooNew {
        /// The file.
        path: PathBuf,
        /// Its layout.
        found: i64,
        /// The newest layout known here.
        known: i64,
    },
    /// An earlier program made the folder and nobody has opened it for writing since.
    #[error(
        "{} still has layout {found}: start the program once for writing (`serve` or `import`) \
         to bring it to layout {known}", .path.display()
    )]
    TooOld {
        /// The file.
        path: PathBuf,
        /// Its layout.
        found: i64,
        /// The layout needed.
        known: i64,
    },
    /// The database file is damaged.
    #[error(
        "the journal {} is damaged ({detail}): write nothing more to it, keep a copy of the whole \
         folder, and restore your last text export into an empty folder", .path.display()
    )]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What the database says.
        detail: String,
    },
    /// A record could not be read.
    #[error("record {sequence} cannot be read: {why}")]
    Unreadable {
        /// Its place in the journal.
        sequence: u64,
        /// Why.
        why: WireError,
    },
    /// The numbers of the records are not 1, 2, 3 without gaps.
    #[error(
        "record {expected} of the journal is missing (found {found}): keep a copy of the folder \
         and restore your last text export into an empty folder"
    )]
    Gap {
        /// The number that should come next.
        expected: u64,
        /// The number found.
        found: u64,
    },
    /// No record says in which time zone the room is.
    #[error(
        "no record says in which time zone the room is: add a setting named `zone`, such as \
         Europe/Berlin"
    )]
    NoZone,
    /// The file that says on which day a made-up room stands holds no day.
    #[error("{} holds no day: write one in it, such as 2026-02-13", .path.display())]
    NoDay {
        /// The file.
        path: PathBuf,
    },
    /// A text export could not be read.
    #[error(transparent)]
    Text(#[from] TextError),
    /// The file system refused.
    #[error("could not {doing} {}: {source}. Check that the disk has room and that you may write there", .path.display())]
    File {
        /// What was tried.
        doing: &'static str,
        /// With which file.
        path: PathBuf,
        /// Its answer.
        source: std::io::Error,
    },
    /// The database refused.
    #[error(
        "could not {doing} in {}: {source}. Nothing of it was written: check that the disk has \
         room, then try again", .path.display()
    )]
    Database {
        /// What was tried.
        doing: &'static str,
        /// In which file.
        path: PathBuf,
        /// Its answer.
        source: rusqlite::Error,
    },
}

impl StoreError {
    pub(crate) fn file(doing: &'static str, path: &Path) -> impl FnOnce(std::io::Error) -> Self {
        let path = path.to_owned();
        move |source| Self::File { doing, path, source }
    }

    pub(crate) fn database(
        doing: &'static str,
        path: &Path,
    ) -> impl Fn(rusqlite::Error) -> Self + use<> {
        let path = path.to_owned();
        move |source| match source.sqlite_error_code() {
            Some(rusqlite::ErrorCode::DatabaseCorrupt | rusqlite::ErrorCode::NotADatabase) => {
                Self::Damaged { path: path.clone(), detail: source.to_string() }
            }
            _ => Self::Database { doing, path: path.clone(), source },
        }
    }
}
