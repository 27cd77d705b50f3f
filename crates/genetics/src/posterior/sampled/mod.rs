//! Posterior chances where the exact answer is too wide: drawn, and said to be.
//!
//! Blocked Gibbs sampling conditioned on a cutset (Lund & Jensen 1999; Jensen & Kong 1999, both
//! from memory), Rao-Blackwellised:
//!
//! 1. Every unknown whose table stays small is summed out once and exactly ([`peel`]). Those left,
//!    the core, are few: of 20,000 animals about 210.
//! 2. Several cutsets of the core are chosen ([`cutset`]) such that, one held, all others of the
//!    core can be summed out by small tables. A sweep holds each in turn and draws all others
//!    jointly and exactly: one pass inwards, then backwards ([`chains`]).
//! 3. Not the draws are counted but the exact chances given the cutset, by a pass outwards; those of
//!    the animals outside the core follow from the means, since they depend on them linearly
//!    ([`readout`]).
//! 4. Sixteen chains start in different places, each found by a complete search ([`start`]). The
//!    spread of their batch means gives the Monte Carlo standard error of every chance ([`tally`]).
//!
//! Never iterative ("loopy") peeling, whose error has no bound and does not shrink.
//!
//! Hazard: with alleles that show each other (several visible ones) two animals may force each
//! other, and a chain that never frees both at once is stuck. Cutsets take turns so that, where
//! possible, every table of the core is free as a whole in one of them; where that is not enough,
//! chains from different starts disagree, and their disagreement is in the error given.

mod asks;
mod chains;
mod cutset;
mod graph;
mod inner;
mod lanes;
mod peel;
mod program;
mod random;
mod readout;
mod start;
mod table;
mod tally;

use self::asks::Asks;
use self::chains::Chains;
use self::inner::Inner;
use self::lanes::{LANES, Lanes, all};
use self::peel::peel;
use self::program::Program;
use self::random::Random;
use self::readout::{Readout, wanted};
use self::table::Table;
use self::tally::{Estimates, Tally, estimate};
use super::factor::Factor;
use super::leaves::Leaves;
use super::network::Network;
use super::row_tables::RowTables;
use super::split_mix::SplitMix;
use super::{Accuracy, Budget, Posteriors, Unanswered};
use crate::evidence::Evidence;
use crate::linkage::LinkageGroup;
use crate::pedigree::Pedigree;

/// Groups of eight chains, each with a thread of its own.
const GROUPS: usize = 2;
/// Sweeps before anything counts, and sweeps whose mean is one batch.
const BURN_IN: u32 = 32;
const BATCH: u32 = 8;
/// Batches before an error is believed.
const FEWEST_BATCHES: u32 = 8;
/// Batches between looks at the error.
const CHECK: u32 = 4;

/// How to draw where the exact answer is too wide.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sampling {
    /// Stop when no chance has a larger Monte Carlo standard error.
    pub target_error: f64,
    /// Stop after so many sweeps of each chain.
    pub most_sweeps: u32,
    /// The same seed gives the same answer.
    pub seed: u64,
}

impl Default for Sampling {
    fn default() -> Self {
        Self { target_error: 0.002, most_sweeps: 20_000, seed: 1 }
    }
}

/// What everything is computed from.
#[derive(Clone, Copy)]
pub(in crate::posterior) struct Given<'a> {
    pub(in crate::posterior) pedigree: &'a Pedigree,
    pub(in crate::posterior) group: &'a LinkageGroup,
    pub(in crate::posterior) evidence: &'a Evidence,
    pub(in crate::posterior) rows: &'a RowTables,
    pub(in crate::posterior) network: &'a Network,
}

struct Group {
    chains: Chains,
    tally: Tally,
    numbers: Vec<Lanes>,
}

