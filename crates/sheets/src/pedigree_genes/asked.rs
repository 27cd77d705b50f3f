//! One linkage group over the whole pedigree, as the engine is asked.

use genetics::pedigree::{Origin, Pedigree, PedigreeError};
use genetics::{Evidence, LinkageGroup, Sex};

use super::{PedigreeGenes, Record, Seen};
use crate::pedigree_catalogue::Group;
use crate::pedigree_file::PedigreeAnimal;

/// What the engine is asked about one group: the pedigree, with a founder for each parent that nobody
/// recorded, and all that is known.
#[derive(Clone, Debug)]
pub struct Asked {
    /// The animals of the file in their order, then the parents who are not recorded.
    pub pedigree: Pedigree,
    /// Per animal and state.
    pub evidence: Evidence,
    /// Per locus of the group and state, the place of the genotype in the locus.
    places: Vec<Vec<usize>>,
}

/// Chances of one animal at one locus.
#[derive(Clone, Debug, PartialEq)]
pub struct Answered {
    /// Place of the locus in the catalogue.
    pub locus: usize,
    /// One per genotype of the locus.
    pub chances: Vec<f64>,
}

impl Asked {
    /// The engine's chances of an animal, by locus and genotype.
    #[must_use]
    pub fn answered(&self, genes: &PedigreeGenes, group: &Group, states: &[f64]) -> Vec<Answered> {
        let of = |(locus, places): (&usize, &Vec<usize>)| {
            let mut chances = vec![0.0; genes.catalogue.loci[*locus].genotypes.len()];
            for (place, p) in places.iter().zip(states) {
                chances[*place] += p;
            }
            Answered { locus: *locus, chances }
        };
        group.loci.iter().zip(&self.places).map(of).collect()
    }
}

impl PedigreeGenes {
    /// The question for a group.
    ///
    /// # Errors
    /// Never for a pedigree that was read from a file: its parents exist and are no circle.
    pub fn ask(&self, group: &Group) -> Result<Asked, PedigreeError> {
        let pedigree = Pedigree::new(self.origins())?;
        let places = group.places(&self.catalogue.loci);
        let mut evidence = self.granted(group, &pedigree);
        for (_, animal, weights) in self.said_of_animals(group, &places) {
            evidence.see(animal, &weights);
        }
        Ok(Asked { pedigree, evidence, places })
    }

    /// Who descends from whom, with a founder for each parent whom nobody recorded.
    pub(super) fn origins(&self) -> Vec<Origin> {
        let mut unrecorded = 0;
        let count = self.file.animals.len();
        let mut somebody = || {
            unrecorded += 1;
            count + unrecorded - 1
        };
        let of = |animal: &PedigreeAnimal| match (animal.sire, animal.dam) {
            (_, Some(dam)) if animal.is_alone => Origin::Alone { dam },
            (None, None) => Origin::Founder,
            (Some(sire), Some(dam)) => Origin::Parents { sire, dam },
            (Some(sire), None) => Origin::Parents { sire, dam: somebody() },
            (None, Some(dam)) => Origin::Parents { sire: somebody(), dam },
        };
        let mut origins: Vec<Origin> = self.file.animals.iter().map(of).collect();
        origins.resize(count + unrecorded, Origin::Founder);
        origins
    }

    /// What no record says: founders' alleles, that everybody lived, the sexes of parents whom nobody
    /// recorded. That a founder lived says nothing: it would not stand there otherwise.
    pub(super) fn granted(&self, group: &Group, pedigree: &Pedigree) -> Evidence {
        let mut evidence = Evidence::flat(pedigree.len(), group.linkage.n_states());
        let lives = group.lives(&self.catalogue.loci);
        for animal in 0..pedigree.len() {
            if pedigree.origin(animal) == Origin::Founder {
                evidence.see(animal, &among_living(self.before(group, animal), &lives));
            } else {
                evidence.see(animal, &lives);
            }
        }
        for (sex, animal) in unrecorded(pedigree, self.file.animals.len()) {
            if group.linkage.sex_link().is_some() {
                evidence.see(animal, &of_sex(group, sex));
            }
        }
        evidence
    }

