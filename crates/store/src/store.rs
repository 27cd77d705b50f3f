//! One data folder: open it, append drafts, read records.

use std::io::{BufRead, BufWriter, Write};
use std::path::{Path, PathBuf};

use records::{Draft, Fact, Live, Record, facts::Set};
use units::{Day, When, Zone};

use crate::error::StoreError;
use crate::folded::FoldedCell;
use crate::folder;
use crate::lock::{Holder, WriterLock, writer_of};
use crate::sqlite::{Appended, Sqlite};
use crate::text;
use crate::verify::{Verified, verify};
use crate::wire::Row;
use crate::{made_up, new_id, now};

/// The setting that names the room's time zone. The first record of every journal sets it.
pub const ZONE_SETTING: &str = "zone";

/// The journal of one data folder, and what was read of it.
#[derive(Debug)]
pub struct Store {
    dir: PathBuf,
    journal: Sqlite,
    lock: Option<WriterLock>,
    records: Vec<Record>,
    folded: FoldedCell,
    pub(crate) made_up: Option<Day>,
}

impl Store {
    /// Makes the folder and a journal whose first record is the room's zone; opens it to write.
    ///
    /// # Errors
    /// [`StoreError::AlreadyThere`], [`StoreError::Busy`], or what the file system says.
    pub fn create(dir: &Path, zone: &Zone) -> Result<Self, StoreError> {
        let fact = Fact::Set(Set { name: ZONE_SETTING.into(), value: zone.name().into() });
        let first = Draft {
            id: new_id(),
            when: When::Undated,
            written: now(),
            who: String::new(),
            batch: None,
            source: None,
            fact,
        };
        let row = Row::of(&first).map_err(|why| StoreError::Unreadable { sequence: 1, why })?;
        Self::create_with(dir, &[Row { sequence: 1, ..row }])
    }

    /// Makes the folder and fills it from a journal text; opens it to write.
    ///
    /// # Errors
    /// As [`Store::create`]; [`StoreError::Text`] for a text that cannot be read,
    /// [`StoreError::Gap`] and [`StoreError::NoZone`] for one that is no whole journal. Nothing is
    /// made then.
    pub fn create_from_text(dir: &Path, input: impl BufRead) -> Result<Self, StoreError> {
        let rows = text::read(input)?;
        let mut records = Vec::with_capacity(rows.len());
        take_in(&mut records, &rows)?;
        zone_of(&records::standing(&records), &records)?;
        Self::create_with(dir, &rows)
    }

    fn create_with(dir: &Path, rows: &[Row]) -> Result<Self, StoreError> {
        folder::make(dir)?;
        let lock = WriterLock::take(dir)?;
        let path = folder::journal(dir);
        folder::touch(&path)?;
        match Sqlite::open(&path) {
            Err(StoreError::NoJournal { .. }) => {}
            Ok(_) => return Err(StoreError::AlreadyThere { dir: dir.to_owned() }),
            Err(other) => return Err(other),
        }
        let journal = Sqlite::create(&path, rows)?;
        Self::read(dir, journal, Some(lock))
    }

    /// Opens a folder to write; nobody else writes to it until this is dropped.
    ///
    /// # Errors
    /// [`StoreError::NoJournal`], [`StoreError::Busy`], and what makes a journal unreadable.
    pub fn open(dir: &Path) -> Result<Self, StoreError> {
        let path = existing(dir)?;
        let lock = WriterLock::take(dir)?;
        Self::read(dir, Sqlite::open(&path)?, Some(lock))
    }

    /// Opens a folder to read, beside a running writer or alone.
    ///
    /// # Errors
    /// [`StoreError::NoJournal`] and what makes a journal unreadable.
    pub fn open_read_only(dir: &Path) -> Result<Self, StoreError> {
        let path = existing(dir)?;
        Self::read(dir, Sqlite::open_read_only(&path)?, None)
    }

    fn read(dir: &Path, journal: Sqlite, lock: Option<WriterLock>) -> Result<Self, StoreError> {
        let mut store = Self {
            dir: dir.to_owned(),
            journal,
            lock,
            records: Vec::new(),
            folded: FoldedCell::default(),
            made_up: made_up::read(dir)?,
        };
        store.refresh()?;
        Ok(store)
    }

    /// Whether the folder holds a journal.
    #[must_use]
    pub fn exists(dir: &Path) -> bool {
        folder::journal(dir).metadata().is_ok_and(|file| file.len() > 0)
    }

    /// Who writes to the folder at this moment.
    #[must_use]
    pub fn writer_of(dir: &Path) -> Option<Holder> {
        writer_of(dir)
    }

    /// The folder.
    #[must_use]
    pub fn dir(&self) -> &Path {
        &self.dir
    }

    pub(crate) const fn is_writer(&self) -> bool {
        self.lock.is_some()
    }

    /// Tells other programs the address that this one serves.
    ///
    /// # Errors
    /// [`StoreError::ReadOnly`], or what the file system says.
    pub fn announce(&mut self, address: &str) -> Result<(), StoreError> {
        self.lock.as_mut().ok_or(StoreError::ReadOnly)?.announce(address)
    }

