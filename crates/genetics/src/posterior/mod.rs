//! The chance of every genotype of every animal, given all that is known of all of them.
//!
//! Exact: genotypes that cannot be are struck out family by family (Lange & Goradia 1987, from
//! memory), young without young of their own are drawn into one table per pair of parents, and the
//! animals that are left are summed out one after the other (peeling: Elston & Stewart 1971;
//! Cannings, Thompson & Skolnick 1978; both from memory) in an order of least weight. Where tables are
//! large, states that differ by a factor only stand in them once ([`kinds`]), and what many tables
//! hand on to one is first joined in smaller ones ([`cliques`]). One pass
//! inwards gives the likelihood, one pass outwards all posteriors. Numbers are scaled at every step;
//! what is less likely than the likeliest by more than 300 powers of ten counts as impossible.

mod cliques;
mod eliminate;
mod factor;
mod joint;
mod kinds;
mod leaves;
mod network;
mod order;
mod row_tables;
mod sampled;
mod seat;
mod split_mix;
mod table;
#[cfg(test)]
mod tests;
mod tree;

use std::fmt;

use crate::evidence::Evidence;
use crate::linkage::LinkageGroup;
use crate::pedigree::Pedigree;

pub use joint::{Joint, joints};
pub use sampled::Sampling;

/// What an answer may cost.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Budget {
    /// Most numbers that all tables of one exact run may hold together, 8 bytes each.
    pub table_entries: usize,
    /// What to do where the exact answer needs more: draw, or give none.
    pub sampling: Option<Sampling>,
}

impl Default for Budget {
    /// 16 million numbers, 128 MB; beyond it, drawn.
    fn default() -> Self {
        Self { table_entries: 1 << 24, sampling: Some(Sampling::default()) }
    }
}

impl Budget {
    /// The same without drawing: exact or no answer.
    #[must_use]
    pub const fn exact(self) -> Self {
        Self { sampling: None, ..self }
    }
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unanswered {
    /// What is known cannot all be true: its likelihood is 0.
    Impossible {
        /// Animals of the family at which it came out, as places in the pedigree. Empty where no
        /// single family shows it.
        near: Vec<usize>,
    },
    /// The exact answer needs more than the budget.
    TooWide {
        /// Numbers it would need.
        entries: u128,
    },
    /// The exact answer needs more than the budget, and no genotypes were found to start drawing
    /// from that fit everything known. Most likely something known is wrong.
    NoStart,
    /// Evidence and pedigree are of different size, or evidence and group have different states.
    Mismatch,
}

impl fmt::Display for Unanswered {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Impossible { .. } => f.write_str(
                "these records cannot all be true: look for a wrong parent or a wrong look",
            ),
            Self::TooWide { entries } => write!(
                f,
                "too many animals of unknown status depend on each other: the exact answer needs {entries} numbers at once. Say of more founders what they carry, or allow more memory"
            ),
            Self::NoStart => f.write_str(
                "no genotypes were found that fit all these records: look for a wrong parent or a wrong look, or say of more founders what they carry",
            ),
            Self::Mismatch => f.write_str(
                "the evidence was made for another pedigree or another group of loci: make it anew",
            ),
        }
    }
}

impl std::error::Error for Unanswered {}

/// How far an answer can be trusted as a computation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Accuracy {
    /// Exact but for rounding.
    Exact,
    /// Drawn. An error is a Monte Carlo standard error: the truth is within two of them in about
    /// 19 of 20 cases.
    Sampled {
        /// The largest error of any chance of any animal.
        worst_error: f64,
        /// 95 of 100 animals have no larger one.
        error_95: f64,
        /// Sweeps of each chain.
        sweeps: u32,
        /// Independent chains.
        chains: usize,
    },
}

/// Posterior chances of all animals.
#[derive(Clone, Debug)]
pub struct Posteriors {
    states: usize,
    chances: Vec<f64>,
    log_likelihood: Option<f64>,
    accuracy: Accuracy,
    /// Of each chance; empty where exact.
    errors: Vec<f64>,
}

impl Posteriors {
    /// Chances of an animal's states; they sum to 1. Empty for one who is not there.
    #[must_use]
    pub fn of(&self, animal: usize) -> &[f64] {
        let from = animal.saturating_mul(self.states);
        self.chances.get(from..from + self.states).unwrap_or(&[])
    }

    /// Log10 of the chance of everything that is known, were nothing known. None where the answer
    /// is drawn: drawing posteriors does not tell it.
    #[must_use]
    pub fn log10_likelihood(&self) -> Option<f64> {
        self.log_likelihood.map(|log| log / std::f64::consts::LN_10)
    }

    /// Monte Carlo standard errors of an animal's chances; empty where they are exact.
    #[must_use]
    pub fn errors_of(&self, animal: usize) -> &[f64] {
        let from = animal.saturating_mul(self.states);
        self.errors.get(from..from + self.states).unwrap_or(&[])
    }

    /// How far it can be trusted as a computation.
    #[must_use]
    pub const fn accuracy(&self) -> Accuracy {
        self.accuracy
    }
}

/// Memory that one run leaves to the next; many runs in a row are faster for it.
#[derive(Clone, Debug, Default)]
pub struct Workspace {
    room: tree::Room,
}

/// Chances of every state of every animal.
///
/// # Errors
/// [`Unanswered`].
pub fn posteriors(
    pedigree: &Pedigree,
    group: &LinkageGroup,
    evidence: &Evidence,
    budget: &Budget,
) -> Result<Posteriors, Unanswered> {
    posteriors_in(&mut Workspace::default(), pedigree, group, evidence, budget)
}

/// As [`posteriors`], in memory that is there already.
///
/// # Errors
/// [`Unanswered`].
pub fn posteriors_in(
    workspace: &mut Workspace,
    pedigree: &Pedigree,
    group: &LinkageGroup,
    evidence: &Evidence,
    budget: &Budget,
) -> Result<Posteriors, Unanswered> {
    if evidence.animals() != pedigree.len() || evidence.states() != group.n_states() {
        return Err(Unanswered::Mismatch);
    }
    let rows = row_tables::RowTables::new(pedigree, group, evidence);
    let domains = eliminate::eliminate(pedigree, group, evidence, &rows)?;
    let network = network::Network::new(pedigree, group, evidence, &rows, &domains)?;
    let (order, by_kinds) = match order::by_kinds(&network, budget) {
        Err(Unanswered::TooWide { entries }) => {
            let too_wide = Unanswered::TooWide { entries };
            let sampling = budget.sampling.as_ref().ok_or(too_wide)?;
            let given =
                sampled::Given { pedigree, group, evidence, rows: &rows, network: &network };
            return sampled::posteriors(given, sampling, budget);
        }
        other => other?,
    };
    let network = by_kinds.unwrap_or(network);
    let tree = tree::Calibrated::new(&network, &order, &mut workspace.room)?;
    let mut chances = vec![0.0; pedigree.len() * group.n_states()];
    tree.write_breeders(pedigree, &mut chances);
    let leaves = leaves::Leaves { pedigree, group, evidence, rows: &rows, network: &network };
    let log = tree.log_likelihood() + leaves.write(&tree, &mut chances)?;
    Ok(Posteriors {
        states: group.n_states(),
        chances,
        log_likelihood: Some(log),
        accuracy: Accuracy::Exact,
        errors: Vec::new(),
    })
}
