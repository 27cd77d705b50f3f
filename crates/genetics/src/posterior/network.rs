//! The animals that are still unknown, and what binds them.

use std::ops::Range;

use super::Unanswered;
use super::eliminate::{Domains, members};
use super::factor::Factors;
use super::kinds::Kinds;
use super::row_tables::{RowTables, is_alone};
use super::table::rescale;
use crate::evidence::Evidence;
use crate::linkage::{LinkageGroup, states_in};
use crate::pedigree::{Family, NOBODY, Pedigree};

/// Breeders with more than one state left are *unknowns*; the rest is settled.
pub(super) struct Network {
    /// The unknown of each breeder, or [`NOBODY`].
    pub(super) unknown_of: Vec<u32>,
    /// The breeder of each unknown.
    pub(super) breeder_of: Vec<u32>,
    domain_starts: Vec<u32>,
    domains: Vec<u16>,
    /// How many states, or kinds of states, each unknown may have.
    sizes: Vec<u16>,
    /// The kinds that the factors speak of; none where they speak of states.
    pub(super) kinds: Option<Kinds>,
    /// What binds the unknowns.
    pub(super) factors: Factors,
    /// Log of everything that is settled.
    pub(super) log_settled: f64,
}

impl Network {
    pub(super) fn new(
        pedigree: &Pedigree,
        group: &LinkageGroup,
        evidence: &Evidence,
        rows: &RowTables,
        domains: &Domains,
    ) -> Result<Self, Unanswered> {
        let mut network = Self::of_domains(domains);
        for (breeder, animal) in (0_u32..).zip(pedigree.breeders()) {
            network.see_row(breeder, evidence.weights(*animal as usize));
        }
        let mut terms = Vec::new();
        for (place, family) in pedigree.families().iter().enumerate() {
            for young in pedigree.inner_of(family) {
                network.bind_young(group, family, *young);
            }
            if !rows.counts(place).is_empty() {
                let bound = network.bind_leaves(rows, place, family, &mut terms);
                bound.ok_or_else(|| Unanswered::Impossible { near: members(pedigree, family) })?;
            }
        }
        Ok(network)
    }

    fn of_domains(domains: &Domains) -> Self {
        let n = domains.masks.len();
        let mut network = Self {
            unknown_of: vec![NOBODY; n],
            breeder_of: Vec::new(),
            domain_starts: Vec::with_capacity(n + 1),
            domains: Vec::with_capacity(2 * n),
            sizes: Vec::new(),
            kinds: None,
            factors: Factors::default(),
            log_settled: 0.0,
        };
        for (breeder, mask) in (0_u32..).zip(&domains.masks) {
            network.domain_starts.push(u32::try_from(network.domains.len()).unwrap_or(u32::MAX));
            let states = states_in(*mask).map(|state| u16::try_from(state).unwrap_or(u16::MAX));
            network.domains.extend(states);
            if mask.count_ones() > 1 {
                network.unknown_of[breeder as usize] =
                    u32::try_from(network.breeder_of.len()).unwrap_or(u32::MAX);
                network.breeder_of.push(breeder);
                network.sizes.push(u16::try_from(mask.count_ones()).unwrap_or(u16::MAX));
            }
        }
        network.domain_starts.push(u32::try_from(network.domains.len()).unwrap_or(u32::MAX));
        network
    }

    /// The same unknowns with nothing that binds them.
    pub(super) fn bare(&self) -> Self {
        Self {
            unknown_of: self.unknown_of.clone(),
            breeder_of: self.breeder_of.clone(),
            domain_starts: self.domain_starts.clone(),
            domains: self.domains.clone(),
            sizes: self.sizes.clone(),
            kinds: None,
            factors: Factors::default(),
            log_settled: self.log_settled,
        }
    }

    /// Where a breeder's states stand among those of all.
    pub(super) fn domain_range(&self, breeder: u32) -> Range<usize> {
        let at = breeder as usize;
        self.domain_starts[at] as usize..self.domain_starts[at + 1] as usize
    }

    /// States a breeder may have.
    pub(super) fn domain(&self, breeder: u32) -> &[u16] {
        &self.domains[self.domain_range(breeder)]
    }

    /// How many states all breeders may have together.
    pub(super) const fn states(&self) -> usize {
        self.domains.len()
    }

    /// How many states, or kinds of states, an unknown may have.
    pub(super) fn size(&self, unknown: u32) -> usize {
        usize::from(self.sizes[unknown as usize])
    }

