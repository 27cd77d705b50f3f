//! Facts about the records themselves.

use std::collections::BTreeMap;

use units::When;

use crate::facts::Fact;
use crate::ids::{BatchId, RecordId};

/// A setting of the room, such as a limit of a rule. Which names exist is decided by who reads it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Set {
    /// Name, such as `female_least_grams`.
    pub name: String,
    /// Value as text; empty means the default again.
    pub value: String,
}

/// A row of a sheet that could not be taken without an answer, kept word for word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Held {
    /// Kind of sheet, or empty where it was not recognised.
    pub sheet: String,
    /// The headings as written.
    pub headings: Vec<String>,
    /// The cells as written.
    pub cells: Vec<String>,
    /// The column that needs the answer.
    pub column: String,
    /// The cell that needs the answer.
    pub value: String,
    /// Whether the row could be read at all.
    pub readable: bool,
    /// What is wrong and what to do, as a sentence.
    pub why: String,
    /// How the sheet was read: what each column meant, order of dates and the like, as words of the
    /// importer. None where the row was held before that was kept.
    pub read_as: Option<BTreeMap<String, String>>,
}

/// An earlier record is replaced; the earlier text stays in the journal.
#[derive(Clone, Debug, PartialEq)]
pub struct Corrected {
    /// The record replaced.
    pub record: RecordId,
    /// When it really happened.
    pub when: When,
    /// What really happened; the same kind of fact.
    pub fact: Box<Fact>,
}

/// What a retraction withdraws.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Target {
    /// One record. A retraction may itself be retracted: that restores what it withdrew.
    Record(RecordId),
    /// Every record of a batch.
    Batch(BatchId),
}

/// An earlier record, or a whole batch, is withdrawn; it stays in the journal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Retracted {
    /// What is withdrawn.
    pub what: Target,
    /// Why, in the keeper's words; may be empty.
    pub why: String,
}
