//! Which tables the file has, by `user_version`, and the steps from one layout to the next.

use std::path::Path;

use rusqlite::{Connection, Transaction, TransactionBehavior};

use crate::error::StoreError;

/// Marks the file as ours ("CLWR"), so that no other database is taken for a journal.
const APPLICATION_ID: i64 = 0x434C_5752;

/// Numbered steps, never edited once released.
const STEPS: &[&str] = &[include_str!("../../migrations/sqlite/0001_record.sql")];

const NEWEST: i64 = STEPS.len() as i64;

fn number(connection: &Connection, name: &str) -> rusqlite::Result<i64> {
    connection.pragma_query_value(None, name, |row| row.get(0))
}

/// Lays out an empty file. All of it, `first` included, is there or nothing is.
pub(super) fn create(
    connection: &mut Connection,
    path: &Path,
    first: impl FnOnce(&Transaction<'_>) -> rusqlite::Result<()>,
) -> Result<(), StoreError> {
    let failed = StoreError::database("make the journal", path);
    connection.pragma_update(None, "journal_mode", "WAL").map_err(&failed)?;
    let tx =
        connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(&failed)?;
    tx.pragma_update(None, "application_id", APPLICATION_ID).map_err(&failed)?;
    take_steps(&tx, 0).map_err(&failed)?;
    first(&tx).map_err(&failed)?;
    tx.commit().map_err(&failed)
}

fn take_steps(tx: &Transaction<'_>, from: usize) -> rusqlite::Result<()> {
    for step in &STEPS[from..] {
        tx.execute_batch(step)?;
    }
    tx.pragma_update(None, "user_version", NEWEST)
}

/// Brings an older layout to the newest, all steps or none.
pub(super) fn bring_up(connection: &mut Connection, path: &Path) -> Result<(), StoreError> {
    match check(connection, path) {
        Err(StoreError::TooOld { found, .. }) => {
            let failed = StoreError::database("change the layout", path);
            let tx = connection
                .transaction_with_behavior(TransactionBehavior::Immediate)
                .map_err(&failed)?;
            take_steps(&tx, usize::try_from(found).unwrap_or_default()).map_err(&failed)?;
            tx.commit().map_err(&failed)
        }
        other => other,
    }
}

/// Whether the file is a journal in the newest layout.
pub(super) fn check(connection: &Connection, path: &Path) -> Result<(), StoreError> {
    let failed = StoreError::database("open the journal", path);
    let id = number(connection, "application_id").map_err(&failed)?;
    let found = number(connection, "user_version").map_err(&failed)?;
    let path = path.to_owned();
    match (id, found) {
        // What a process killed while it made the journal leaves behind.
        (0, 0) if is_empty(connection).map_err(&failed)? => {
            let dir = path.parent().map(Path::to_owned).unwrap_or_default();
            Err(StoreError::NoJournal { dir })
        }
        (APPLICATION_ID, NEWEST) => Ok(()),
        (APPLICATION_ID, 1..) if found < NEWEST => {
            Err(StoreError::TooOld { path, found, known: NEWEST })
        }
        (APPLICATION_ID, _) => Err(StoreError::TooNew { path, found, known: NEWEST }),
        _ => Err(StoreError::NotOurs { path }),
    }
}

fn is_empty(connection: &Connection) -> rusqlite::Result<bool> {
    connection.query_row("SELECT count(*) = 0 FROM sqlite_schema", [], |row| row.get(0))
}
