//! Young of which it is not known whether they hatch.

use super::pair::PairBelief;
use super::transmission::Among;
use crate::catalogue::Viability;
use crate::genotype::GenotypeSet;
use crate::target::Target;

impl PairBelief<'_> {
    /// What a young of this pair must be so that nobody knows whether it hatches: two copies of
    /// which nothing reliable is said, or genes that are said not to live together. None where no
    /// young of the pair is so.
    ///
    /// Such young are counted among those that hatch everywhere else.
    #[must_use]
    pub fn hatching_unknown(&self) -> Option<Target> {
        let by_locus = self.known_loci().filter_map(|(pair, locus)| {
            let young = self.young_at(pair.locus, Among::All);
            let doubted = |g: &_| locus.entry(*g).viability == Viability::Unknown;
            let doubted: GenotypeSet = young.iter().map(|(g, _)| *g).filter(doubted).collect();
            (doubted != GenotypeSet::EMPTY).then_some(Target::Is(pair.locus, doubted))
        });
        let mut parts: Vec<Target> = by_locus.collect();
        for rule in self.catalogue.cautions().iter().filter(|rule| rule.is_hatching_unknown) {
            if self.laid(&rule.when, Among::All).is_ok_and(|p| p > 0.0) {
                parts.push(rule.when.clone());
            }
        }
        (!parts.is_empty()).then_some(Target::Any(parts))
    }
}
