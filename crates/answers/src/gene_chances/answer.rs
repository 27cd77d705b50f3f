//! The chances of one moment.

use std::sync::Arc;

use genetics::genotype::Copies;
use genetics::{Belief, Catalogue, Gene, Genotype, LocusId};
use units::Probability;

use super::BUDGET;
use super::in_play::InPlay;
use super::labels::{Claimed, LabelRead, Seen, Written};
use super::lineage::{Lineage, WrongSex};
use super::run::{Place, Run};
use crate::sire::{Father, SireAnswer};

/// An animal of the colony, by its place, or a parent that nobody recorded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Who {
    /// This animal.
    Animal(usize),
    /// The sire of this animal and its clutch.
    SireOf(usize),
    /// The dam of this animal and its clutch.
    DamOf(usize),
}

/// A founder who may carry what its label does not list.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LikelyCarrier {
    /// Who.
    pub who: Who,
    /// The chance that it carries one copy at least.
    pub chance: f64,
}

/// Records that cannot all be true at one locus.
#[derive(Clone, Debug, PartialEq)]
pub struct Clash {
    /// Animals of the family at which it came out.
    pub near: Vec<Who>,
    /// Whether a carrier that nobody named explains it; else what was seen near it was doubted too.
    pub is_resolved: bool,
    /// The founders above it, likeliest carrier first.
    pub carriers: Vec<LikelyCarrier>,
}

/// One value of what is not known for certain, with its posterior weight.
#[derive(Clone, Debug)]
pub(super) struct World {
    pub weight: f64,
    pub run: Arc<Run>,
    /// Which value of the recombination.
    pub value: usize,
}

/// The chances at one locus.
#[derive(Clone, Debug)]
pub struct LocusChances {
    /// The locus with the alleles in play.
    pub play: Arc<InPlay>,
    pub(super) worlds: Vec<World>,
    /// Records that clash here.
    pub clash: Option<Clash>,
    /// Chances of animals with young below this were left out, because too many animals of unknown
    /// status depend on each other; 0 in most colonies. How far others can be off is of that order.
    pub left_out: f64,
    /// Log10 of the chance of all records at this locus.
    pub log10_likelihood: f64,
}

/// The chance of one genotype.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GenotypeChance {
    /// The genotype.
    pub genotype: Genotype,
    /// Its chance.
    pub chance: f64,
}

impl LocusChances {
    /// The likeliest value of what is not known for certain.
    pub(super) fn likeliest(&self) -> Option<&World> {
        self.worlds.iter().max_by(|a, b| a.weight.total_cmp(&b.weight))
    }

    pub(super) fn states(&self, node: usize) -> Vec<f64> {
        let mut sum = vec![0.0; self.play.n_states()];
        for world in &self.worlds {
            let states = self.states_in(world, node);
            sum.iter_mut().zip(states).for_each(|(s, p)| *s += world.weight * p);
        }
        sum
    }

    fn states_in(&self, world: &World, node: usize) -> Vec<f64> {
        let only = |state: usize| {
            let is_it = |s: usize| f64::from(u8::from(s == state));
            (0..self.play.n_states()).map(is_it).collect()
        };
        match world.run.places.get(node) {
            Some(Place::Certain(state)) => only(usize::from(*state)),
            Some(Place::In(component, member)) => {
                world.run.components[*component as usize].of(*member as usize).to_vec()
            }
            None => only(0),
        }
    }

    /// Chances of every state of [`InPlay::copies`] of an animal, by its place.
    #[must_use]
    pub fn of(&self, place: usize) -> Vec<(Copies, f64)> {
        self.play.copies.iter().copied().zip(self.states(place)).collect()
    }

    /// The same without telling which copy is where, in the order of [`InPlay::genotypes`].
    #[must_use]
    pub fn genotypes(&self, place: usize) -> Vec<GenotypeChance> {
        let states = self.states(place);
        let of = |genotype: Genotype| {
            let fits = self.play.copies.iter().zip(&states);
            let chance = fits.filter(|(c, _)| c.genotype() == genotype).map(|(_, p)| p).sum();
            GenotypeChance { genotype, chance }
        };
        self.play.genotypes().into_iter().map(of).collect()
    }

    /// The posterior mean of the recombination of a sex-linked locus; none of another.
    #[must_use]
    pub fn recombination(&self) -> Option<f64> {
        let value =
            |world: &World| self.play.recombination.get(world.value).map(|(r, _)| r * world.weight);
        (self.play.groups.len() > 1).then(|| self.worlds.iter().filter_map(value).sum())
    }

    /// The largest standard error of a chance here, where too many animals of unknown status depend
    /// on each other for an exact answer and chances were drawn; none where all are exact.
    #[must_use]
    pub fn drawn(&self) -> Option<f64> {
        let worst = self.worlds.iter().map(|world| world.run.worst_error).fold(0.0, f64::max);
        (worst > 0.0).then_some(worst)
    }

