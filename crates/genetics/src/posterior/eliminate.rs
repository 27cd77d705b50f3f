//! Striking out genotypes that cannot be, family by family, until nothing changes.
//!
//! Complete where there are no loops; with loops some impossible genotypes stay (O'Connell & Weeks
//! 1999, from memory), which costs time and changes no answer.

use super::Unanswered;
use super::row_tables::{RowTables, is_alone};
use crate::evidence::Evidence;
use crate::linkage::{LinkageGroup, Mask, PairSets, restrict, sides, states_in};
use crate::pedigree::{Family, NOBODY, Pedigree};

/// What is left.
pub(super) struct Domains {
    /// States of each breeder; none is empty.
    pub(super) masks: Vec<Mask>,
}

struct Work<'a> {
    pedigree: &'a Pedigree,
    group: &'a LinkageGroup,
    masks: Vec<Mask>,
    pairs: PairSets,
    scratch: Vec<u64>,
    waiting: Vec<u32>,
    is_waiting: Vec<bool>,
}

pub(super) fn eliminate(
    pedigree: &Pedigree,
    group: &LinkageGroup,
    evidence: &Evidence,
    rows: &RowTables,
) -> Result<Domains, Unanswered> {
    let row_of = evidence.rows_of();
    let masks: Vec<Mask> =
        pedigree.breeders().iter().map(|animal| rows.mask(row_of[*animal as usize])).collect();
    if let Some(place) = masks.iter().position(|mask| *mask == 0) {
        return Err(Unanswered::Impossible { near: vec![pedigree.breeders()[place] as usize] });
    }
    let families = pedigree.families();
    let mut pairs = PairSets::none(families.len(), group.n_states());
    for (place, family) in families.iter().enumerate() {
        let set = pairs.get_mut(place);
        set.fill(u64::MAX);
        for (row, _) in rows.counts(place) {
            set.iter_mut().zip(rows.pairs(*row, is_alone(family))).for_each(|(a, b)| *a &= b);
        }
    }
    let waiting: Vec<u32> = (0..u32::try_from(families.len()).unwrap_or(u32::MAX)).rev().collect();
    let mut work = Work {
        pedigree,
        group,
        masks,
        scratch: vec![0; pairs.words()],
        pairs,
        is_waiting: vec![true; waiting.len()],
        waiting,
    };
    while let Some(family) = work.waiting.pop() {
        work.is_waiting[family as usize] = false;
        work.settle(family as usize)?;
    }
    Ok(Domains { masks: work.masks })
}

impl Work<'_> {
    fn settle(&mut self, place: usize) -> Result<(), Unanswered> {
        let family = &self.pedigree.families()[place];
        let states = self.group.n_states();
        let alone = is_alone(family);
        let makers = self.group.makers(alone);
        let dam = self.masks[family.dam as usize];
        let sire = if alone { 1 } else { self.masks[family.sire as usize] };
        let set = self.pairs.get_mut(place);
        for young in self.pedigree.inner_of(family) {
            self.scratch.fill(0);
            makers.unite(self.masks[*young as usize], &mut self.scratch);
            set.iter_mut().zip(&self.scratch).for_each(|(a, b)| *a &= b);
        }
        restrict(set, states, sire, dam);
        let (sires, dams) = sides(set, states);
        if dams == 0 {
            return Err(Unanswered::Impossible { near: self.members(place) });
        }
        if !alone {
            self.narrow(family.sire, sires, place);
        }
        self.narrow(family.dam, dams, place);
        for at in 0..self.pedigree.inner_of(family).len() {
            let young = self.pedigree.inner_of(family)[at];
            let set = self.pairs.get(place);
            let can_be =
                |state: &usize| set.iter().zip(makers.get(*state)).any(|(a, b)| a & b != 0);
            let left = states_in(self.masks[young as usize]).filter(can_be);
            let left = left.fold(0, |mask: Mask, state| mask | 1 << state);
            if left == 0 {
                return Err(Unanswered::Impossible { near: self.members(place) });
            }
            self.narrow(young, left, place);
        }
        Ok(())
    }

    fn narrow(&mut self, breeder: u32, to: Mask, within: usize) {
        let mask = &mut self.masks[breeder as usize];
        let left = *mask & to;
        if left == *mask {
            return;
        }
        *mask = left;
        for family in self.pedigree.families_of(breeder) {
            // The family that did it has nothing to learn: what was struck out had no pair there.
            if *family as usize != within && !self.is_waiting[*family as usize] {
                self.is_waiting[*family as usize] = true;
                self.waiting.push(*family);
            }
        }
    }

    fn members(&self, place: usize) -> Vec<usize> {
        members(self.pedigree, &self.pedigree.families()[place])
    }
}

/// Sire, dam and young of a family, as places in the pedigree.
pub(super) fn members(pedigree: &Pedigree, family: &Family) -> Vec<usize> {
    let animal = |breeder: u32| pedigree.breeders()[breeder as usize] as usize;
    let parents = [family.sire, family.dam].into_iter().filter(|b| *b != NOBODY).map(animal);
    let inner = pedigree.inner_of(family).iter().map(|b| animal(*b));
    let leaves = pedigree.leaves_of(family).iter().map(|leaf| *leaf as usize);
    parents.chain(inner).chain(leaves).collect()
}
