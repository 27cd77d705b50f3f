//! What a typed het says of a parent that nobody recorded, where the other one is.

use std::collections::HashMap;

use genetics::AlleleId;

use super::in_play::InPlay;
use super::labels::Claimed;
use super::lineage::{Lineage, NOBODY};
use super::run::RowTable;
use crate::settings::GeneRules;

/// Chances by node, as far as they are known without looking at any young.
pub(super) struct FromAbove<'a> {
    pub lineage: &'a Lineage,
    pub rows: &'a [u32],
    pub table: &'a RowTable,
    pub play: &'a InPlay,
    known: HashMap<usize, Vec<f64>>,
}

/// Generations gone up at most: what is further above moves a typed claim no more.
const DEEPEST: usize = 12;

impl<'a> FromAbove<'a> {
    pub fn new(
        lineage: &'a Lineage,
        rows: &'a [u32],
        table: &'a RowTable,
        play: &'a InPlay,
    ) -> Self {
        Self { lineage, rows, table, play, known: HashMap::new() }
    }

    /// Chance that a parent passes an allele on, given what stands above it and its own records.
    pub fn passes(&mut self, node: usize, allele: AlleleId) -> f64 {
        let chances = self.states(node, DEEPEST);
        let copies = |state: usize| f64::from(self.play.genotype(state).copies(allele));
        chances.iter().enumerate().map(|(state, p)| p * copies(state) / 2.0).sum()
    }

    /// Chances of its states, given what stands above it and its own records.
    pub fn states_of(&mut self, node: usize) -> Vec<f64> {
        self.states(node, DEEPEST)
    }

    fn states(&mut self, node: usize, deep: usize) -> Vec<f64> {
        if let Some(known) = self.known.get(&node) {
            return known.clone();
        }
        let own = self.table.row(self.rows[node]).clone();
        let parents = self.lineage.parents[node];
        let mut states = own.to_vec();
        if parents.are_known() && deep > 0 {
            let dam = self.states(parents.dam as usize, deep - 1);
            let mut young = vec![0.0; own.len()];
            if parents.sire == NOBODY {
                for (d, q) in dam.iter().enumerate().filter(|(_, q)| **q > 0.0) {
                    for (state, t) in self.play.group().young_alone(d) {
                        young[usize::from(*state)] += q * t;
                    }
                }
            }
            let sire = match parents.sire {
                NOBODY => Vec::new(),
                sire => self.states(sire as usize, deep - 1),
            };
            for (s, p) in sire.iter().enumerate().filter(|(_, p)| **p > 0.0) {
                for (d, q) in dam.iter().enumerate().filter(|(_, q)| **q > 0.0) {
                    for (state, t) in self.play.group().young(s, d) {
                        young[usize::from(*state)] += p * q * t;
                    }
                }
            }
            states.iter_mut().zip(young).for_each(|(w, y)| *w *= y);
        }
        let sum: f64 = states.iter().sum();
        if sum > 0.0 {
            states.iter_mut().for_each(|w| *w /= sum);
        }
        self.known.insert(node, states.clone());
        states
    }
}

/// The chance with which the missing parent passes an allele on, so that the animal carries it as
/// its label claims; none where the recorded parent alone accounts for the claim.
///
/// With d the chance that the recorded parent passes it on and m the missing one, an animal that
/// does not show a recessive carries one copy with chance (m (1 - d) + (1 - m) d) / (1 - m d).
#[must_use]
pub(super) fn missing_share(claim: f64, recorded: f64) -> Option<f64> {
    if claim <= recorded || recorded >= 1.0 {
        return None;
    }
    let below = 1.0 - 2.0 * recorded + claim * recorded;
    let share = (claim - recorded) / below;
    (below > 0.0 && share > 0.0).then_some(share.min(1.0))
}

/// What a claim says of each allele: the chance that one copy is carried.
pub(super) fn carried(claimed: &Claimed, rules: &GeneRules) -> Vec<(AlleleId, f64)> {
    match claimed {
        Claimed::Genotype(genotype) => {
            let (a, b) = genotype.alleles();
            let named = [a, b].into_iter().filter(|allele| !allele.is_wild());
            named.map(|allele| (allele, 1.0)).collect()
        }
        Claimed::OnChromosome(allele, _) => vec![(*allele, 1.0)],
        Claimed::MayCarry(claims) => {
            let unstated = rules.possible_het.get();
            let chance =
                |c: &Option<genetics::ClaimedChance>| c.map_or(unstated, |c| c.chance().get());
            claims.iter().map(|(allele, c)| (*allele, chance(c))).collect()
        }
        Claimed::Lacks(_) => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::missing_share;

    /// From the formula by hand: two hets give two thirds; a visual parent accounts for every het.
    #[test]
    fn a_claim_is_shared_between_the_parents() {
        let share = |claim, recorded| missing_share(claim, recorded);
        assert_eq!(share(0.5, 0.0), Some(0.5));
        assert_eq!(share(1.0, 0.0), Some(1.0));
        assert!((share(2.0 / 3.0, 0.5).unwrap() - 0.5).abs() < 1e-12);
        assert_eq!(share(1.0, 1.0), None);
        assert_eq!(share(0.3, 0.5), None);
    }
}