    /// How many components had no answer at all; of their animals only their own records are told.
    #[must_use]
    pub fn too_wide(&self) -> usize {
        self.worlds.iter().map(|world| world.run.too_wide).max().unwrap_or(0)
    }

    /// Joint chances of two animals, the product of both where they do not depend on each other.
    #[must_use]
    pub fn joint(&self, one: usize, other: usize) -> Vec<(Copies, Copies, f64)> {
        self.joints(one, &[other]).pop().unwrap_or_default()
    }

    /// Joint chances of one animal with each of several.
    #[must_use]
    pub fn joints(&self, one: usize, others: &[usize]) -> Vec<Vec<(Copies, Copies, f64)>> {
        let copies = &self.play.copies;
        let told = |sum: Vec<(usize, usize, f64)>| {
            sum.into_iter().map(|(a, b, p)| (copies[a], copies[b], p)).collect()
        };
        self.joints_of_states(one, others).into_iter().map(told).collect()
    }

    /// The same by states: the copies of a sex-linked locus do not tell whose they are.
    pub(super) fn joints_of_states(
        &self,
        one: usize,
        others: &[usize],
    ) -> Vec<Vec<(usize, usize, f64)>> {
        let n = self.play.n_states();
        let mut sums = vec![vec![0.0; n * n]; others.len()];
        for world in &self.worlds {
            let joints = self.joints_in(world, one, others);
            for (sum, joint) in sums.iter_mut().zip(joints) {
                sum.iter_mut().zip(joint).for_each(|(s, p)| *s += world.weight * p);
            }
        }
        let cell = |(at, p): (usize, f64)| (p > 0.0).then_some((at / n, at % n, p));
        sums.into_iter().map(|sum| sum.into_iter().enumerate().filter_map(cell).collect()).collect()
    }

    /// Whether two animals are undecided and depend on each other.
    #[must_use]
    pub fn are_connected(&self, one: usize, other: usize) -> bool {
        self.worlds.iter().any(|world| {
            let place = |node: usize| world.run.places.get(node);
            matches!((place(one), place(other)), (Some(Place::In(a, _)), Some(Place::In(b, _))) if a == b)
        })
    }

    /// Whether their chances are more than a product: connected, or through what is not known for
    /// certain of the whole locus.
    pub(crate) fn depend(&self, one: usize, other: usize) -> bool {
        let is_open = |node: usize| {
            let open = |w: &World| matches!(w.run.places.get(node), Some(Place::In(..)));
            self.worlds.iter().any(open)
        };
        (self.worlds.len() > 1 && is_open(one) && is_open(other)) || self.are_connected(one, other)
    }

    fn joints_in(&self, world: &World, one: usize, others: &[usize]) -> Vec<Vec<f64>> {
        let place = |node: usize| world.run.places.get(node).copied();
        let mine = place(one);
        let mut members = Vec::new();
        for other in others {
            if let (Some(Place::In(c, _)), Some(Place::In(d, member))) = (mine, place(*other))
                && c == d
            {
                members.push(member as usize);
            }
        }
        let group = &self.play.groups[world.value.min(self.play.groups.len() - 1)];
        let mut exact = match mine {
            Some(Place::In(component, member)) if !members.is_empty() => {
                let solved = &world.run.components[component as usize];
                solved.joints(group, &BUDGET, member as usize, &members)
            }
            _ => None,
        }
        .map(Vec::into_iter);
        let p = self.states_in(world, one);
        let product = |other: usize| {
            let q = self.states_in(world, other);
            p.iter().flat_map(|p| q.iter().map(move |q| p * q)).collect()
        };
        others
            .iter()
            .map(|other| match (mine, place(*other)) {
                (Some(Place::In(c, _)), Some(Place::In(d, _))) if c == d => {
                    let next = exact.as_mut().and_then(Iterator::next);
                    next.unwrap_or_else(|| product(*other))
                }
                _ => product(*other),
            })
            .collect()
    }
}

/// A possible sire of a clutch whose sire is in doubt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SireShare {
    /// Who.
    pub father: Father,
    /// His chance before the young were looked at.
    pub prior: f64,
    /// His chance by all records.
    pub chance: f64,
}

/// A clutch whose sire is in doubt, with what came out.
#[derive(Clone, Debug, PartialEq)]
pub struct SireWeighed {
    /// Its place in the colony.
    pub clutch: usize,
    /// Its young that are reckoned over all of them.
    pub young: Vec<usize>,
    /// The sire that its records name, where what is seen speaks against him.
    pub written: Option<usize>,
    /// Its possible sires: the one who is written first, then the likeliest beforehand.
    pub sires: Vec<SireShare>,
    /// Where what is seen speaks against the one who is written: what [`crate::sire::sire`] says of the
    /// clutch, which two of them may share. None for all but the newest such clutches.
    pub told: Option<SireTold>,
}

/// What is told of the sires of a clutch, by the same question everywhere.
#[derive(Clone, Debug, PartialEq)]
pub struct SireTold {
    /// Who, and the chance that all or some of its young are his; likeliest first.
    pub any: Vec<(Father, f64)>,
    /// The chance that two shared it.
    pub two: f64,
}

