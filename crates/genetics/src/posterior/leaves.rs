//! Animals without young: their chances follow from their parents' and what is known of them.

use super::Unanswered;
use super::network::Network;
use super::row_tables::{RowTables, is_alone};
use super::tree::{Calibrated, Scratch};
use crate::evidence::Evidence;
use crate::linkage::LinkageGroup;
use crate::pedigree::{Family, NOBODY, Origin, Pedigree};

pub(super) struct Leaves<'a> {
    pub(super) pedigree: &'a Pedigree,
    pub(super) group: &'a LinkageGroup,
    pub(super) evidence: &'a Evidence,
    pub(super) rows: &'a RowTables,
    pub(super) network: &'a Network,
}

impl Leaves<'_> {
    /// Fills in every animal without young; gives the log likelihood of founders among them, which
    /// no family counts.
    pub(super) fn write(
        &self,
        tree: &Calibrated<'_>,
        chances: &mut [f64],
    ) -> Result<f64, Unanswered> {
        let m = self.group.n_states();
        let row_of = self.evidence.rows_of();
        let mut young: Vec<f64> = Vec::new();
        let (mut pair, mut scratch) = (Vec::new(), Scratch::default());
        for (place, family) in self.pedigree.families().iter().enumerate() {
            let counts = self.rows.counts(place);
            if counts.is_empty() {
                continue;
            }
            self.parents(tree, &mut scratch, family, &mut pair);
            young.clear();
            young.resize(counts.len() * m, 0.0);
            for ((row, _), out) in counts.iter().zip(young.chunks_exact_mut(m)) {
                self.of_row(*row, family, &pair, out);
            }
            for leaf in self.pedigree.leaves_of(family) {
                let at = counts.iter().position(|(row, _)| *row == row_of[*leaf as usize]);
                let from = at.unwrap_or(0) * m;
                let to = *leaf as usize * m;
                chances[to..to + m].copy_from_slice(&young[from..from + m]);
            }
        }
        self.write_lone(chances)
    }

    /// Fills in founders without young; gives their log likelihood.
    pub(super) fn write_lone(&self, chances: &mut [f64]) -> Result<f64, Unanswered> {
        let m = self.group.n_states();
        let mut log = 0.0;
        for animal in 0..self.pedigree.len() {
            if self.pedigree.is_parent(animal) || self.pedigree.origin(animal) != Origin::Founder {
                continue;
            }
            let weights = self.evidence.weights(animal);
            let sum: f64 = weights.iter().sum();
            if sum <= 0.0 {
                return Err(Unanswered::Impossible { near: vec![animal] });
            }
            log += sum.ln();
            let out = &mut chances[animal * m..(animal + 1) * m];
            out.iter_mut().zip(weights).for_each(|(out, w)| *out = w / sum);
        }
        Ok(log)
    }

    fn of_row(&self, row: u32, family: &Family, pair: &[(usize, usize, f64)], out: &mut [f64]) {
        let weights = self.evidence.row(row);
        let alone = is_alone(family);
        for (sire, dam, p) in pair {
            let term = self.rows.term(row, alone, (*sire, *dam));
            if *p <= 0.0 || term <= 0.0 {
                continue;
            }
            let chances =
                if alone { self.group.young_alone(*dam) } else { self.group.young(*sire, *dam) };
            for (state, q) in chances {
                let state = usize::from(*state);
                out[state] += p / term * q * weights[state];
            }
        }
        let sum: f64 = out.iter().sum();
        if sum > 0.0 {
            out.iter_mut().for_each(|x| *x /= sum);
        }
    }

    // Joint chances of the parents' states; the sire's is 0 where there is none.
    fn parents(
        &self,
        tree: &Calibrated<'_>,
        scratch: &mut Scratch,
        family: &Family,
        pair: &mut Vec<(usize, usize, f64)>,
    ) {
        let (of, n) = self.open(family.sire, family.dam);
        let mut chances = tree.marginal(scratch, &of[..n]).iter();
        pair.clear();
        let (his, hers) = self.domains(family.sire, family.dam);
        for s in his {
            let with = |(d, p): (&u16, &f64)| (usize::from(*s), usize::from(*d), *p);
            pair.extend(hers.iter().zip(&mut chances).map(with));
        }
    }

    // The unknowns among two breeders and how many they are; the sire may be nobody.
    fn open(&self, sire: u32, dam: u32) -> ([u32; 2], usize) {
        let of = |b: u32| if b == NOBODY { NOBODY } else { self.network.unknown_of[b as usize] };
        match [of(sire), of(dam)] {
            [NOBODY, NOBODY] => ([NOBODY; 2], 0),
            [one, NOBODY] | [NOBODY, one] => ([one, NOBODY], 1),
            both => (both, 2),
        }
    }

    // The states they can have; the sire's is 0 where there is none.
    fn domains(&self, sire: u32, dam: u32) -> (&[u16], &[u16]) {
        let his = if sire == NOBODY { &[0][..] } else { self.network.domain(sire) };
        (his, self.network.domain(dam))
    }

    /// The unknowns among two breeders; the sire may be nobody.
    pub(super) fn unknowns(&self, sire: u32, dam: u32) -> Vec<u32> {
        let (of, n) = self.open(sire, dam);
        of[..n].to_vec()
    }

    /// Each state that a young one can have, with its chances over the states of its parents, the
    /// sire's outermost.
    pub(super) fn given_parents(
        &self,
        animal: usize,
        (sire, dam): (u32, u32),
    ) -> Vec<(usize, Vec<f64>)> {
        let (row, weights) = (self.evidence.rows_of()[animal], self.evidence.weights(animal));
        let alone = sire == NOBODY;
        let (his, hers) = self.domains(sire, dam);
        let mut all = vec![vec![0.0; his.len() * hers.len()]; self.group.n_states()];
        let pairs = his.iter().flat_map(|s| hers.iter().map(move |d| (*s, *d)));
        for (at, (s, d)) in pairs.enumerate() {
            let (s, d) = (usize::from(s), usize::from(d));
            let term = self.rows.term(row, alone, (s, d));
            if term <= 0.0 {
                continue;
            }
            let young = if alone { self.group.young_alone(d) } else { self.group.young(s, d) };
            for (state, q) in young {
                let state = usize::from(*state);
                all[state][at] = q * weights[state] / term;
            }
        }
        let can_be = |(_, over): &(usize, Vec<f64>)| over.iter().any(|p| *p > 0.0);
        all.into_iter().enumerate().filter(can_be).collect()
    }
}