    /// Writes drafts in one transaction: those it reports as written are on disk.
    ///
    /// # Errors
    /// [`StoreError::ReadOnly`], [`StoreError::Database`]; nothing is written then. A draft that
    /// cannot be taken is no error but is reported in [`Appended::refused`].
    pub fn append(&mut self, drafts: Vec<Draft>) -> Result<Appended, StoreError> {
        if self.lock.is_none() {
            return Err(StoreError::ReadOnly);
        }
        let done = self.journal.append(drafts)?;
        self.records.extend(done.written.iter().cloned());
        Ok(done)
    }

    /// Every record known here, in journal order. Beside another writer: as of the last
    /// [`Store::refresh`].
    #[must_use]
    pub fn records(&self) -> &[Record] {
        &self.records
    }

    pub(crate) const fn folded(&self) -> &FoldedCell {
        &self.folded
    }

    pub(crate) fn forget(&mut self) {
        self.records.clear();
    }

    /// Takes in what another process has written since; says whether anything was new.
    ///
    /// # Errors
    /// [`StoreError::Unreadable`], [`StoreError::Gap`], or what the database says.
    pub fn refresh(&mut self) -> Result<bool, StoreError> {
        let known = self.records.len();
        let records = &mut self.records;
        self.journal.read_from(known as u64 + 1, |row| take_in(records, &[row]))?;
        Ok(self.records.len() > known)
    }

    /// Reads every record from disk.
    ///
    /// # Errors
    /// As [`Store::refresh`].
    pub fn read_all(&self) -> Result<Vec<Record>, StoreError> {
        self.read_from(1)
    }

    /// Reads the records from number `first` on from disk.
    ///
    /// # Errors
    /// As [`Store::refresh`].
    pub fn read_from(&self, first: u64) -> Result<Vec<Record>, StoreError> {
        let mut all = Vec::new();
        self.journal.read_from(first, |row| {
            all.push(readable(&row)?);
            Ok(())
        })?;
        Ok(all)
    }

    /// The number of the newest record on disk; 0 for an empty journal.
    ///
    /// # Errors
    /// What the database says.
    pub fn head(&self) -> Result<u64, StoreError> {
        self.journal.head()
    }

    /// The room's zone.
    ///
    /// # Errors
    /// [`StoreError::NoZone`] where no record names one that exists.
    pub fn zone(&self) -> Result<Zone, StoreError> {
        zone_of(&self.standing(), &self.records)
    }

    /// Checks the file, the numbers, the ids and every text.
    ///
    /// # Errors
    /// What the database says when it cannot even be read.
    pub fn verify(&self) -> Result<Verified, StoreError> {
        verify(&self.journal)
    }

    /// Writes the journal as lines of text.
    ///
    /// # Errors
    /// What the database or `out` says.
    pub fn export_text(&self, out: &mut impl Write) -> Result<(), StoreError> {
        let failed = || StoreError::file("write the export of", &self.dir);
        text::write_heading(out, self.journal.count()?).map_err(failed())?;
        self.journal.read_from(1, |row| text::write_row(out, &row).map_err(failed()))
    }

    /// Writes the journal as lines of text to a file, which is complete or not there.
    ///
    /// # Errors
    /// As [`Store::export_text`].
    pub fn export_text_to(&self, path: &Path) -> Result<(), StoreError> {
        let mut name = path.as_os_str().to_owned();
        name.push(".part");
        let part = PathBuf::from(name);
        let failed = || StoreError::file("write", &part);
        let file = folder::private().truncate(true).open(&part).map_err(failed())?;
        let mut out = BufWriter::new(file);
        self.export_text(&mut out)?;
        let file = out.into_inner().map_err(|e| failed()(e.into_error()))?;
        file.sync_all().map_err(failed())?;
        std::fs::rename(&part, path).map_err(StoreError::file("write", path))?;
        folder::sync_names(path);
        Ok(())
    }
}

fn existing(dir: &Path) -> Result<PathBuf, StoreError> {
    if Store::exists(dir) {
        Ok(folder::journal(dir))
    } else {
        Err(StoreError::NoJournal { dir: dir.to_owned() })
    }
}

fn readable(row: &Row) -> Result<Record, StoreError> {
    row.record().map_err(|why| StoreError::Unreadable { sequence: row.sequence, why })
}

/// Adds rows to the records before them, which they must follow without a gap.
fn take_in(records: &mut Vec<Record>, rows: &[Row]) -> Result<(), StoreError> {
    for row in rows {
        let (expected, found) = (records.len() as u64 + 1, row.sequence);
        if found != expected {
            return Err(StoreError::Gap { expected, found });
        }
        records.push(readable(row)?);
    }
    Ok(())
}

/// The zone last set by a record that stands. Where none stands, the first one ever set: a room
/// must not lose its calendar by an undo.
fn zone_of(standing: &[Live], records: &[Record]) -> Result<Zone, StoreError> {
    let named = |fact: &Fact| match fact {
        Fact::Set(set) if set.name == ZONE_SETTING => Zone::named(&set.value).ok(),
        _ => None,
    };
    let last = standing.iter().rev().find_map(|live| named(&live.fact));
    last.or_else(|| records.iter().find_map(|r| named(&r.draft.fact))).ok_or(StoreError::NoZone)
}
