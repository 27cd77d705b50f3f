//! What each row of the evidence means for a pair of parents.

use crate::evidence::Evidence;
use crate::linkage::{LinkageGroup, Mask, PairSets};
use crate::pedigree::{Family, NOBODY, Pedigree};

/// For each row its states, and for each pair of parents the chance of a young one of which it is
/// what is known.
pub(super) struct RowTables {
    states: usize,
    masks: Vec<Mask>,
    terms: Vec<f64>,
    terms_alone: Vec<f64>,
    pairs: PairSets,
    pairs_alone: PairSets,
    counts: Vec<(u32, u32)>,
    starts: Vec<u32>,
}

impl RowTables {
    pub(super) fn new(pedigree: &Pedigree, group: &LinkageGroup, evidence: &Evidence) -> Self {
        let states = group.n_states();
        let n = evidence.n_rows();
        let masks: Vec<Mask> = (0..n).map(|row| mask(row_of(evidence, row))).collect();
        let (counts, starts) = count_rows(pedigree, evidence);
        let mut tables = Self {
            states,
            masks,
            terms: vec![0.0; n * states * states],
            terms_alone: vec![0.0; n * states],
            pairs: PairSets::none(n, states),
            pairs_alone: PairSets::none(n, states),
            counts,
            starts,
        };
        let mut is_used = vec![false; n];
        tables.counts.iter().for_each(|(row, _)| is_used[*row as usize] = true);
        for row in (0..n).filter(|row| is_used[*row]) {
            tables.fill(group, row, row_of(evidence, row));
        }
        tables
    }

    fn fill(&mut self, group: &LinkageGroup, row: usize, weights: &[f64]) {
        let m = self.states;
        let chance = |young: &[(u16, f64)]| -> f64 {
            young.iter().map(|(state, p)| p * weights[usize::from(*state)]).sum()
        };
        for dam in 0..m {
            for sire in 0..m {
                let term = chance(group.young(sire, dam));
                self.terms[(row * m + sire) * m + dam] = term;
                if term > 0.0 {
                    self.pairs.insert(row, (sire, dam));
                }
            }
            let term = chance(group.young_alone(dam));
            self.terms_alone[row * m + dam] = term;
            if term > 0.0 {
                self.pairs_alone.insert(row, (0, dam));
            }
        }
    }

    /// States of which the row is possible.
    pub(super) fn mask(&self, row: u32) -> Mask {
        self.masks[row as usize]
    }

    /// The chance of such a young one of two states; the sire's is 0 where there is none.
    pub(super) fn term(&self, row: u32, is_alone: bool, (sire, dam): (usize, usize)) -> f64 {
        let (row, m) = (row as usize, self.states);
        if is_alone {
            self.terms_alone[row * m + dam]
        } else {
            self.terms[(row * m + sire) * m + dam]
        }
    }

    /// Pairs that can have such a young one.
    pub(super) fn pairs(&self, row: u32, is_alone: bool) -> &[u64] {
        if is_alone { self.pairs_alone.get(row as usize) } else { self.pairs.get(row as usize) }
    }

    /// The rows of a family's young without young, each with how often it comes.
    pub(super) fn counts(&self, family: usize) -> &[(u32, u32)] {
        &self.counts[self.starts[family] as usize..self.starts[family + 1] as usize]
    }
}

pub(super) const fn is_alone(family: &Family) -> bool {
    family.sire == NOBODY
}

fn row_of(evidence: &Evidence, row: usize) -> &[f64] {
    evidence.row(u32::try_from(row).unwrap_or(0))
}

fn mask(weights: &[f64]) -> Mask {
    weights.iter().enumerate().filter(|(_, w)| **w > 0.0).fold(0, |mask, (s, _)| mask | 1 << s)
}

fn count_rows(pedigree: &Pedigree, evidence: &Evidence) -> (Vec<(u32, u32)>, Vec<u32>) {
    let row_of = evidence.rows_of();
    let mut counts: Vec<(u32, u32)> = Vec::with_capacity(2 * pedigree.families().len());
    let mut starts = Vec::with_capacity(pedigree.families().len() + 1);
    starts.push(0);
    let mut from = 0;
    for family in pedigree.families() {
        for leaf in pedigree.leaves_of(family) {
            let row = row_of[*leaf as usize];
            match counts[from..].iter_mut().find(|(r, _)| *r == row) {
                Some((_, n)) => *n += 1,
                None => counts.push((row, 1)),
            }
        }
        from = counts.len();
        starts.push(u32::try_from(from).unwrap_or(u32::MAX));
    }
    (counts, starts)
}
