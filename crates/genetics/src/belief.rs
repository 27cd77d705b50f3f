//! How likely each genotype of an animal is, locus by locus.

use units::Probability;

use crate::catalogue::{Catalogue, Linkage, Locus, Viability};
use crate::genotype::{AlleleId, Copies, Genotype, LocusId, Sex, SexChromosome};
use crate::label::{Label, Statement};
use crate::target::Target;

/// What is taken for granted where a label is silent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Assumptions {
    /// The chance of a "possible het" without a number. Our own choice: one half.
    pub unstated_possible_het: Probability,
}

impl Default for Assumptions {
    fn default() -> Self {
        Self { unstated_possible_het: Probability::clamped(0.5) }
    }
}

/// Chances of the genotypes at one locus; they sum to 1.
pub type LocusBelief = Vec<(Copies, f64)>;

/// Chances of the genotypes of one animal, loci taken as independent.
///
/// Loci not named are certainly wild type.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Belief {
    loci: Vec<(LocusId, LocusBelief)>,
}

impl Belief {
    /// What a label says.
    ///
    /// - A look stands for all genotypes that look so, weighted by their background frequency
    ///   (Hardy-Weinberg): of a dominant with allele frequency q, two copies have the chance
    ///   q / (2 - q), so with the usual small q nearly all have one. Genotypes that do not live are
    ///   left out where another one fits.
    /// - What is not listed, seen or hidden, is not carried.
    /// - One copy of a sex-linked allele in a male sits on X or Y with chance 1/2 each unless said.
    #[must_use]
    pub fn from_label(
        catalogue: &Catalogue,
        label: &Label,
        sex: Sex,
        assume: &Assumptions,
    ) -> Self {
        let loci = label
            .statements()
            .filter_map(|(id, statement)| {
                let locus = catalogue.locus(id)?;
                Some((id, phased(locus, genotypes(locus, statement, assume), statement, sex)))
            })
            .collect();
        Self { loci }
    }

    /// From weights of the genotypes at each locus; loci left out are wild type.
    ///
    /// None where a locus comes twice, a weight is negative or not finite, or a locus has none
    /// above 0.
    #[must_use]
    pub fn from_weights(mut loci: Vec<(LocusId, LocusBelief)>) -> Option<Self> {
        loci.sort_by_key(|(id, _)| *id);
        let twice = loci.windows(2).any(|pair| matches!(pair, [(a, _), (b, _)] if a == b));
        for (_, belief) in &mut loci {
            let sum: f64 = belief.iter().map(|(_, w)| w).sum();
            if !(sum > 0.0 && sum.is_finite() && belief.iter().all(|(_, w)| *w >= 0.0)) {
                return None;
            }
            belief.retain(|(_, w)| *w > 0.0);
            belief.iter_mut().for_each(|(_, w)| *w /= sum);
        }
        (!twice).then_some(Self { loci })
    }

    /// Chances worked out elsewhere, one entry per locus; loci left out are wild type.
    #[must_use]
    pub fn from_chances(mut loci: Vec<(LocusId, LocusBelief)>) -> Self {
        loci.sort_by_key(|(id, _)| *id);
        Self { loci }
    }

    /// The loci where it may differ from the wild type, in catalogue order.
    #[must_use]
    pub fn loci(&self) -> &[(LocusId, LocusBelief)] {
        &self.loci
    }

    /// The chances at one locus.
    #[must_use]
    pub fn at(&self, locus: LocusId) -> LocusBelief {
        self.loci
            .iter()
            .find(|(id, _)| *id == locus)
            .map_or_else(|| vec![(Copies::WILD, 1.0)], |(_, belief)| belief.clone())
    }

    /// The chance that the animal meets a target.
    #[must_use]
    pub fn chance_of(&self, target: &Target) -> f64 {
        let loci: Vec<(LocusId, LocusBelief)> =
            target.loci().into_iter().map(|id| (id, self.at(id))).collect();
        let mut sum = 0.0;
        let mut pick = vec![0; loci.len()];
        // Every combination of genotypes at the loci it speaks of.
        loop {
            let held: Vec<(LocusId, Genotype, f64)> = loci
                .iter()
                .zip(&pick)
                .filter_map(|((id, all), at)| all.get(*at).map(|(c, p)| (*id, c.genotype(), *p)))
                .collect();
            let genotype = |locus: LocusId| {
                let found = held.iter().find(|(id, ..)| *id == locus);
                found.map_or(Genotype::WILD, |(_, genotype, _)| *genotype)
            };
            if target.holds(&genotype) {
                sum += held.iter().map(|(.., p)| p).product::<f64>();
            }
            let next = (0..pick.len()).rev().find(|i| pick[*i] + 1 < loci[*i].1.len());
            let Some(next) = next else { return sum.clamp(0.0, 1.0) };
            pick[next] += 1;
            pick[next + 1..].fill(0);
        }
    }

