//! Two animals at once.

use super::{Budget, Posteriors, Unanswered, posteriors};
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
/// The first animal of a pair is set to each of its states in turn, so many pairs that share their
/// first animal cost little more than one.
///
/// # Errors
/// [`Unanswered`], as for [`posteriors`]; joint chances are never drawn, so [`Unanswered::TooWide`]
/// where the exact answer needs more than the budget.
pub fn joints(
    pedigree: &Pedigree,
    group: &LinkageGroup,
    evidence: &Evidence,
    budget: &Budget,
    pairs: &[(usize, usize)],
) -> Result<Vec<Joint>, Unanswered> {
    let budget = &budget.exact();
    let whole = posteriors(pedigree, group, evidence, budget)?;
    let m = group.n_states();
    let mut found: Vec<Joint> =
        pairs.iter().map(|_| Joint { states: m, chances: vec![0.0; m * m] }).collect();
    let mut order: Vec<usize> = (0..pairs.len()).collect();
    order.sort_by_key(|i| pairs[*i].0);
    for same in order.chunk_by(|i, j| pairs[*i].0 == pairs[*j].0) {
        let first = pairs[same[0]].0;
        for (state, p) in whole.of(first).iter().enumerate().filter(|(_, p)| **p > 0.0) {
            let given = given(pedigree, group, evidence, budget, &whole, (first, state))?;
            for i in same {
                let row = &mut found[*i].chances[state * m..(state + 1) * m];
                row.iter_mut().zip(given.of(pairs[*i].1)).for_each(|(out, q)| *out = p * q);
            }
        }
    }
    Ok(found)
}

fn given(
    pedigree: &Pedigree,
    group: &LinkageGroup,
    evidence: &Evidence,
    budget: &Budget,
    whole: &Posteriors,
    (animal, state): (usize, usize),
) -> Result<Posteriors, Unanswered> {
    let is_settled = whole.of(animal).iter().filter(|p| **p > 0.0).count() == 1;
    if is_settled {
        return Ok(whole.clone());
    }
    let mut with = evidence.clone();
    let only: Vec<f64> = (0..group.n_states()).map(|s| f64::from(u8::from(s == state))).collect();
    with.see(animal, &only);
    posteriors(pedigree, group, &with, budget)
}
