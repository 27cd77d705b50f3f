//! What is known of an animal apart from its parents, for questions about who they are.

use records::facts::Tested;
use records::{Colony, Sex};

use genetics::Catalogue;

use super::answer::{GeneChances, LocusChances};
use super::carriers::Carriers;
use super::labels::Written;
use super::rows::{Known, Opening, RowMaker};
use crate::settings::GeneRules;

impl GeneChances {
    /// The chance of everything seen and tested of an animal in each state of [`InPlay::copies`],
    /// whoever its parents are.
    ///
    /// [`InPlay::copies`]: super::InPlay::copies
    #[must_use]
    pub fn seen_apart(
        &self,
        (catalogue, rules): (&Catalogue, &GeneRules),
        colony: &Colony,
        place: usize,
        locus: &LocusChances,
    ) -> Vec<f64> {
        let blank = Written { genes: None, look: None };
        let Some(animal) = colony.animals.get(place) else {
            return vec![1.0; locus.play.n_states()];
        };
        let tests: Vec<Tested> = animal.tested.iter().map(|(_, _, test)| test.clone()).collect();
        let known = Known {
            written: self.written(place).unwrap_or(blank),
            tests: &tests,
            sex: animal.sex(),
            is_founder: false,
            place: None,
        };
        let carriers = Carriers::default();
        let maker = RowMaker { catalogue, rules, carriers: &carriers, play: &locus.play };
        maker.animal(&known, Opening::Closed)
    }
}

impl LocusChances {
    /// Chances of the states of a sire nobody recorded.
    #[must_use]
    pub fn unrecorded_sire(&self, catalogue: &Catalogue, rules: &GeneRules) -> Vec<f64> {
        let carriers = Carriers::default();
        let maker = RowMaker { catalogue, rules, carriers: &carriers, play: &self.play };
        let silent = vec![None; self.play.alleles.len()];
        let mut row = maker.unrecorded(Some(Sex::Male), &silent, Opening::Closed);
        let sum: f64 = row.iter().sum();
        if sum > 0.0 {
            row.iter_mut().for_each(|w| *w /= sum);
        }
        row
    }
}
