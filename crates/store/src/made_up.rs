//! A made-up room has a clock of its own: it stands on the evening of one day until somebody moves
//! it on. The day is kept beside the journal and is no record: it says nothing of any animal.

use std::path::Path;

use units::{Day, Instant, Zone};

use crate::beside::Beside;
use crate::error::StoreError;
use crate::store::Store;

/// The hour at which a made-up room stands.
const EVENING: i8 = 18;

fn file(dir: &Path) -> Beside {
    Beside::of(dir, "made-up-day.txt")
}

/// The day a folder stands on; none for a real room.
pub(crate) fn read(dir: &Path) -> Result<Option<Day>, StoreError> {
    let file = file(dir);
    let day = |text: String| {
        text.trim().parse().map_err(|_| StoreError::NoDay { path: file.path().to_owned() })
    };
    file.read()?.map(day).transpose()
}

impl Store {
    /// The day a made-up room stands on; none for a real room.
    #[must_use]
    pub const fn made_up_day(&self) -> Option<Day> {
        self.made_up
    }

    /// Lets a made-up room stand on the evening of a day. A folder on which this was ever called
    /// is a made-up room from then on.
    ///
    /// # Errors
    /// [`StoreError::ReadOnly`], or what the file system says.
    pub fn stand_on(&mut self, day: Day) -> Result<(), StoreError> {
        if !self.is_writer() {
            return Err(StoreError::ReadOnly);
        }
        file(self.dir()).write(&format!("{day}\n"))?;
        self.made_up = Some(day);
        Ok(())
    }

    /// What time it is in this room: the device's time, or the evening a made-up room stands on.
    #[must_use]
    pub fn now(&self, zone: &Zone) -> Instant {
        self.made_up.map_or_else(crate::now, |day| zone.at_hour(day, EVENING))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_made_up_room_stands_until_it_is_moved() {
        let dir = tempfile::tempdir().expect("a folder");
        let zone = Zone::named("Europe/Berlin").expect("a zone");
        let mut store = Store::create(dir.path(), &zone).expect("a store");
        assert_eq!(store.made_up_day(), None);
        let real = crate::now();
        assert!(store.now(&zone) >= real);
        let day: Day = "2026-02-13".parse().expect("a day");
        store.stand_on(day).expect("written");
        assert_eq!(store.now(&zone), zone.at_hour(day, 18));
        let mut beside = Store::open_read_only(dir.path()).expect("opened");
        assert_eq!(beside.made_up_day(), Some(day));
        assert!(matches!(beside.stand_on(day + 1), Err(StoreError::ReadOnly)));
        std::fs::write(file(dir.path()).path(), "soon").expect("written");
        assert!(matches!(Store::open_read_only(dir.path()), Err(StoreError::NoDay { .. })));
    }
}
