//! One record as stored: plain columns and the fact as JSON text.

use records::{BatchId, Draft, Record, RecordId, Source};
use units::Instant;

use super::{NEWEST, WireError, decode, encode};

/// Where in a file a record was read, as stored.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowSource {
    /// File name without its folder.
    pub file: String,
    /// Line of the file; the heading is line 1.
    pub line: u32,
}

/// One record as stored. Its body keeps the bytes it was written with, whatever version came later.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Place in the journal; 0 before the journal has numbered it.
    pub sequence: u64,
    /// The record's id.
    pub id: RecordId,
    /// When it happened, in the text form of [`units::When`].
    pub happened: String,
    /// When it was written, RFC 3339 in UTC.
    pub written: String,
    /// Who wrote it.
    pub who: String,
    /// Its batch.
    pub batch: Option<BatchId>,
    /// The row of a sheet it was read from.
    pub source: Option<RowSource>,
    /// Version of the body.
    pub version: u32,
    /// The fact as JSON.
    pub body: String,
}

impl Row {
    /// Writes a draft in the newest version and reads it back before anyone stores it.
    ///
    /// # Errors
    /// [`WireError::CannotBeKept`] when it would not read back the same.
    pub fn of(draft: &Draft) -> Result<Self, WireError> {
        let row = Self {
            sequence: 0,
            id: draft.id,
            happened: draft.when.to_string(),
            written: draft.written.to_string(),
            who: draft.who.clone(),
            batch: draft.batch,
            source: draft.source.as_ref().map(|s| RowSource { file: s.file.clone(), line: s.line }),
            version: NEWEST,
            body: encode(&draft.fact)?,
        };
        let back = row.draft().map_err(|e| WireError::CannotBeKept(e.to_string()))?;
        if back == *draft {
            Ok(row)
        } else {
            Err(WireError::CannotBeKept(format!("it would read back as {}", row.body)))
        }
    }

    /// What the row says.
    ///
    /// # Errors
    /// [`WireError`] for a later version or a damaged text.
    pub fn draft(&self) -> Result<Draft, WireError> {
        let not_understood = |e: units::calendar::DayError| WireError::NotUnderstood(e.to_string());
        Ok(Draft {
            id: self.id,
            when: self.happened.parse().map_err(not_understood)?,
            written: self.written.parse::<Instant>().map_err(not_understood)?,
            who: self.who.clone(),
            batch: self.batch,
            source: self.source.as_ref().map(|s| Source { file: s.file.clone(), line: s.line }),
            fact: decode(self.version, &self.body)?,
        })
    }

    /// The numbered record.
    ///
    /// # Errors
    /// As [`Row::draft`].
    pub fn record(&self) -> Result<Record, WireError> {
        Ok(Record { sequence: self.sequence, draft: self.draft()? })
    }

    /// Whether both say that the same thing happened at the same time. Who sent it, in which
    /// batch and from which line may differ: a sheet that has grown is the same sheet.
    pub(crate) fn says_the_same(&self, other: &Self) -> Result<bool, WireError> {
        if self.happened != other.happened {
            return Ok(false);
        }
        if self.version == other.version {
            return Ok(self.body == other.body);
        }
        Ok(decode(self.version, &self.body)? == decode(other.version, &other.body)?)
    }
}
