//! The journal on SQLite: write-ahead log, every commit on disk before it is acknowledged.

mod append;
mod layout;

use std::path::{Path, PathBuf};

use records::{BatchId, RecordId};
use rusqlite::{Connection, OpenFlags};

pub use append::{Already, Appended, Refusal, Refused};

use crate::error::StoreError;
use crate::wire::{Row, RowSource};

const COLUMNS: &str = "sequence, id, happened, written, who, batch, file, line, version, body";

/// The journal in one SQLite file.
#[derive(Debug)]
pub(crate) struct Sqlite {
    connection: Connection,
    path: PathBuf,
}

impl Sqlite {
    /// Lays out an empty file and writes the first rows with it, in one transaction.
    pub(crate) fn create(path: &Path, first: &[Row]) -> Result<Self, StoreError> {
        let mut journal = Self::connect(path, OpenFlags::SQLITE_OPEN_READ_WRITE)?;
        layout::create(&mut journal.connection, path, |tx| append::insert_numbered(tx, first))?;
        Ok(journal)
    }

    /// Opens a laid-out file for writing and brings it to the newest layout.
    pub(crate) fn open(path: &Path) -> Result<Self, StoreError> {
        let mut journal = Self::connect(path, OpenFlags::SQLITE_OPEN_READ_WRITE)?;
        layout::bring_up(&mut journal.connection, path)?;
        Ok(journal)
    }

    /// Opens a laid-out file to read, beside a writer or alone.
    pub(crate) fn open_read_only(path: &Path) -> Result<Self, StoreError> {
        let journal = Self::connect(path, OpenFlags::SQLITE_OPEN_READ_ONLY)?;
        layout::check(&journal.connection, path)?;
        Ok(journal)
    }

    fn connect(path: &Path, access: OpenFlags) -> Result<Self, StoreError> {
        let failed = StoreError::database("open the journal", path);
        let flags = access | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let connection = Connection::open_with_flags(path, flags).map_err(&failed)?;
        connection.busy_timeout(std::time::Duration::from_secs(5)).map_err(&failed)?;
        connection.pragma_update(None, "synchronous", "FULL").map_err(&failed)?;
        connection.pragma_update(None, "trusted_schema", "OFF").map_err(&failed)?;
        Ok(Self { connection, path: path.to_owned() })
    }

    /// The number of the newest record; 0 for an empty journal.
    pub(crate) fn head(&self) -> Result<u64, StoreError> {
        append::head(&self.connection).map_err(StoreError::database("read", &self.path))
    }

    /// How many records there are.
    pub(crate) fn count(&self) -> Result<u64, StoreError> {
        self.connection
            .query_row("SELECT count(*) FROM record", [], |row| row.get(0))
            .map_err(StoreError::database("read", &self.path))
    }

    /// Every row from number `first` on, in order.
    pub(crate) fn read_from(
        &self,
        first: u64,
        mut each: impl FnMut(Row) -> Result<(), StoreError>,
    ) -> Result<(), StoreError> {
        let failed = StoreError::database("read", &self.path);
        let sql = format!("SELECT {COLUMNS} FROM record WHERE sequence >= ?1 ORDER BY sequence");
        let mut statement = self.connection.prepare_cached(&sql).map_err(&failed)?;
        let first = i64::try_from(first).unwrap_or(i64::MAX);
        let mut rows = statement.query([first]).map_err(&failed)?;
        while let Some(row) = rows.next().map_err(&failed)? {
            each(read_row(row).map_err(&failed)?)?;
        }
        Ok(())
    }

    /// What the database says of itself; empty when all is well.
    pub(crate) fn integrity(&self) -> Result<Vec<String>, StoreError> {
        let failed = StoreError::database("check", &self.path);
        let mut statement = self.connection.prepare("PRAGMA integrity_check").map_err(&failed)?;
        let said = statement.query_map([], |row| row.get::<_, String>(0)).map_err(&failed)?;
        let said: Vec<String> = said.collect::<Result<_, _>>().map_err(&failed)?;
        Ok(said.into_iter().filter(|line| line != "ok").collect())
    }
}

fn read_row(row: &rusqlite::Row<'_>) -> rusqlite::Result<Row> {
    let file: Option<String> = row.get(6)?;
    let line: Option<u32> = row.get(7)?;
    Ok(Row {
        sequence: row.get(0)?,
        id: RecordId::from_bytes(row.get(1)?),
        happened: row.get(2)?,
        written: row.get(3)?,
        who: row.get(4)?,
        batch: row.get::<_, Option<[u8; 16]>>(5)?.map(|b| BatchId(RecordId::from_bytes(b))),
        source: file.zip(line).map(|(file, line)| RowSource { file, line }),
        version: row.get(8)?,
        body: row.get(9)?,
    })
}
