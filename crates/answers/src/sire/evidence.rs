//! Parents and hatchlings of one clutch, locus by locus, as the engine wants them.

use genetics::genotype::Copies;
use genetics::linkage::SexLink;
use genetics::paternity::{GroupSeen, Parents};
use genetics::{Catalogue, LinkageGroup, LocusId};
use records::{Clutch, Colony, Sex};

use super::candidates::{Candidate, Father};
use crate::gene_chances::{GeneChances, LocusChances};
use crate::settings::InForce;

/// One locus with its group and what is known there.
#[derive(Debug)]
pub(super) struct LocusSeen {
    /// None: the sexes alone.
    pub locus: Option<LocusId>,
    pub copies: Vec<Copies>,
    pub group: LinkageGroup,
    pub parents: Vec<Parents>,
    pub young: Vec<Vec<f64>>,
}

impl LocusSeen {
    pub fn as_group(&self) -> GroupSeen<'_> {
        GroupSeen { group: &self.group, parents: self.parents.clone(), young: self.young.clone() }
    }
}

/// The colony as if nobody knew whose young these are, so that they say nothing of their parents.
pub(super) fn cut(colony: &Colony, clutch: &Clutch) -> Colony {
    let mut cut = colony.clone();
    for young in &clutch.young {
        cut.animals[*young].sire = None;
        cut.animals[*young].dam = None;
        cut.animals[*young].clutch = None;
    }
    for other in cut.clutches.iter_mut().filter(|c| c.id == clutch.id) {
        other.young.clear();
        other.sire = None;
    }
    cut
}

/// The males in question with her: per locus of `apart`, in its order, the joint chances of the states
/// of each and hers.
pub(super) struct Together {
    pub males: Vec<usize>,
    joints: Vec<Vec<Vec<(usize, usize, f64)>>>,
}

impl Together {
    pub fn of(apart: &GeneChances, candidates: &[Candidate], dam: usize) -> Self {
        let mut males: Vec<usize> = candidates.iter().filter_map(|c| c.father.male()).collect();
        males.sort_unstable();
        males.dedup();
        let joints = apart.loci.iter().map(|locus| locus.joints_with_dam(&males, dam)).collect();
        Self { males, joints }
    }

    /// At the locus in that place; nothing of a male who is not in question.
    pub fn at(&self, locus: usize, male: usize) -> &[(usize, usize, f64)] {
        let joint = |at| self.joints.get(locus).and_then(|all| all.get(at));
        self.males.binary_search(&male).ok().and_then(joint).map_or(&[], Vec::as_slice)
    }
}

/// What the question is about.
pub(super) struct Asked<'a> {
    pub colony: &'a Colony,
    pub clutch: &'a Clutch,
    pub catalogue: &'a Catalogue,
    pub force: &'a InForce,
    /// Chances without this clutch.
    pub apart: &'a GeneChances,
    pub candidates: &'a [Candidate],
    pub together: &'a Together,
}

impl Asked<'_> {
    /// Every locus in play, and the sexes.
    pub fn loci(&self) -> Vec<LocusSeen> {
        let loci = self.apart.loci.iter().enumerate();
        loci.filter_map(|(at, locus)| self.locus(at, locus)).chain(self.sexes()).collect()
    }

    fn locus(&self, at: usize, locus: &LocusChances) -> Option<LocusSeen> {
        let group = locus.group_of_hatchlings(self.force.sires.kept.get())?;
        let copies = locus.play.copies.clone();
        let state = |c: &Copies| copies.iter().position(|copies| copies == c);
        let dam = locus.of(self.clutch.female);
        let her = dam.iter().filter(|(_, p)| *p > 0.0);
        let parents = self.candidates.iter().map(|candidate| match candidate.father {
            Father::Male(male) | Father::Stored(male) => {
                Parents::Pair(self.together.at(at, male).to_vec())
            }
            Father::Unknown => {
                let his = locus.unrecorded_sire(self.catalogue, &self.force.genes);
                let cases = his.iter().enumerate().filter(|(_, p)| **p > 0.0).flat_map(|(s, p)| {
                    her.clone().filter_map(move |(d, q)| Some((s, state(d)?, p * q)))
                });
                Parents::Pair(normal(cases.collect(), |c| &mut c.2))
            }
            Father::Nobody => {
                let cases = her.clone().filter_map(|(d, q)| Some((state(d)?, *q)));
                Parents::Alone(normal(cases.collect(), |c| &mut c.1))
            }
        });
        let parents = parents.collect();
        let rules = (self.catalogue, &self.force.genes);
        let row = |place: &usize| self.apart.seen_apart(rules, self.colony, *place, locus);
        let young = self.clutch.young.iter().map(row).collect();
        Some(LocusSeen { locus: Some(locus.play.id), copies, group, parents, young })
    }

    /// Young without a sire are female.
    fn sexes(&self) -> Option<LocusSeen> {
        let group = LinkageGroup::sex_linked(1, SexLink::XOnly).ok()?;
        let of = |sex| (0..group.n_states()).find(|state| group.sex(*state) == Some(sex));
        let (male, female) = (of(genetics::Sex::Male)?, of(genetics::Sex::Female)?);
        let parents = self.candidates.iter().map(|candidate| match candidate.father {
            Father::Nobody => Parents::Alone(vec![(female, 1.0)]),
            _ => Parents::Pair(vec![(male, female, 1.0)]),
        });
        let parents = parents.collect();
        let row = |place: &usize| {
            let told = self.colony.animals[*place].sex();
            let fits = |state: usize| match told {
                Some(Sex::Male) => state == male,
                Some(Sex::Female) => state == female,
                None => true,
            };
            (0..group.n_states()).map(|state| f64::from(u8::from(fits(state)))).collect()
        };
        let young = self.clutch.young.iter().map(row).collect();
        Some(LocusSeen { locus: None, copies: Vec::new(), group, parents, young })
    }
}

/// Chances that sum to 1.
fn normal<T>(mut cases: Vec<T>, chance: impl Fn(&mut T) -> &mut f64) -> Vec<T> {
    let sum: f64 = cases.iter_mut().map(|case| *chance(case)).sum();
    if sum > 0.0 {
        cases.iter_mut().for_each(|case| *chance(case) /= sum);
    }
    cases
}
