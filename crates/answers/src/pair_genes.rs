//! "What are the two?" The genes of a pair as their young depend on them: from all records for
//! animals of the colony, from its label for one that is only thought of.

use std::collections::BTreeMap;

use genetics::belief::{Assumptions, Belief};
use genetics::chances::{LocusPair, PairBelief};
use genetics::genotype::Copies;
use genetics::{Catalogue, Label, LocusId, Sex};

use crate::copies::{CopiesShown, copies_of_belief, copies_of_label};
use crate::gene_chances::{GeneChances, LocusChances, Seen};

/// One of the two.
#[derive(Clone, Copy, Debug)]
pub enum Side<'a> {
    /// Only thought of.
    Label(&'a Label),
    /// An animal of the colony, by its place.
    Animal(usize),
}

/// Genotypes less likely than this in a parent are left out of its young: a gene that one look in
/// ten thousand may have missed is no look of a clutch. Our own choice.
const LEAST: f64 = 1e-3;

/// A pair with what is to be said of it.
#[derive(Clone, Debug)]
pub struct PairGenes<'c> {
    /// The chances of both, together where they depend on each other.
    pub belief: PairBelief<'c>,
    /// Looks of either that do not tell how many copies are behind them.
    pub copies: Vec<CopiesShown>,
    /// Loci at which both are undecided and depend on each other: there the joint chances count.
    pub joint: Vec<LocusId>,
}

impl<'c> PairGenes<'c> {
    /// Two labels.
    #[must_use]
    pub fn of_labels(catalogue: &'c Catalogue, (sire, dam): (&Label, &Label)) -> Self {
        Self {
            belief: PairBelief::from_labels(catalogue, sire, dam),
            copies: [(sire, Sex::Male), (dam, Sex::Female)]
                .into_iter()
                .flat_map(|(label, sex)| copies_of_label(catalogue, label, sex))
                .collect(),
            joint: Vec::new(),
        }
    }

    /// A sire and a dam.
    #[must_use]
    pub fn of(
        catalogue: &'c Catalogue,
        chances: &GeneChances,
        (sire, dam): (Side<'_>, Side<'_>),
    ) -> Self {
        Self::of_dam(catalogue, chances, dam, &[sire])
            .pop()
            .unwrap_or_else(|| Self::of_labels(catalogue, (&Label::normal(), &Label::normal())))
    }

