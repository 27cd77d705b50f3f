//! What is derived from the journal and kept in memory only: it can be dropped at any time.

use std::cell::RefCell;
use std::sync::Arc;
use std::time::{Duration, Instant as Clock};

use records::doubts::doubts;
use records::{AsOf, Colony, Live, standing};

use crate::error::StoreError;
use crate::store::Store;

/// The standing records and the last colony asked for, as of a number of records.
#[derive(Debug, Default)]
pub(crate) struct Folded {
    known: usize,
    standing: Option<Arc<Vec<Live>>>,
    colony: Option<Arc<Colony>>,
}

/// What a rebuild counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rebuilt {
    /// Records read.
    pub records: usize,
    /// Records that stand after corrections and retractions.
    pub standing: usize,
    /// Animals ever added.
    pub animals: usize,
    /// Clutches ever laid.
    pub clutches: usize,
    /// Records that contradict each other.
    pub doubts: usize,
    /// How long it took.
    pub took: Duration,
}

impl Store {
    /// The colony as of a moment, folded from every record known here. The last one asked for is
    /// kept until a record is added.
    ///
    /// # Errors
    /// [`StoreError::NoZone`].
    pub fn colony(&self, as_of: AsOf) -> Result<Arc<Colony>, StoreError> {
        let standing = self.standing();
        if let Some(colony) = &self.folded().borrow().colony
            && colony.as_of == as_of
        {
            return Ok(Arc::clone(colony));
        }
        let colony = Arc::new(Colony::fold(&standing, &self.zone()?, as_of));
        self.folded().borrow_mut().colony = Some(Arc::clone(&colony));
        Ok(colony)
    }

    /// The records that stand, as they read after corrections.
    #[must_use]
    pub fn standing(&self) -> Arc<Vec<Live>> {
        let mut folded = self.folded().borrow_mut();
        if folded.known != self.records().len() {
            *folded = Folded { known: self.records().len(), ..Folded::default() };
        }
        let made = folded.standing.get_or_insert_with(|| Arc::new(standing(self.records())));
        Arc::clone(made)
    }

    /// Drops everything derived, reads the journal from disk and folds it anew.
    ///
    /// # Errors
    /// As [`Store::refresh`]; [`StoreError::NoZone`].
    pub fn rebuild(&mut self) -> Result<Rebuilt, StoreError> {
        let began = Clock::now();
        self.forget();
        self.folded().replace(Folded::default());
        self.refresh()?;
        let colony = self.colony(AsOf::end_of_time())?;
        Ok(Rebuilt {
            records: self.records().len(),
            standing: self.standing().len(),
            animals: colony.animals.len(),
            clutches: colony.clutches.len(),
            doubts: doubts(&colony).len(),
            took: began.elapsed(),
        })
    }
}

pub(crate) type FoldedCell = RefCell<Folded>;