    /// Whether the animal meets a target when each locus holds its likeliest genotype.
    #[must_use]
    pub fn likely_meets(&self, target: &Target) -> bool {
        target.holds(&|locus: LocusId| {
            let at = self.at(locus);
            let best = at.iter().max_by(|a, b| a.1.total_cmp(&b.1));
            best.map_or(Genotype::WILD, |(copies, _)| copies.genotype())
        })
    }
}

fn genotypes(locus: &Locus, statement: &Statement, assume: &Assumptions) -> Vec<(Genotype, f64)> {
    match statement {
        Statement::Look(look) => {
            let all: Vec<_> = locus.genotypes_with_look(Some(*look)).collect();
            let lives = |g: &Genotype| {
                matches!(locus.entry(*g).viability, Viability::Lives | Viability::Unknown)
            };
            let living: Vec<_> = all.iter().copied().filter(lives).collect();
            let fitting = if living.is_empty() { all } else { living };
            normalised(fitting.into_iter().map(|g| (g, locus.background(g))).collect())
        }
        Statement::Genotype(genotype) => vec![(*genotype, 1.0)],
        Statement::OnChromosome(allele, _) => vec![(Genotype::new(AlleleId::WILD, *allele), 1.0)],
        Statement::MayCarry(claims) => {
            let said = |c: &Option<_>| {
                c.map_or(assume.unstated_possible_het, crate::label::ClaimedChance::chance)
            };
            let odds: Vec<_> =
                claims.iter().map(|(allele, claim)| (*allele, said(claim).get())).collect();
            possible_carrier(&odds)
        }
        Statement::Lacks(_) => vec![(Genotype::WILD, 1.0)],
    }
}

// Several possible hets of one locus are claims of different ancestors; an animal that looks normal
// cannot carry two of them, so those cases are left out and the rest scaled up.
fn possible_carrier(claims: &[(AlleleId, f64)]) -> Vec<(Genotype, f64)> {
    let none_of = |but: Option<AlleleId>| {
        claims.iter().filter(|(a, _)| Some(*a) != but).map(|(_, p)| 1.0 - p).product::<f64>()
    };
    let mut weights = vec![(Genotype::WILD, none_of(None))];
    for (allele, p) in claims {
        weights.push((Genotype::new(AlleleId::WILD, *allele), p * none_of(Some(*allele))));
    }
    normalised(weights)
}

fn normalised(mut weights: Vec<(Genotype, f64)>) -> Vec<(Genotype, f64)> {
    let sum: f64 = weights.iter().map(|(_, w)| w).sum();
    if sum > 0.0 {
        weights.iter_mut().for_each(|(_, w)| *w /= sum);
    }
    weights.retain(|(_, w)| *w > 0.0);
    if weights.is_empty() { vec![(Genotype::WILD, 1.0)] } else { weights }
}

fn phased(
    locus: &Locus,
    chances: Vec<(Genotype, f64)>,
    statement: &Statement,
    sex: Sex,
) -> LocusBelief {
    let male_linked = sex == Sex::Male && matches!(locus.linkage(), Linkage::SexLinked { .. });
    if !male_linked {
        return chances.into_iter().map(|(g, p)| (g.into(), p)).collect();
    }
    let on_x = match statement {
        Statement::OnChromosome(_, SexChromosome::X) => 1.0,
        Statement::OnChromosome(_, SexChromosome::Y) => 0.0,
        _ => 0.5,
    };
    let mut out = LocusBelief::new();
    for (genotype, p) in chances {
        let (low, high) = genotype.alleles();
        if genotype.is_homozygous() {
            out.push((Copies { first: low, second: high }, p));
            continue;
        }
        // `high` is the named allele of a single copy: the wild type is the lowest of all.
        for (copies, share) in [
            (Copies { first: high, second: low }, on_x),
            (Copies { first: low, second: high }, 1.0 - on_x),
        ] {
            if share > 0.0 {
                out.push((copies, p * share));
            }
        }
    }
    out
}