/// Chances of every state of every animal, drawn.
pub(super) fn posteriors(
    given: Given<'_>,
    sampling: &Sampling,
    budget: &Budget,
) -> Result<Posteriors, Unanswered> {
    let network = given.network;
    let n = u32::try_from(network.breeder_of.len()).unwrap_or(u32::MAX);
    let size = |u: u32| u16::try_from(network.size(u)).unwrap_or(u16::MAX);
    let sizes: Vec<u16> = (0..n).map(size).collect();
    let entries = budget.table_entries as u64;
    let limit = (entries / 64).clamp(8, 128);
    let core = peel(&sizes, tables(network), limit)?;
    let inner = Inner::new(&core, &sizes);
    let mut seeds = SplitMix::new(sampling.seed);
    let scopes: Vec<&[u32]> = inner.tables.iter().map(|t| t.scope.as_slice()).collect();
    let cap = (entries / 16).clamp(16, 512).max(limit);
    let cutsets = cutset::choose(&inner.sizes, &scopes, cap, &mut seeds);
    let held: Vec<Vec<bool>> = cutsets.iter().map(|cut| inner.outside(cut)).collect();
    let asks = Asks::new(wanted(given, &core.peeled, &core.unknowns), &held, &sizes);
    let program = |(cut, held): (&Vec<bool>, &Vec<bool>)| {
        let asked: Vec<(Vec<u32>, usize)> =
            asks.during(held).into_iter().map(|(set, at)| (inner.renamed(set), at)).collect();
        Program::new(&inner.sizes, &inner.tables, cut, &asked)
    };
    let programs: Vec<Program> = cutsets.iter().zip(&held).map(program).collect();
    let readout = Readout::new(given, &sizes, &core.peeled, &asks);
    let mut groups = Vec::with_capacity(GROUPS);
    for _ in 0..GROUPS {
        let starts = inner.starts(&mut seeds)?;
        groups.push(Group {
            chains: Chains::new(&starts, &programs, asks.len(), Random::new(&mut seeds)),
            tally: Tally::new(readout.n_outputs()),
            numbers: Vec::new(),
        });
    }
    let (estimates, sweeps) = run(&mut groups, &programs, &readout, sampling);
    write(given, &readout, &estimates, sweeps)
}

fn tables(network: &Network) -> Vec<Table> {
    let table = |factor: &Factor| Table {
        scope: factor.scope().to_vec(),
        numbers: network.factors.numbers[factor.range()].to_vec(),
    };
    network.factors.all.iter().map(table).collect()
}

fn run(
    groups: &mut [Group],
    programs: &[Program],
    readout: &Readout<'_>,
    sampling: &Sampling,
) -> (Estimates, u32) {
    let is_drawn = readout.rest_on_draws();
    let mut sweeps = 0;
    let mut batches = 0;
    loop {
        let burn_in = if batches == 0 { BURN_IN } else { 0 };
        std::thread::scope(|scope| {
            let mut groups = groups.iter_mut();
            let first = groups.next();
            for group in groups {
                scope.spawn(|| group.batch(programs, readout, burn_in));
            }
            if let Some(group) = first {
                group.batch(programs, readout, burn_in);
            }
        });
        sweeps += burn_in + BATCH;
        batches += 1;
        let is_last = sweeps + BATCH > sampling.most_sweeps && batches > 1;
        if is_last || (batches >= FEWEST_BATCHES && batches % CHECK == 0) {
            let tallies: Vec<&Tally> = groups.iter().map(|group| &group.tally).collect();
            let found = estimate(&tallies, &is_drawn, sweeps - BURN_IN);
            let worst = found.errors.iter().copied().fold(0.0, f64::max);
            if is_last || worst <= sampling.target_error {
                return (found, sweeps);
            }
        }
    }
}

impl Group {
    fn batch(&mut self, programs: &[Program], readout: &Readout<'_>, burn_in: u32) {
        (0..burn_in).for_each(|_| self.chains.sweep(programs, false));
        self.chains.sums.fill(all(0.0));
        (0..BATCH).for_each(|_| self.chains.sweep(programs, true));
        self.tally.add(readout.run(&self.chains.sums, &mut self.numbers));
    }
}

fn write(
    given: Given<'_>,
    readout: &Readout<'_>,
    found: &Estimates,
    sweeps: u32,
) -> Result<Posteriors, Unanswered> {
    let Given { pedigree, group, evidence, rows, network } = given;
    let states = group.n_states();
    let mut chances = vec![0.0; pedigree.len() * states];
    let mut errors = vec![0.0; chances.len()];
    Leaves { pedigree, group, evidence, rows, network }.write_lone(&mut chances)?;
    for (breeder, animal) in (0_u32..).zip(pedigree.breeders()) {
        if let [state] = network.domain(breeder) {
            chances[*animal as usize * states + usize::from(*state)] = 1.0;
        }
    }
    readout.write(|animal, state, at| {
        chances[animal * states + state] = found.means[at];
        errors[animal * states + state] = found.errors[at];
    });
    let largest = |of: &[f64]| of.iter().copied().fold(0.0, f64::max);
    let mut sorted: Vec<f64> = errors.chunks_exact(states.max(1)).map(largest).collect();
    sorted.sort_by(f64::total_cmp);
    let at = |share: usize| sorted.get((sorted.len() * share).div_ceil(100).max(1) - 1);
    let accuracy = Accuracy::Sampled {
        worst_error: at(100).copied().unwrap_or(0.0),
        error_95: at(95).copied().unwrap_or(0.0),
        sweeps,
        chains: GROUPS * LANES,
    };
    Ok(Posteriors { states, chances, log_likelihood: None, accuracy, errors })
}
