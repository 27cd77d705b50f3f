//! Which genes the colony has, and the states of each locus.

use std::collections::BTreeMap;
use std::sync::Arc;

use genetics::catalogue::{Linkage, Locus};
use genetics::genotype::Copies;
use genetics::linkage::SexLink;
use genetics::{AlleleId, Catalogue, Gene, Genotype, LinkageGroup, LocusId};

/// One locus with the alleles that somebody in the colony shows, is said to carry, or was tested
/// for; the others stay with the wild type.
#[derive(Clone, Debug)]
pub struct InPlay {
    /// The locus.
    pub id: LocusId,
    /// The wild type, then the alleles in play in catalogue order.
    pub alleles: Vec<AlleleId>,
    /// Both copies of every state of the group.
    pub copies: Vec<Copies>,
    /// The group for each value of the recombination reckoned with: one, but for a sex-linked locus.
    /// Young are those that hatched.
    pub(super) groups: Vec<Arc<LinkageGroup>>,
    /// The prior chance of each of those values.
    pub(super) recombination: Vec<(f64, f64)>,
    /// Whether each state hatches, 1 or 0.
    pub(super) hatches: Vec<f64>,
}

/// Values of the recombination between a sex-linked locus and the male-determining region; our
/// choice: the prior's middle in as many parts of equal weight.
const GRID: usize = 24;

impl InPlay {
    /// None where the catalogue lacks the locus or its states are too many. `kept`: how often young
    /// without a sire keep both copies of their dam.
    pub(super) fn new(
        catalogue: &Catalogue,
        id: LocusId,
        named: &[AlleleId],
        kept: f64,
    ) -> Option<Self> {
        let locus = catalogue.locus(id)?;
        let alleles: Vec<AlleleId> =
            std::iter::once(AlleleId::WILD).chain(named.iter().copied()).collect();
        let (groups, recombination) = groups(catalogue, locus, alleles.len(), kept)?;
        let first = groups.first()?;
        let copies = (0..first.n_states()).filter_map(|state| {
            let copies = first.copies(state, 0)?;
            let of = |allele: AlleleId| alleles.get(allele.index()).copied();
            Some(Copies { first: of(copies.first)?, second: of(copies.second)? })
        });
        let copies: Vec<Copies> = copies.collect();
        if copies.len() != first.n_states() {
            return None;
        }
        let hatches = |c: &Copies| locus.entry(c.genotype()).viability.hatches();
        let hatches: Vec<f64> = copies.iter().map(|c| f64::from(u8::from(hatches(c)))).collect();
        let of_hatchlings = |group: &LinkageGroup| Arc::new(group.clone().per_hatchling(&hatches));
        let groups = groups.iter().map(of_hatchlings).collect();
        Some(Self { id, alleles, copies, groups, recombination, hatches })
    }

    /// The group; of a sex-linked locus with some value of the recombination.
    pub(super) fn group(&self) -> &LinkageGroup {
        &self.groups[0]
    }

    /// Number of states.
    #[must_use]
    pub fn n_states(&self) -> usize {
        self.copies.len()
    }

    /// The genotypes of the alleles in play, the wild type's first, in catalogue order of the
    /// alleles: first all with the first allele, then those with the second, and so on.
    #[must_use]
    pub fn genotypes(&self) -> Vec<Genotype> {
        let n = self.alleles.len();
        let pair = |a: usize| (a..n).map(move |b| (a, b));
        (0..n)
            .flat_map(pair)
            .map(|(a, b)| Genotype::new(self.alleles[a], self.alleles[b]))
            .collect()
    }

    /// The genotype of a state.
    #[must_use]
    pub fn genotype(&self, state: usize) -> Genotype {
        self.copies.get(state).map_or(Genotype::WILD, |copies| copies.genotype())
    }
}

type Groups = (Vec<LinkageGroup>, Vec<(f64, f64)>);

fn groups(catalogue: &Catalogue, locus: &Locus, alleles: usize, kept: f64) -> Option<Groups> {
    match locus.linkage() {
        Linkage::Autosomal => {
            let group = LinkageGroup::autosomal(alleles).ok()?.keeping_alone(kept);
            Some((vec![group], vec![(0.0, 1.0)]))
        }
        Linkage::SexLinked { recombination_male } => {
            let counted = catalogue.recombination_counted();
            let values = middle_values(recombination_male.get(), counted);
            let group = |r: &f64| {
                let link = SexLink::BothChromosomes { recombination_male: *r };
                let group = LinkageGroup::sex_linked(alleles, link).ok()?;
                Some(group.keeping_alone(kept))
            };
            let groups: Option<Vec<_>> = values.iter().map(group).collect();
            #[expect(clippy::cast_precision_loss, reason = "a small constant")]
            let share = 1.0 / values.len() as f64;
            Some((groups?, values.into_iter().map(|r| (r, share)).collect()))
        }
    }
}

/// The middles of equal parts of Beta(r n, (1 - r) n) on 0..0.5, by summing its density.
fn middle_values(mean: f64, counted: f64) -> Vec<f64> {
    const STEPS: u32 = 20_000;
    let (a, b) = (mean * counted, (1.0 - mean) * counted);
    let at = |step: u32| 0.5 * (f64::from(step) + 0.5) / f64::from(STEPS);
    let log = |r: f64| (a - 1.0) * r.ln() + (b - 1.0) * (1.0 - r).ln();
    let top = (0..STEPS).map(|s| log(at(s))).fold(f64::NEG_INFINITY, f64::max);
    let density: Vec<f64> = (0..STEPS).map(|s| (log(at(s)) - top).exp()).collect();
    let whole: f64 = density.iter().sum();
    let mut values = Vec::with_capacity(GRID);
    let mut sum = 0.0;
    for (step, d) in (0..STEPS).zip(&density) {
        sum += d / whole;
        #[expect(clippy::cast_precision_loss, reason = "a small constant")]
        let wanted = (values.len() as f64 + 0.5) / GRID as f64;
        if values.len() < GRID && sum >= wanted {
            values.push(at(step));
        }
    }
    if values.is_empty() { vec![mean.clamp(0.0, 0.5)] } else { values }
}

/// The genes named so far, by locus.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Named(BTreeMap<LocusId, Vec<AlleleId>>);

impl Named {
    pub fn add(&mut self, gene: Gene) {
        if gene.allele.is_wild() {
            return;
        }
        let alleles = self.0.entry(gene.locus).or_default();
        if let Err(at) = alleles.binary_search(&gene.allele) {
            alleles.insert(at, gene.allele);
        }
    }

    pub fn loci(&self) -> impl Iterator<Item = (LocusId, &[AlleleId])> {
        self.0.iter().map(|(locus, alleles)| (*locus, alleles.as_slice()))
    }
}

#[cfg(test)]
mod tests {
    use super::middle_values;

    /// Mean and variance of Beta(6, 94): .06 and .06 x .94 / 101 (textbook).
    #[test]
    fn the_prior_of_the_recombination_is_met_by_its_middles() {
        let values = middle_values(0.06, 100.0);
        let n = values.len() as f64;
        let mean = values.iter().sum::<f64>() / n;
        let variance = values.iter().map(|r| (r - mean).powi(2)).sum::<f64>() / n;
        assert!((mean - 0.06).abs() < 5e-4, "{mean}");
        assert!((variance / (0.06 * 0.94 / 101.0) - 1.0).abs() < 0.1, "{variance}");
        assert!(values.windows(2).all(|w| w[0] < w[1]));
    }
}