impl SireTold {
    /// The chance that all or some are somebody's.
    #[must_use]
    pub fn any_of(&self, father: Father) -> f64 {
        self.any.iter().find(|(who, _)| *who == father).map_or(0.0, |(_, any)| *any)
    }
}

impl From<&SireAnswer> for SireTold {
    fn from(answer: &SireAnswer) -> Self {
        let any = answer.candidates.iter().map(|c| (c.candidate.father, c.any)).collect();
        Self { any, two: answer.two }
    }
}

/// The chance of every genotype of every animal of a colony.
#[derive(Clone, Debug)]
pub struct GeneChances {
    pub(super) lineage: Arc<Lineage>,
    /// Every locus that somebody's records name, in catalogue order.
    pub loci: Vec<LocusChances>,
    texts: Vec<[Option<Arc<LabelRead>>; 2]>,
    /// What the setting `carrier_chances` names that is neither a hidden gene nor an animal.
    pub unread_carriers: Vec<String>,
    /// Clutches whose sire is in doubt: their young are reckoned over all of them.
    pub sires: Vec<SireWeighed>,
    /// Whether there were too many combinations of sires: some clutches then stand with their
    /// likeliest sire alone.
    pub are_sires_cut: bool,
}

impl GeneChances {
    pub(super) const fn new(
        lineage: Arc<Lineage>,
        loci: Vec<LocusChances>,
        texts: Vec<[Option<Arc<LabelRead>>; 2]>,
        unread_carriers: Vec<String>,
    ) -> Self {
        let sires = Vec::new();
        Self { lineage, loci, texts, unread_carriers, sires, are_sires_cut: false }
    }

    pub(super) fn with_sires(self, sires: Vec<SireWeighed>, are_sires_cut: bool) -> Self {
        Self { sires, are_sires_cut, ..self }
    }

    /// One locus, where it is in play.
    #[must_use]
    pub fn locus(&self, id: LocusId) -> Option<&LocusChances> {
        self.loci.binary_search_by_key(&id, |l| l.play.id).ok().map(|at| &self.loci[at])
    }

    /// The chance that an animal has a copy of a gene at least; 0 for a gene that nobody names.
    #[must_use]
    pub fn carries(&self, place: usize, gene: Gene) -> Probability {
        let Some(locus) = self.locus(gene.locus) else { return Probability::ZERO };
        let has = |(copies, _): &(Copies, f64)| copies.genotype().copies(gene.allele) > 0;
        Probability::clamped(locus.of(place).into_iter().filter(has).map(|(_, p)| p).sum())
    }

    /// What is believed of an animal's genes, for the chances of a pair.
    #[must_use]
    pub fn belief(&self, place: usize) -> Belief {
        let of = |locus: &LocusChances| {
            let mut chances = locus.of(place);
            chances.retain(|(_, p)| *p > 0.0);
            let is_wild = matches!(chances.as_slice(), [(copies, _)] if *copies == Copies::WILD);
            (!is_wild).then_some((locus.play.id, chances))
        };
        Belief::from_chances(self.loci.iter().filter_map(of).collect())
    }

    /// What was seen of an animal at a locus.
    #[must_use]
    pub fn seen(&self, catalogue: &Catalogue, place: usize, locus: LocusId) -> Seen {
        self.written(place).map_or(Seen::NotLooked, |written| written.seen(catalogue, locus))
    }

    /// What its label claims of hidden copies at a locus.
    #[must_use]
    pub fn claimed(&self, catalogue: &Catalogue, place: usize, locus: LocusId) -> Option<Claimed> {
        self.written(place)?.claimed(catalogue, locus)
    }

    /// Words of an animal's label that are not settled, as questions.
    #[must_use]
    pub fn questions(&self, place: usize) -> Vec<String> {
        let texts = self.texts.get(place).into_iter().flatten().flatten();
        texts.flat_map(|read| read.questions.iter().cloned()).collect()
    }

    /// How many parents of an animal are recorded.
    #[must_use]
    pub fn recorded_parents(&self, place: usize) -> u8 {
        self.lineage.recorded.get(place).copied().unwrap_or(0)
    }

    /// Animals that their records make their own ancestors: their parents are left out.
    #[must_use]
    pub fn circular(&self) -> &[usize] {
        &self.lineage.circular
    }

    /// Parents that cannot be ones by their sex: they are left out.
    #[must_use]
    pub fn wrong_sex(&self) -> &[WrongSex] {
        &self.lineage.wrong_sex
    }

    /// Log10 of the chance of everything that is written, over all loci.
    #[must_use]
    pub fn log10_likelihood(&self) -> f64 {
        self.loci.iter().map(|locus| locus.log10_likelihood).sum()
    }

    pub(super) fn written(&self, place: usize) -> Option<Written<'_>> {
        let [genes, look] = self.texts.get(place)?;
        Some(Written { genes: genes.as_deref(), look: look.as_deref() })
    }
}
