//! What a preview says: verdicts, questions, counts, and what a commit writes.

use records::Draft;
use sha2::{Digest, Sha256};

/// The verdict on a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// New, and it fits.
    In,
    /// Everything it says is in the records.
    Already,
    /// New, but it clashes with another record.
    Doubt,
    /// It needs an answer first.
    Held,
    /// It cannot be read.
    Unreadable,
}

impl Verdict {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::In => "in",
            Self::Already => "already there",
            Self::Doubt => "in with doubt",
            Self::Held => "held",
            Self::Unreadable => "unreadable",
        }
    }
}

/// What is asked or named about a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// The file.
    pub file: String,
    /// Its line; the heading is line 1 in an ordinary file.
    pub line: u32,
    /// The column.
    pub column: String,
    /// The value.
    pub value: String,
    /// The verdict on the row.
    pub verdict: Verdict,
    /// What is wrong and what to do.
    pub why: String,
}

impl Question {
    /// Whether the row could be read at all.
    #[must_use]
    pub fn is_readable(&self) -> bool {
        self.verdict != Verdict::Unreadable
    }
}

/// One row with its verdict.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowPreview {
    /// Its line.
    pub line: u32,
    /// Its cells as written.
    pub cells: Vec<String>,
    /// Of a grid the place of the one cell it is about, from 0.
    pub place: Option<usize>,
    /// The verdict.
    pub verdict: Verdict,
    /// Why, where it is not simply in or already there.
    pub why: Vec<String>,
}

/// How many rows have which verdict.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// New.
    pub is_in: usize,
    /// Already there.
    pub already: usize,
    /// In with doubt.
    pub doubt: usize,
    /// Held.
    pub held: usize,
    /// Unreadable.
    pub unreadable: usize,
}

impl Counts {
    /// All rows.
    #[must_use]
    pub const fn rows(&self) -> usize {
        self.is_in + self.already + self.doubt + self.held + self.unreadable
    }
}

/// One sheet with the verdicts on its rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FilePreview {
    /// File name, with the worksheet behind `#` in a workbook of several.
    pub file: String,
    /// What it lists; empty where it was not recognised.
    pub kind: String,
    /// Counts of verdicts; they add up to the rows.
    pub counts: Counts,
    /// The rows.
    pub rows: Vec<RowPreview>,
}

/// All sheets with the verdicts on their rows, and what a commit writes.
#[derive(Clone, Debug)]
pub struct Preview {
    /// The sheets.
    pub files: Vec<FilePreview>,
    /// What is asked or named, in order of files and lines.
    pub questions: Vec<Question>,
    /// Rows that waited since an earlier import and can be taken now, by file.
    pub waited: Vec<FilePreview>,
    /// Exactly what a commit writes, in this order.
    pub drafts: Vec<Draft>,
}

impl Preview {
    /// A digest of every verdict and of every draft but for the moment it is written at: the same
    /// for two previews exactly where a commit of either writes the same.
    #[must_use]
    pub fn fingerprint(&self) -> String {
        let mut digest = Sha256::new();
        for file in &self.files {
            digest.update(format!("{}\n{}\n{:?}\n", file.file, file.kind, file.rows));
        }
        for draft in &self.drafts {
            let Draft { id, when, source, fact, .. } = draft;
            digest.update(format!("{id} {when} {source:?} {fact:?}\n"));
        }
        digest.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
    }
}
