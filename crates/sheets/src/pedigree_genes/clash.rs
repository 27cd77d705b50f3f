//! Records of a pedigree that cannot all be true.

use genetics::clash::{Case, Piece};
use genetics::pedigree::{Pedigree, PedigreeError};
use genetics::posterior::Budget;

use super::asked::among_living;
use super::{PedigreeGenes, Record};
use crate::pedigree_catalogue::Group;

/// Records that clash; any of them left out, the others do not.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clash {
    /// The records, in the order of the file.
    pub records: Vec<Record>,
    /// Those of which each alone, were it wrong, would put everything right.
    pub resolved_by: Vec<Record>,
}

impl PedigreeGenes {
    /// What clashes in a group, up to `most` sets without a record in common.
    ///
    /// # Errors
    /// As [`PedigreeGenes::ask`].
    pub fn clashes(&self, group: &Group, most: usize) -> Result<Vec<Clash>, PedigreeError> {
        let origins = self.origins();
        let places = group.places(&self.catalogue.loci);
        let granted = self.granted(group, &Pedigree::new(origins.clone())?);
        let mut records = Vec::new();
        let mut pieces = Vec::new();
        for (record, animal, weights) in self.said_of_animals(group, &places) {
            records.push(record);
            pieces.push(Piece::Seen { animal, weights });
        }
        for (at, animal) in self.file.animals.iter().enumerate() {
            let young = || vec![at];
            if animal.sire.is_some() || animal.is_alone {
                records.push(Record::Sire(at));
                pieces.push(Piece::Sire { young: young() });
            }
            if animal.dam.is_some() {
                records.push(Record::Dam(at));
                pieces.push(Piece::Dam { young: young() });
            }
        }
        let lives = group.lives(&self.catalogue.loci);
        let background = among_living(self.background(group), &lives);
        let budget = Budget::default();
        let case = Case { origins, group: &group.linkage, granted, background, pieces, budget };
        let named = |places: &[usize]| places.iter().map(|at| records[*at]).collect();
        let found = case.clashes(most);
        Ok(found
            .iter()
            .map(|c| Clash { records: named(&c.set), resolved_by: named(&c.resolved_by) })
            .collect())
    }
}