    /// Tells how many kinds of states an unknown has.
    pub(super) fn resize(&mut self, unknown: u32, kinds: usize) {
        self.sizes[unknown as usize] = u16::try_from(kinds).unwrap_or(u16::MAX);
    }

    fn see_row(&mut self, breeder: u32, weights: &[f64]) {
        let range = self.domain_range(breeder);
        let at = self.factors.numbers.len();
        for state in &self.domains[range] {
            self.factors.numbers.push(weights[usize::from(*state)]);
        }
        self.keep(at, &[self.unknown_of[breeder as usize]]);
    }

    fn bind_young(&mut self, group: &LinkageGroup, family: &Family, young: u32) {
        let at = self.factors.numbers.len();
        let his = self.his(family);
        let (hers, own) = (self.domain_range(family.dam), self.domain_range(young));
        for s in his {
            for d in hers.clone() {
                let dam = usize::from(self.domains[d]);
                let chances = match s {
                    Some(s) => group.young(usize::from(self.domains[s]), dam),
                    None => group.young_alone(dam),
                };
                for c in own.clone() {
                    let state = self.domains[c];
                    let found = chances.iter().find(|(young, _)| *young == state);
                    self.factors.numbers.push(found.map_or(0.0, |(_, p)| *p));
                }
            }
        }
        let unknowns = [self.unknown(family.sire), self.unknown(family.dam), self.unknown(young)];
        self.keep(at, &unknowns);
    }

    // None where no pair of states can have all the leaves.
    fn bind_leaves(
        &mut self,
        rows: &RowTables,
        place: usize,
        family: &Family,
        terms: &mut Vec<f64>,
    ) -> Option<()> {
        let alone = is_alone(family);
        let hers = self.domain(family.dam);
        let his = if alone { &[0][..] } else { self.domain(family.sire) };
        let counts = rows.counts(place);
        terms.clear();
        for (row, _) in counts {
            for s in his {
                let of = |d: &u16| rows.term(*row, alone, (usize::from(*s), usize::from(*d)));
                terms.extend(hers.iter().map(of));
            }
        }
        let (at, n_pairs) = (self.factors.numbers.len(), his.len() * hers.len());
        let can_have = |pair| terms[pair..].iter().step_by(n_pairs).all(|term| *term > 0.0);
        self.factors.numbers.extend((0..n_pairs).map(|pair| f64::from(u8::from(can_have(pair)))));
        let table = &mut self.factors.numbers[at..];
        for ((_, n), terms) in counts.iter().zip(terms.chunks_exact(n_pairs)) {
            let possible = terms.iter().zip(&*table).filter(|(_, number)| **number > 0.0);
            let most = possible.map(|(term, _)| *term).fold(0.0, f64::max);
            if most <= 0.0 {
                return None;
            }
            self.log_settled += f64::from(*n) * most.ln();
            // Parents that are settled: the one number stays 1.
            if n_pairs > 1 {
                let times = i32::try_from(*n).unwrap_or(i32::MAX);
                let all = table.iter_mut().zip(terms);
                all.for_each(|(number, term)| *number *= (term / most).powi(times));
                self.log_settled += rescale(table);
            }
        }
        let unknowns = [self.unknown(family.sire), self.unknown(family.dam)];
        self.keep(at, &unknowns);
        Some(())
    }

    fn his(&self, family: &Family) -> Vec<Option<usize>> {
        if is_alone(family) {
            return vec![None];
        }
        self.domain_range(family.sire).map(Some).collect()
    }

    fn unknown(&self, breeder: u32) -> u32 {
        if breeder == NOBODY { NOBODY } else { self.unknown_of[breeder as usize] }
    }

    // Animals that are settled have one state each and add nothing to the shape of the table.
    fn keep(&mut self, at: usize, unknowns: &[u32]) {
        let mut open = [0; super::factor::MOST];
        let mut n = 0;
        for unknown in unknowns.iter().filter(|u| **u != NOBODY) {
            open[n] = *unknown;
            n += 1;
        }
        let numbers = &self.factors.numbers[at..];
        let is_even = || numbers.iter().all(|x| x.to_bits() == numbers[0].to_bits());
        if n == 0 || (n == 1 && is_even()) {
            self.log_settled += numbers[0].ln();
            self.factors.numbers.truncate(at);
        } else {
            self.factors.close(at, &open[..n]);
        }
    }
}