    /// What cells and sexes say, as weights per state.
    pub(super) fn said_of_animals(
        &self,
        group: &Group,
        places: &[Vec<usize>],
    ) -> Vec<(Record, usize, Vec<f64>)> {
        let cell = |(at, seen): (usize, &Seen)| {
            let slot = group.loci.iter().position(|locus| *locus == seen.locus)?;
            let weights = places[slot].iter().map(|place| seen.chances[*place]).collect();
            Some((Record::Cell(at), seen.animal, weights))
        };
        let sex = |(at, animal): (usize, &PedigreeAnimal)| {
            // Young of a female alone are females without being told.
            group.linkage.sex_link().filter(|_| !animal.is_alone)?;
            Some((Record::Sex(at), at, of_sex(group, animal.sex?)))
        };
        let cells = self.seen.iter().enumerate().filter_map(cell);
        cells.chain(self.file.animals.iter().enumerate().filter_map(sex)).collect()
    }

    /// Chances of an animal of which nothing is known: alleles by their frequencies.
    pub(super) fn background(&self, group: &Group) -> Vec<f64> {
        let frequencies: Vec<Vec<f64>> =
            group.loci.iter().map(|at| self.catalogue.loci[*at].frequencies.clone()).collect();
        group.linkage.founder_weights(&frequencies)
    }

    /// A founder's chances beforehand; with its inbreeding both alleles are of one ancestor (Wright
    /// 1922).
    fn before(&self, group: &Group, animal: usize) -> Vec<f64> {
        let mut weights = self.background(group);
        let f = self.inbreeding.get(animal).copied().unwrap_or(0.0);
        if f > 0.0 {
            let frequencies = &self.catalogue.loci[group.loci[0]].frequencies;
            for (state, weight) in weights.iter_mut().enumerate() {
                *weight = inbred(&group.linkage, frequencies, state, *weight, f);
            }
        }
        weights
    }
}

/// The chances of somebody who lived.
pub(super) fn among_living(mut chances: Vec<f64>, lives: &[f64]) -> Vec<f64> {
    let share: f64 = chances.iter().zip(lives).map(|(p, l)| p * l).sum();
    if share > 0.0 {
        chances.iter_mut().zip(lives).for_each(|(p, l)| *p *= l / share);
    }
    chances
}

/// Sexes are even, so that a known one counts twice: the likelihood is then that of the rest, the
/// sexes given.
fn of_sex(group: &Group, sex: Sex) -> Vec<f64> {
    let weight = |state| if group.linkage.sex(state) == Some(sex) { 2.0 } else { 0.0 };
    (0..group.linkage.n_states()).map(weight).collect()
}

/// Parents whom nobody recorded, behind the animals of the file, with their sex.
fn unrecorded(pedigree: &Pedigree, recorded: usize) -> Vec<(Sex, usize)> {
    let of = |animal| match pedigree.origin(animal) {
        Origin::Parents { sire, .. } if sire >= recorded => Some((Sex::Male, sire)),
        Origin::Parents { dam, .. } if dam >= recorded => Some((Sex::Female, dam)),
        _ => None,
    };
    (0..recorded).filter_map(of).collect()
}

fn inbred(group: &LinkageGroup, frequencies: &[f64], state: usize, random: f64, f: f64) -> f64 {
    if group.sex(state) == Some(Sex::Male) {
        return random;
    }
    let by_descent = match group.alleles(state, 0) {
        Some((a, Some(b))) if a == b => frequencies.get(a.index()).copied().unwrap_or(0.0),
        _ => 0.0,
    };
    let of_sex = if group.sex(state).is_some() { 0.5 } else { 1.0 };
    f * of_sex * by_descent + (1.0 - f) * random
}
