//! From standing records back to the rows of sheets, for the export.
//!
//! Reading these rows into an empty folder gives the same colony: what has no sheet of its own
//! goes out as a row of facts. Rows that wait for an answer are no facts: the journal text has them.

mod animals;
mod clutches;
mod events;
mod facts;

use std::collections::HashSet;

use records::{Colony, RecordId};

use crate::kind::SheetKind;
use crate::rows::RowData;

/// One row on its way out, with the ids of the records it carries.
#[derive(Clone, Debug, PartialEq)]
pub struct RowOut {
    /// What it says.
    pub data: RowData,
    /// The records, in the order in which reading asks for them.
    pub ids: Vec<RecordId>,
}

/// All rows of all sheets. The colony must be folded to the end of time.
#[must_use]
pub fn outgoing(colony: &Colony) -> Vec<(SheetKind, Vec<RowOut>)> {
    let mut out = Going { colony, told: HashSet::new() };
    let mut all = vec![
        (SheetKind::Hatchlings, out.hatchlings()),
        (SheetKind::Animals, out.animals()),
        (SheetKind::Clutches, out.clutches()),
        (SheetKind::Nights, out.nights()),
        (SheetKind::Weights, out.weights()),
        (SheetKind::Feedings, out.feedings()),
        (SheetKind::Checks, out.checks()),
        (SheetKind::Temperatures, out.temperatures()),
        (SheetKind::Facts, out.facts()),
    ];
    all.retain(|(_, rows)| !rows.is_empty());
    all
}

/// The work of one export: which records a row already carries.
struct Going<'a> {
    colony: &'a Colony,
    told: HashSet<RecordId>,
}

impl Going<'_> {
    fn code(&self, place: usize) -> String {
        self.colony.code(place).to_owned()
    }

    /// The code of an animal on a day, which is how a row of that day must name it.
    fn code_then(&self, id: records::AnimalId, day: units::Day) -> Option<String> {
        let place = self.colony.place_of(id)?;
        Some(self.colony.animals[place].code_on(day).to_owned())
    }
}
