//! The envelope round a fact: who wrote it, when, from where.

use units::{Instant, When};

use crate::facts::Fact;
use crate::ids::{BatchId, RecordId};

/// Where in a file a record was read.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Source {
    /// File name without its folder.
    pub file: String,
    /// Line of the file; the heading is line 1.
    pub line: u32,
}

/// A record before the store has numbered it.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// Made by the device or derived from the row; the same id twice is one record.
    pub id: RecordId,
    /// When it happened, as exact as it was written.
    pub when: When,
    /// When it was written down.
    pub written: Instant,
    /// Who wrote it.
    pub who: String,
    /// The batch it belongs to.
    pub batch: Option<BatchId>,
    /// The row it was read from, for an imported record.
    pub source: Option<Source>,
    /// What it says.
    pub fact: Fact,
}

/// A record as it stands in the journal.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// Place in the journal: 1, 2, 3, without gaps.
    pub sequence: u64,
    /// Everything else.
    pub draft: Draft,
}

impl Record {
    /// Its id.
    #[must_use]
    pub const fn id(&self) -> RecordId {
        self.draft.id
    }
}