    /// One dam with each of several sires: what depends on her is worked out once.
    #[must_use]
    pub fn of_dam(
        catalogue: &'c Catalogue,
        chances: &GeneChances,
        dam: Side<'_>,
        sires: &[Side<'_>],
    ) -> Vec<Self> {
        let her = belief(catalogue, chances, (dam, Sex::Female));
        let joint = joints(chances, dam, sires);
        let pair = |(at, sire): (usize, &Side<'_>)| {
            let his = belief(catalogue, chances, (*sire, Sex::Male));
            let together = joint.get(&at);
            let belief = joined(catalogue, (&his, &her), together);
            let copies = [(*sire, Sex::Male, &his), (dam, Sex::Female, &her)];
            Self {
                copies: copies
                    .into_iter()
                    .flat_map(|(side, sex, belief)| {
                        copies_of(catalogue, chances, (side, sex), belief)
                    })
                    .collect(),
                joint: connected(chances, (*sire, dam)),
                belief,
            }
        };
        sires.iter().enumerate().map(pair).collect()
    }
}

/// Loci at which both are undecided and depend on each other.
fn connected(chances: &GeneChances, pair: (Side<'_>, Side<'_>)) -> Vec<LocusId> {
    let (Side::Animal(him), Side::Animal(her)) = pair else { return Vec::new() };
    let both = |locus: &LocusChances| is_undecided(locus, him) && is_undecided(locus, her);
    let loci = chances.loci.iter().filter(|locus| both(locus) && locus.are_connected(him, her));
    loci.map(|locus| locus.play.id).collect()
}

/// Whether more than one genotype is likely enough to be reckoned with.
fn is_undecided(locus: &LocusChances, place: usize) -> bool {
    locus.of(place).iter().filter(|(_, p)| *p >= LEAST).count() > 1
}

fn belief(catalogue: &Catalogue, chances: &GeneChances, (side, sex): (Side<'_>, Sex)) -> Belief {
    match side {
        Side::Label(label) => Belief::from_label(catalogue, label, sex, &Assumptions::default()),
        Side::Animal(place) => {
            let kept = |(locus, all): &(LocusId, Vec<(Copies, f64)>)| {
                let all = likely(all.iter().map(|(copies, p)| (*copies, *p)), LEAST);
                let is_wild = all.iter().all(|(copies, _)| *copies == Copies::WILD);
                (!is_wild).then_some((*locus, all))
            };
            Belief::from_chances(chances.belief(place).loci().iter().filter_map(kept).collect())
        }
    }
}

/// The likely ones, scaled up to 1.
fn likely<T>(all: impl Iterator<Item = (T, f64)>, least: f64) -> Vec<(T, f64)> {
    let mut all: Vec<(T, f64)> = all.filter(|(_, p)| *p >= least).collect();
    let sum: f64 = all.iter().map(|(_, p)| p).sum();
    all.iter_mut().for_each(|(_, p)| *p /= sum);
    all
}

/// Joint tables by place among the sires, for loci where he and she depend on each other.
fn joints(
    chances: &GeneChances,
    dam: Side<'_>,
    sires: &[Side<'_>],
) -> BTreeMap<usize, Vec<LocusPair>> {
    let mut found: BTreeMap<usize, Vec<LocusPair>> = BTreeMap::new();
    let Side::Animal(her) = dam else { return found };
    let animals = sires.iter().enumerate().filter_map(|(at, side)| match side {
        Side::Animal(place) => Some((at, *place)),
        Side::Label(_) => None,
    });
    let animals: Vec<(usize, usize)> = animals.collect();
    for locus in &chances.loci {
        if !is_undecided(locus, her) {
            continue;
        }
        let connected: Vec<(usize, usize)> = animals
            .iter()
            .copied()
            .filter(|(_, him)| *him != her && locus.depend(her, *him))
            .filter(|(_, him)| is_undecided(locus, *him))
            .collect();
        let others: Vec<usize> = connected.iter().map(|(_, him)| *him).collect();
        for ((at, _), table) in connected.iter().zip(locus.joints(her, &others)) {
            let pairs =
                likely(table.into_iter().map(|(hers, his, p)| ((his, hers), p)), LEAST * LEAST);
            let joint = pairs.into_iter().map(|((his, hers), p)| (his, hers, p)).collect();
            found.entry(*at).or_default().push(LocusPair { locus: locus.play.id, joint });
        }
    }
    found
}

fn joined<'c>(
    catalogue: &'c Catalogue,
    (his, her): (&Belief, &Belief),
    together: Option<&Vec<LocusPair>>,
) -> PairBelief<'c> {
    let alone = PairBelief::independent(catalogue, his, her);
    let Some(together) = together else { return alone };
    let mut loci: Vec<LocusPair> = alone.loci().to_vec();
    loci.retain(|pair| together.iter().all(|joint| joint.locus != pair.locus));
    loci.extend(together.iter().cloned());
    PairBelief::from_joint(catalogue, loci).unwrap_or(alone)
}

fn copies_of(
    catalogue: &Catalogue,
    chances: &GeneChances,
    (side, sex): (Side<'_>, Sex),
    belief: &Belief,
) -> Vec<CopiesShown> {
    match side {
        Side::Label(label) => copies_of_label(catalogue, label, sex),
        Side::Animal(place) => {
            let shown = |locus: LocusId| match chances.seen(catalogue, place, locus) {
                Seen::Shows(look) => Some(look),
                _ => None,
            };
            copies_of_belief(catalogue, belief, sex, &shown)
        }
    }
}
