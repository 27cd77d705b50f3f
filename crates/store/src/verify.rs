//! Whether a journal is whole: the file, the numbers, the ids and every text in it.

use std::collections::HashMap;
use std::fmt;

use records::RecordId;
use sha2::{Digest, Sha256};

use crate::error::StoreError;
use crate::sqlite::Sqlite;
use crate::text;
use crate::wire::WireError;

/// What a check of the whole journal found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Verified {
    /// Records read.
    pub records: u64,
    /// SHA-256 of the text export, in hexadecimal: `sha256sum` of the exported file says the same.
    pub digest: String,
    /// What is wrong; empty when all is well.
    pub findings: Vec<Finding>,
}

/// One thing wrong with a journal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Finding {
    /// The database says so.
    Database(String),
    /// Numbers are not 1, 2, 3 without gaps.
    Gap {
        /// The number that should come next.
        expected: u64,
        /// The number found.
        found: u64,
    },
    /// Two records of one id.
    IdTwice {
        /// The id.
        id: RecordId,
        /// The first.
        first: u64,
        /// The second.
        second: u64,
    },
    /// A record that cannot be read.
    Unreadable {
        /// Its number.
        sequence: u64,
        /// Why.
        why: WireError,
    },
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Database(said) => write!(f, "the database file: {said}")?,
            Self::Gap { expected, found } => {
                write!(f, "record {expected} is missing (found {found})")?;
            }
            Self::IdTwice { id, first, second } => {
                write!(f, "records {first} and {second} have the same id {id}")?;
            }
            Self::Unreadable { sequence, why } => return write!(f, "record {sequence}: {why}"),
        }
        f.write_str(": keep a copy of the folder and restore your last text export")
    }
}

pub(crate) fn verify(journal: &Sqlite) -> Result<Verified, StoreError> {
    let mut findings: Vec<Finding> =
        journal.integrity()?.into_iter().map(Finding::Database).collect();
    let mut hash = Sha256::new();
    let mut seen: HashMap<RecordId, u64> = HashMap::new();
    let mut records = 0;
    let mut expected = 1;
    // Writing into memory cannot fail; a body that is no JSON is a finding of its own below.
    let mut hashed = Vec::new();
    let _ = text::write_heading(&mut hashed, journal.count()?);
    journal.read_from(0, |row| {
        let found = row.sequence;
        if found != expected {
            findings.push(Finding::Gap { expected, found });
        }
        expected = found + 1;
        records += 1;
        if let Some(first) = seen.insert(row.id, found) {
            findings.push(Finding::IdTwice { id: row.id, first, second: found });
        }
        if let Err(why) = row.draft() {
            findings.push(Finding::Unreadable { sequence: found, why });
        }
        let _ = text::write_row(&mut hashed, &row);
        hash.update(&hashed);
        hashed.clear();
        Ok(())
    })?;
    let digest = hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect();
    Ok(Verified { records, digest, findings })
}
