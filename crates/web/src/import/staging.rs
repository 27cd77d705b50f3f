//! Files that were sent but not written: kept in memory for a while, reached by an id nobody can
//! guess, gone with the process. The journal knows nothing of them.

use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use records::{BatchId, Record, RecordId};
use sheets::import::Preview;
use sheets::open::may_be_a_sheet;
use sheets::sheet::{FileHints, FileIn, Hints, Reading};
use units::{Day, Instant, Zone};

use crate::failure::Failure;

/// All files of one import together, in bytes; our choice.
pub const MOST_BYTES: usize = 32 << 20;
/// Files of one import; our choice.
pub const MOST_FILES: usize = 60;
/// Imports that wait at the same time; the oldest goes first. Our choice.
const MOST_WAITING: usize = 4;
/// Seconds after which files nobody looked at are gone; our choice.
const KEPT_SECONDS: i64 = 3 * 3600;

/// The files of one import, and what the keeper has said about them.
#[derive(Clone)]
pub struct Pending {
    /// Its id, which is also that of the batch a commit writes.
    pub id: RecordId,
    /// The files.
    pub files: Arc<Vec<FileIn>>,
    /// Files that are no sheets, or that the keeper left out, by name.
    pub left_out: std::collections::BTreeSet<String>,
    /// What was said by hand, by table.
    pub hints: std::collections::BTreeMap<String, FileHints>,
    /// The moment they came; every reading of them is as of this moment.
    pub came: Instant,
    used: Instant,
    read: Option<(usize, Arc<Seen>)>,
}

/// The files as read against the journal at one moment.
pub struct Seen {
    /// What the files say.
    pub reading: Reading,
    /// What becomes of it.
    pub preview: Preview,
    /// Digest of all that a commit would write.
    pub fingerprint: String,
}

/// What a reading needs to know beside the files.
pub struct Against<'a> {
    /// The journal.
    pub journal: &'a [Record],
    /// The room's zone.
    pub zone: &'a Zone,
    /// The setting `felt_words`.
    pub felt: Option<&'a str>,
}

/// All files that wait.
#[derive(Default)]
pub struct Staging(Mutex<Vec<Pending>>);

impl Staging {
    fn waiting(&self) -> MutexGuard<'_, Vec<Pending>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Takes files in and gives the id by which they are reached.
    pub fn take(&self, files: Vec<FileIn>, now: Instant) -> RecordId {
        let id = store::new_id();
        let mut waiting = self.waiting();
        forget_old(&mut waiting, now);
        while waiting.len() >= MOST_WAITING {
            waiting.remove(0);
        }
        // One file alone is meant, whatever its name.
        let no_sheet = |f: &&FileIn| files.len() > 1 && !may_be_a_sheet(&f.name);
        let left_out = files.iter().filter(no_sheet).map(|f| f.name.clone()).collect();
        let files = Arc::new(files);
        let hints = std::collections::BTreeMap::new();
        waiting.push(Pending { id, files, left_out, hints, came: now, used: now, read: None });
        id
    }

    /// The files of that id.
    ///
    /// # Errors
    /// A page that says they are gone.
    pub fn get(&self, id: RecordId, now: Instant) -> Result<Pending, Failure> {
        self.with(id, now, |pending| pending.clone())
    }

    /// Changes what is known of the files of that id.
    ///
    /// # Errors
    /// A page that says they are gone.
    pub fn with<T>(
        &self,
        id: RecordId,
        now: Instant,
        change: impl FnOnce(&mut Pending) -> T,
    ) -> Result<T, Failure> {
        let mut waiting = self.waiting();
        forget_old(&mut waiting, now);
        let pending = waiting.iter_mut().find(|p| p.id == id).ok_or_else(gone)?;
        pending.used = now;
        Ok(change(pending))
    }

    /// Says something by hand about one table; it is read anew.
    ///
    /// # Errors
    /// A page that says the files are gone.
    pub fn say(
        &self,
        id: RecordId,
        now: Instant,
        table: String,
        hints: FileHints,
    ) -> Result<(), Failure> {
        self.with(id, now, |pending| {
            pending.hints.insert(table, hints);
            pending.read = None;
        })
    }

    /// Leaves a file out of the import, or takes it in again.
    ///
    /// # Errors
    /// A page that says the files are gone.
    pub fn leave_out(
        &self,
        id: RecordId,
        now: Instant,
        (file, out): (&str, bool),
    ) -> Result<(), Failure> {
        self.with(id, now, |pending| {
            if !out {
                pending.left_out.remove(file);
            } else if pending.files.iter().any(|f| f.name == file) {
                pending.left_out.insert(file.to_owned());
            }
            pending.read = None;
        })
    }

    /// Puts files away.
    pub fn drop(&self, id: RecordId) {
        self.waiting().retain(|p| p.id != id);
    }

    /// Keeps a reading until the journal or a hint changes.
    fn keep(&self, id: RecordId, length: usize, seen: &Arc<Seen>) {
        if let Some(pending) = self.waiting().iter_mut().find(|p| p.id == id) {
            pending.read = Some((length, Arc::clone(seen)));
        }
    }

    /// Reads the files against the journal, anew where either has changed.
    pub fn read(&self, pending: &Pending, against: &Against<'_>) -> Arc<Seen> {
        let length = against.journal.len();
        if let Some((at, seen)) = &pending.read
            && *at == length
        {
            return Arc::clone(seen);
        }
        let seen = Arc::new(pending.look(against));
        self.keep(pending.id, length, &seen);
        seen
    }
}

impl Pending {
    fn look(&self, against: &Against<'_>) -> Seen {
        let today: Day = against.zone.day_of(self.came);
        let hints = Hints {
            today: Some(today),
            files: self.hints.clone(),
            felt: answers::felt::own_words(against.felt),
            ..Hints::default()
        };
        let is_in = |f: &&FileIn| !self.left_out.contains(&f.name);
        let files: Vec<FileIn> = self.files.iter().filter(is_in).cloned().collect();
        let reading = sheets::read::read(&files, &hints);
        let batch = BatchId(self.id);
        let options =
            sheets::import::Options { today, now: self.came, who: "", batch, felt: &hints.felt };
        let preview = sheets::import::preview(&reading, against.journal, against.zone, &options);
        let fingerprint = preview.fingerprint();
        Seen { reading, preview, fingerprint }
    }
}

fn forget_old(waiting: &mut Vec<Pending>, now: Instant) {
    waiting.retain(|p| now.seconds() - p.used.seconds() <= KEPT_SECONDS);
}

fn gone() -> Failure {
    Failure::missing(
        "These files are not here any more: files that were sent but not written are kept for a \
         few hours, and only while the program runs.",
        "Open Import and choose them again. What was written is in the records.",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> Instant {
        text.parse().unwrap()
    }

    #[test]
    fn files_are_gone_after_a_while_and_when_others_come() {
        let staging = Staging::default();
        let noon = at("2026-02-10T12:00:00Z");
        let first = staging.take(vec![], noon);
        assert!(staging.get(first, at("2026-02-10T14:59:00Z")).is_ok());
        // Looking at them keeps them.
        assert!(staging.get(first, at("2026-02-10T17:58:00Z")).is_ok());
        assert!(staging.get(first, at("2026-02-10T21:00:00Z")).is_err());
        let old = staging.take(vec![], noon);
        for _ in 0..MOST_WAITING {
            staging.take(vec![], noon);
        }
        assert!(staging.get(old, noon).is_err());
    }
}
