//! What stands above a node, worked out once for each combination of parents and row.
//!
//! Going down from the founders, every node gets the chances that its parents and its own row give
//! it, its relatives to the side and its young left aside. They say which states it can have at all,
//! and in a large colony which are so unlikely that they may be left out.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

use genetics::LinkageGroup;

use super::lineage::{NOBODY, count};
use super::run::{Mask, RowTable};

/// The chances of a node from above.
#[derive(Clone, Debug)]
pub(super) struct FromAbove {
    pub chances: Box<[f64]>,
    pub mask: Mask,
    /// What it adds to the likelihood, where it and its parents are certain; else 1.
    pub factor: f64,
    pub is_clash: bool,
}

/// Sire and dam by their numbers here, the row, and whether nothing may be left out.
type Key = (u32, u32, u32, bool);

/// All combinations met, by number.
#[derive(Clone, Debug, Default)]
pub(super) struct Above {
    known: HashMap<Key, u32, BuildHasherDefault<Mixing>>,
    all: Vec<FromAbove>,
}

impl Above {
    pub fn get(&self, number: u32) -> &FromAbove {
        &self.all[number as usize]
    }

    /// The number of a combination. `least`: states of a node with young below this chance are left
    /// out, unless it is to be kept `whole`.
    pub fn number(&mut self, key: Key, group: &LinkageGroup, table: &RowTable, least: f64) -> u32 {
        if let Some(number) = self.known.get(&key) {
            return *number;
        }
        let made = self.make(key, group, table, least);
        let number = count(self.all.len());
        self.all.push(made);
        self.known.insert(key, number);
        number
    }

    fn make(
        &self,
        (sire, dam, row, is_whole): Key,
        group: &LinkageGroup,
        table: &RowTable,
        least: f64,
    ) -> FromAbove {
        let row = table.row(row);
        let mut chances: Box<[f64]> = row.iter().copied().collect();
        let of = |number: u32| (number != NOBODY).then(|| self.get(number));
        let parents = of(dam).map(|dam| (of(sire), dam));
        if let Some((sire, dam)) = parents {
            let young = passed_on(sire, dam, group);
            chances.iter_mut().zip(young).for_each(|(w, y)| *w *= y);
        }
        let is_clash = !normalise(&mut chances);
        if is_clash {
            chances.copy_from_slice(row);
            if !normalise(&mut chances) {
                chances[0] = 1.0;
            }
        }
        if !is_whole && least > 0.0 {
            chances.iter_mut().filter(|p| **p < least).for_each(|p| *p = 0.0);
            normalise(&mut chances);
        }
        let mask = chances.iter().enumerate().filter(|(_, p)| **p > 0.0);
        let mask: Mask = mask.fold(0, |mask, (state, _)| mask | 1 << state);
        let factor = certain_factor(mask, row, parents, group);
        FromAbove { chances, mask, factor, is_clash }
    }
}

/// What a dam passes on, with a sire or alone.
fn passed_on(sire: Option<&FromAbove>, dam: &FromAbove, group: &LinkageGroup) -> Vec<f64> {
    let mut young = vec![0.0; group.n_states()];
    let mut add = |chance: f64, passed: &[(u16, f64)]| {
        passed.iter().for_each(|(state, t)| young[usize::from(*state)] += chance * t);
    };
    let possible = |of: &FromAbove| -> Vec<(usize, f64)> {
        of.chances.iter().copied().enumerate().filter(|(_, p)| *p > 0.0).collect()
    };
    let hers = possible(dam);
    match sire {
        None => hers.iter().for_each(|(d, q)| add(*q, group.young_alone(*d))),
        Some(sire) => {
            for (s, p) in possible(sire) {
                hers.iter().for_each(|(d, q)| add(p * q, group.young(s, *d)));
            }
        }
    }
    young
}

fn certain_factor(
    mask: Mask,
    row: &[f64],
    parents: Option<(Option<&FromAbove>, &FromAbove)>,
    group: &LinkageGroup,
) -> f64 {
    let Some(state) = only(mask) else { return 1.0 };
    let Some((sire, dam)) = parents else { return row[state] };
    let Some(d) = only(dam.mask) else { return 1.0 };
    let young = match sire.map(|sire| only(sire.mask)) {
        None => group.young_alone(d),
        Some(Some(s)) => group.young(s, d),
        Some(None) => return 1.0,
    };
    let passed = young.iter().find(|(young, _)| usize::from(*young) == state);
    passed.map_or(0.0, |(_, p)| p * row[state])
}

/// The one state of a set; none where it has several or none.
pub(super) fn only(mask: Mask) -> Option<usize> {
    (mask.count_ones() == 1).then(|| mask.trailing_zeros() as usize)
}

fn normalise(chances: &mut [f64]) -> bool {
    let sum: f64 = chances.iter().sum();
    if sum > 0.0 {
        chances.iter_mut().for_each(|p| *p /= sum);
    }
    sum > 0.0
}

/// Mixes whole numbers by multiplying: these keys are looked up a hundred thousand times an answer,
/// and nobody outside chooses them.
#[derive(Default)]
pub(super) struct Mixing(u64);

impl Hasher for Mixing {
    fn finish(&self) -> u64 {
        self.0
    }

    fn write(&mut self, bytes: &[u8]) {
        bytes.iter().for_each(|byte| self.write_u32(u32::from(*byte)));
    }

    fn write_u32(&mut self, n: u32) {
        self.0 = (self.0.rotate_left(23) ^ u64::from(n)).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    }

    fn write_u8(&mut self, n: u8) {
        self.write_u32(u32::from(n));
    }

    fn write_usize(&mut self, n: usize) {
        self.write_u32(n as u32 ^ (n >> 32) as u32);
    }
}
