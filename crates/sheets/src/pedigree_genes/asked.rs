//! One linkage group over the whole pedigree, as the engine is asked.

use genetics::pedigree::{Origin, Pedigree, PedigreeError};
use genetics::{Evidence, LinkageGroup, Sex};

use super::{PedigreeGenes, Record};
use crate::pedigree_catalogue::{Group, Written};

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
    /// The question for a group, from all records but those left out.
    ///
    /// # Errors
    /// Never for a pedigree that was read from a file: its parents exist and are no circle.
    pub fn ask(
        &self,
        group: &Group,
        is_kept: &dyn Fn(Record) -> bool,
    ) -> Result<Asked, PedigreeError> {
        let pedigree = Pedigree::new(self.origins(is_kept))?;
        let mut evidence = Evidence::flat(pedigree.len(), group.linkage.n_states());
        let places = places(self, group);
        for animal in 0..pedigree.len() {
            if pedigree.origin(animal) == Origin::Founder {
                evidence.see(animal, &self.before(group, animal));
            }
            self.see_living(group, &places, animal, &mut evidence);
            let own = self.file.animals.get(animal);
            if let Some(sex) = own.and_then(|a| a.sex)
                && is_kept(Record::Sex(animal))
            {
                see_sex(group, animal, sex, &mut evidence);
            }
        }
        for (sex, animal) in unrecorded(&pedigree, self.file.animals.len()) {
            see_sex(group, animal, sex, &mut evidence);
        }
        for (at, seen) in self.seen.iter().enumerate() {
            let slot = group.loci.iter().position(|locus| *locus == seen.locus);
            if let Some(slot) = slot
                && is_kept(Record::Cell(at))
            {
                let row: Vec<f64> = places[slot].iter().map(|p| seen.chances[*p]).collect();
                evidence.see(seen.animal, &row);
            }
        }
        Ok(Asked { pedigree, evidence, places })
    }

    fn origins(&self, is_kept: &dyn Fn(Record) -> bool) -> Vec<Origin> {
        let mut unrecorded = 0;
        let count = self.file.animals.len();
        let mut somebody = || {
            unrecorded += 1;
            count + unrecorded - 1
        };
        let of = |(at, animal): (usize, &crate::pedigree_file::PedigreeAnimal)| {
            if !is_kept(Record::Parents(at)) {
                return Origin::Founder;
            }
            match (animal.sire, animal.dam) {
                (None, None) => Origin::Founder,
                (Some(sire), Some(dam)) => Origin::Parents { sire, dam },
                (Some(sire), None) => Origin::Parents { sire, dam: somebody() },
                (None, Some(dam)) => Origin::Parents { sire: somebody(), dam },
            }
        };
        let mut origins: Vec<Origin> = self.file.animals.iter().enumerate().map(of).collect();
        origins.resize(count + unrecorded, Origin::Founder);
        origins
    }

    /// A founder's chances beforehand: alleles by their frequencies, two of one ancestor with its
    /// inbreeding (Wright 1922).
    fn before(&self, group: &Group, animal: usize) -> Vec<f64> {
        let loci = &self.catalogue.loci;
        let frequencies: Vec<Vec<f64>> =
            group.loci.iter().map(|at| loci[*at].frequencies.clone()).collect();
        let mut weights = group.linkage.founder_weights(&frequencies);
        let f = self.inbreeding.get(animal).copied().unwrap_or(0.0);
        if f > 0.0 {
            for (state, weight) in weights.iter_mut().enumerate() {
                *weight = inbred(&group.linkage, &frequencies[0], state, *weight, f);
            }
        }
        weights
    }

    /// That it is in the pedigree says that its genotype lives.
    fn see_living(
        &self,
        group: &Group,
        places: &[Vec<usize>],
        animal: usize,
        evidence: &mut Evidence,
    ) {
        for (locus, places) in group.loci.iter().zip(places) {
            let viability = &self.catalogue.loci[*locus].viability;
            if viability.iter().any(|v| *v != 1.0) {
                let row: Vec<f64> = places.iter().map(|p| viability[*p]).collect();
                evidence.see(animal, &row);
            }
        }
    }
}

/// Sexes are even, so that a known one counts twice: the likelihood is then that of the rest, the
/// sexes given.
fn see_sex(group: &Group, animal: usize, sex: Sex, evidence: &mut Evidence) {
    if group.linkage.sex(0).is_some() {
        let weight = |state| if group.linkage.sex(state) == Some(sex) { 2.0 } else { 0.0 };
        let row: Vec<f64> = (0..group.linkage.n_states()).map(weight).collect();
        evidence.see(animal, &row);
    }
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

/// For each locus of the group and each state, the place of the genotype in the locus.
fn places(genes: &PedigreeGenes, group: &Group) -> Vec<Vec<usize>> {
    let of = |(slot, locus): (usize, &usize)| {
        let genotypes = &genes.catalogue.loci[*locus].genotypes;
        let place = |state: usize| {
            let written = written(&group.linkage, state, slot);
            genotypes.iter().position(|g| Some(*g) == written).unwrap_or(0)
        };
        (0..group.linkage.n_states()).map(place).collect()
    };
    group.loci.iter().enumerate().map(of).collect()
}

fn written(group: &LinkageGroup, state: usize, slot: usize) -> Option<Written> {
    let (first, second) = group.alleles(state, slot)?;
    let first = first.index();
    Some(match (second.map(|s| s.index()), group.sex(state)) {
        (None, _) => Written::OnX(first),
        (Some(second), Some(Sex::Male)) => Written::OnXAndY(first, second),
        (Some(second), _) => Written::Pair(first.min(second), first.max(second)),
    })
}
