//! Two animals at once.

use super::eliminate::eliminate;
use super::leaves::Leaves;
use super::network::Network;
use super::order::least_weight;
use super::row_tables::RowTables;
use super::seat::{Carried, Seat};
use super::tree::{Calibrated, Room};
use super::{Budget, Unanswered};
use crate::evidence::Evidence;
use crate::linkage::LinkageGroup;
use crate::pedigree::Pedigree;

/// Joint chances of the states of two animals.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    states: usize,
    chances: Vec<f64>,
}

impl Joint {
    /// The chance that the first animal has state `a` and the second `b`; 0 where there is no such
    /// state.
    #[must_use]
    pub fn of(&self, a: usize, b: usize) -> f64 {
        if b >= self.states {
            0.0
        } else {
            self.chances.get(a * self.states + b).copied().unwrap_or(0.0)
        }
    }

    /// All chances, the first animal's states outermost.
    #[must_use]
    pub fn chances(&self) -> &[f64] {
        &self.chances
    }
}

/// Exact joint chances of pairs of animals, in the order asked.
///
/// All come from one run: where the first animal of a pair stands, its states are carried through the
/// tree to where the other one stands.
///
/// # Errors
/// [`Unanswered`], as for [`posteriors`]; joint chances are never drawn, so [`Unanswered::TooWide`]
/// where the exact answer needs more than the budget.
///
/// [`posteriors`]: super::posteriors
pub fn joints(
    pedigree: &Pedigree,
    group: &LinkageGroup,
    evidence: &Evidence,
    budget: &Budget,
    pairs: &[(usize, usize)],
) -> Result<Vec<Joint>, Unanswered> {
    let m = group.n_states();
    if evidence.animals() != pedigree.len() || evidence.states() != m {
        return Err(Unanswered::Mismatch);
    }
    let rows = RowTables::new(pedigree, group, evidence);
    let domains = eliminate(pedigree, group, evidence, &rows)?;
    let network = Network::new(pedigree, group, evidence, &rows, &domains)?;
    let order = least_weight(&network, &budget.exact())?;
    let mut room = Room::default();
    let tree = Calibrated::new(&network, &order, &mut room)?;
    let leaves = Leaves { pedigree, group, evidence, rows: &rows, network: &network };
    of_tree(&leaves, &tree, pairs)
}

/// Joint chances of pairs from tables that are there.
pub(super) fn of_tree(
    leaves: &Leaves<'_>,
    tree: &Calibrated<'_>,
    pairs: &[(usize, usize)],
) -> Result<Vec<Joint>, Unanswered> {
    let m = leaves.group.n_states();
    let mut alone = vec![0.0; leaves.pedigree.len() * m];
    tree.write_breeders(leaves.pedigree, &mut alone);
    leaves.write(tree, &mut alone)?;
    let of = |animal: usize| alone.get(animal * m..(animal + 1) * m).unwrap_or(&[]);
    let mut found: Vec<Joint> =
        pairs.iter().map(|_| Joint { states: m, chances: vec![0.0; m * m] }).collect();
    let mut by_first: Vec<usize> = (0..pairs.len()).collect();
    by_first.sort_by_key(|i| pairs[*i].0);
    for same in by_first.chunk_by(|i, j| pairs[*i].0 == pairs[*j].0) {
        let one = pairs[same[0]].0;
        let seat = |animal| Seat::of(leaves, tree, animal);
        let mut carried = seat(one).map(|seat| Carried::from(tree, seat));
        for i in same {
            let (other, out) = (pairs[*i].1, &mut found[*i].chances);
            if one == other {
                (0..m).zip(of(one)).for_each(|(state, p)| out[state * (m + 1)] = *p);
                continue;
            }
            let both = carried.as_mut().zip(seat(other));
            if !both.is_some_and(|(carried, other)| carried.joint(&other, m, out)) {
                let cells = of(one).iter().flat_map(|p| of(other).iter().map(move |q| p * q));
                out.iter_mut().zip(cells).for_each(|(out, p)| *out = p);
            }
        }
    }
    Ok(found)
}
