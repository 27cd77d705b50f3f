//! What is known of an animal apart from its parents, for questions about who they are.

use records::facts::Tested;
use records::{Colony, Sex};

use genetics::linkage::SexLink;
use genetics::{Catalogue, LinkageGroup};

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
    /// The group of the locus; of a sex-linked one with the recombination at its posterior mean. Its
    /// states are those of [`InPlay::copies`].
    ///
    /// [`InPlay::copies`]: super::InPlay::copies
    #[must_use]
    pub fn group(&self) -> Option<LinkageGroup> {
        let alleles = self.play.alleles.len();
        let group = match self.recombination() {
            None => LinkageGroup::autosomal(alleles),
            Some(recombination_male) => {
                LinkageGroup::sex_linked(alleles, SexLink::BothChromosomes { recombination_male })
            }
        };
        group.ok()
    }

    /// The same for young that hatched; `kept`: how often young without a sire keep both copies of
    /// their dam.
    pub(crate) fn group_of_hatchlings(&self, kept: f64) -> Option<LinkageGroup> {
        Some(self.group()?.keeping_alone(kept).per_hatchling(&self.play.hatches))
    }

    /// The joint chances of one animal with each of several as states of the group, its own first,
    /// summing to 1. Several cost little more than one.
    #[must_use]
    pub fn joint_states(&self, one: usize, others: &[usize]) -> Vec<Vec<(usize, usize, f64)>> {
        let mut joints = self.joints_of_states(one, others);
        for joint in &mut joints {
            let sum: f64 = joint.iter().map(|(_, _, p)| p).sum();
            joint.iter_mut().for_each(|(_, _, p)| *p /= sum);
        }
        joints
    }

    /// The same of each of several sires with one dam, the sire's states first.
    #[must_use]
    pub fn joints_with_dam(&self, sires: &[usize], dam: usize) -> Vec<Vec<(usize, usize, f64)>> {
        let mut joints = self.joint_states(dam, sires);
        for joint in &mut joints {
            joint.iter_mut().for_each(|(dam, sire, _)| std::mem::swap(dam, sire));
            joint.sort_unstable_by_key(|(sire, dam, _)| (*sire, *dam));
        }
        joints
    }

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
