//! Appending: one transaction, numbers without gaps, the same id is one record.

use records::{Draft, Record, RecordId};
use rusqlite::{Connection, OptionalExtension, Transaction, TransactionBehavior, params};

use super::{COLUMNS, Sqlite, read_row};
use crate::error::StoreError;
use crate::wire::{Row, WireError};

/// What became of each draft.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Appended {
    /// Written now, on disk.
    pub written: Vec<Record>,
    /// Written before: the same id saying the same. May have been withdrawn since.
    pub already: Vec<Already>,
    /// Not written.
    pub refused: Vec<Refused>,
}

/// A draft that was in the journal before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Already {
    /// Its id.
    pub id: RecordId,
    /// Its place in the journal.
    pub sequence: u64,
}

/// A draft that was not written.
#[derive(Clone, Debug, PartialEq)]
pub struct Refused {
    /// The draft.
    pub draft: Draft,
    /// Why.
    pub why: Refusal,
}

/// Why a draft was not written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// A record of this id says something else: a doubt for the keeper.
    SaysOtherwise {
        /// The place of that record in the journal.
        sequence: u64,
    },
    /// It has no written form.
    CannotBeKept(WireError),
}

impl Sqlite {
    /// Writes all drafts that can be written, in one transaction, and says what became of each.
    pub(crate) fn append(&mut self, drafts: Vec<Draft>) -> Result<Appended, StoreError> {
        let failed = StoreError::database("write", &self.path);
        let tx = self
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(&failed)?;
        let mut next = head(&tx).map_err(&failed)? + 1;
        let mut done = Appended::default();
        for draft in drafts {
            match append_one(&tx, &draft, next).map_err(&failed)? {
                Ok(None) => {
                    done.written.push(Record { sequence: next, draft });
                    next += 1;
                }
                Ok(Some(already)) => done.already.push(already),
                Err(why) => done.refused.push(Refused { draft, why }),
            }
        }
        tx.commit().map_err(&failed)?;
        Ok(done)
    }
}

/// Writes one draft as number `next`, unless a record of its id is there.
fn append_one(
    tx: &Transaction<'_>,
    draft: &Draft,
    next: u64,
) -> rusqlite::Result<Result<Option<Already>, Refusal>> {
    let mut row = match Row::of(draft) {
        Ok(row) => row,
        Err(why) => return Ok(Err(Refusal::CannotBeKept(why))),
    };
    row.sequence = next;
    if insert(tx, &row)? {
        return Ok(Ok(None));
    }
    let Some(there) = find(tx, row.id)? else {
        return Err(rusqlite::Error::QueryReturnedNoRows);
    };
    let sequence = there.sequence;
    // A row that cannot be read proves nothing; it is reported by its own reading.
    Ok(match there.says_the_same(&row) {
        Ok(true) => Ok(Some(Already { id: row.id, sequence })),
        _ => Err(Refusal::SaysOtherwise { sequence }),
    })
}

/// The newest number.
pub(super) fn head(connection: &Connection) -> rusqlite::Result<u64> {
    connection
        .prepare_cached("SELECT coalesce(max(sequence), 0) FROM record")?
        .query_row([], |row| row.get(0))
}

/// Writes rows under the numbers they carry.
pub(super) fn insert_numbered(tx: &Transaction<'_>, rows: &[Row]) -> rusqlite::Result<()> {
    rows.iter().try_for_each(|row| insert(tx, row).map(|_| ()))
}

/// Whether the row was written; false where a record of its id is there.
fn insert(tx: &Transaction<'_>, row: &Row) -> rusqlite::Result<bool> {
    let sql = format!(
        "INSERT INTO record ({COLUMNS}) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)
         ON CONFLICT (id) DO NOTHING"
    );
    let written = tx.prepare_cached(&sql)?.execute(params![
        row.sequence,
        row.id.bytes(),
        row.happened,
        row.written,
        row.who,
        row.batch.map(|b| b.0.bytes()),
        row.source.as_ref().map(|s| &s.file),
        row.source.as_ref().map(|s| s.line),
        row.version,
        row.body,
    ])?;
    Ok(written == 1)
}

fn find(tx: &Transaction<'_>, id: RecordId) -> rusqlite::Result<Option<Row>> {
    let sql = format!("SELECT {COLUMNS} FROM record WHERE id = ?1");
    tx.prepare_cached(&sql)?.query_row([id.bytes()], read_row).optional()
}
