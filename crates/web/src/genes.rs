//! Gene chances beside the journal: worked out on from the last answer when records came in.

use std::sync::Arc;

use answers::gene_chances::{GeneBook, GeneChances, GeneClash, LabelRead};
use answers::sire::SireAnswer;
use records::Colony;
use sheets::catalogue_file::builtin;
use sheets::shorthand::{self, Question};
use units::Day;

/// Reads a label against the built-in catalogue.
#[must_use]
pub fn read_label(text: &str) -> LabelRead {
    let reading = shorthand::read(text, builtin());
    let open = reading.open_loci(builtin());
    let questions = reading.questions.iter().map(Question::sentence).collect();
    LabelRead { label: reading.label, open, unsure: reading.unsure, questions }
}

/// What clashes depend on: the end of the journal, the day asked about, and how many records are
/// known then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Standing(pub u64, pub Day, pub usize);

/// The last answer with the colony it is of, and what the next one goes on from.
pub(crate) struct Kept {
    book: GeneBook<'static>,
    last: Option<(Arc<Colony>, Arc<GeneChances>)>,
    clashes: Option<(Standing, Arc<Vec<GeneClash>>)>,
}

impl Kept {
    pub fn new() -> Self {
        Self { book: GeneBook::new(builtin()), last: None, clashes: None }
    }

    /// The answer for a colony that only might be.
    pub fn supposing(&mut self, colony: &Colony) -> GeneChances {
        self.book.suppose(colony, &read_label)
    }

    /// Who fathered the clutch at a place, and what its young may be.
    pub fn sire(&mut self, colony: &Colony, clutch: usize) -> Option<SireAnswer> {
        answers::sire::sire(colony, clutch, &mut self.book, (builtin(), &read_label))
    }

    pub fn of(&mut self, colony: &Arc<Colony>) -> Arc<GeneChances> {
        if let Some((known, chances)) = &self.last
            && Arc::ptr_eq(known, colony)
        {
            return Arc::clone(chances);
        }
        let chances = Arc::new(self.book.answer(colony, &read_label));
        self.last = Some((Arc::clone(colony), Arc::clone(&chances)));
        chances
    }

    /// Records about genes that cannot all be true, worked out once for a standing.
    pub fn clashes_of(&mut self, colony: &Colony, standing: Standing) -> Arc<Vec<GeneClash>> {
        if let Some(known) = self.clashes_known(standing) {
            return known;
        }
        let clashes = Arc::new(self.book.clashes(colony, &read_label));
        self.clashes = Some((standing, Arc::clone(&clashes)));
        clashes
    }

    /// The same, where they were worked out already.
    pub fn clashes_known(&self, standing: Standing) -> Option<Arc<Vec<GeneClash>>> {
        let known = self.clashes.as_ref().filter(|(of, _)| *of == standing);
        known.map(|(_, clashes)| Arc::clone(clashes))
    }
}
