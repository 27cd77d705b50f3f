//! Every look of the young with its chance.

use std::cmp::Ordering;

use super::best_first::{Product, every, largest};
use super::mixture::TargetTooTangled;
use super::pair::PairBelief;
use super::transmission::{Among, young};
use crate::catalogue::{Locus, Mode, Viability};
use crate::genotype::{AlleleId, Gene, Genotype, LocusId, LookId};
use crate::target::Target;

/// What the chances are shares of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Mix {
    /// Fertile eggs as laid, those that never hatch among them.
    #[default]
    Laid,
    /// Eggs that hatch.
    Hatched,
}

/// A hidden gene that young of a look may carry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Het {
    /// The recessive gene.
    pub gene: Gene,
    /// Chance that one that looks so carries it, above 0 and at most 1.
    pub chance: f64,
}

/// One look of the young.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome<'c> {
    /// Catalogue words for what is seen, sorted; empty looks normal.
    pub look: Vec<&'c str>,
    /// What is seen at each locus where the pair may differ from the wild type.
    pub places: Vec<(LocusId, Option<LookId>)>,
    /// Its share of the mix asked for.
    pub chance: f64,
    /// The share of such eggs that hatches, so far as genotypes decide it.
    pub hatching: f64,
    /// The worst that is known of a genotype that looks so.
    pub viability: Viability,
    /// Hidden genes these young may carry, in catalogue order.
    pub hets: Vec<Het>,
}

/// The likeliest looks of the young.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcomes<'c> {
    /// Likeliest first; equal chances by look.
    pub list: Vec<Outcome<'c>>,
    /// How many looks there are in all, listed or not.
    pub total: u128,
    /// Chance of all looks that are not listed; 0 when all are.
    pub rest: f64,
}

pub(super) struct LookShare {
    pub(super) look: Option<LookId>,
    pub(super) chance: f64,
    pub(super) hatching: f64,
    viability: Viability,
    hets: Vec<Het>,
}

pub(super) struct LookFactor {
    pub(super) locus: LocusId,
    pub(super) shares: Vec<LookShare>,
}

impl<'c> PairBelief<'c> {
    /// The `limit` likeliest looks among all fertile eggs.
    #[must_use]
    pub fn outcomes(&self, limit: usize) -> Outcomes<'c> {
        self.outcomes_of(limit, Mix::Laid, Among::All)
    }

    /// The `limit` likeliest looks of a mix and a sex.
    ///
    /// Nothing beyond the limit is formed; a limit above the number of looks gives all of them,
    /// which may be millions over many loci. Where nothing can hatch, the hatched mix is empty.
    #[must_use]
    pub fn outcomes_of(&self, limit: usize, mix: Mix, among: Among) -> Outcomes<'c> {
        let factors = self.look_factors(mix, among);
        let lists: Vec<Vec<f64>> =
            factors.iter().map(|f| f.shares.iter().map(|s| s.chance).collect()).collect();
        let total: u128 = lists.iter().map(|l| l.len() as u128).product();
        let whole = total <= limit as u128;
        let products = if whole { every(&lists) } else { largest(&lists, limit) };
        let mut list: Vec<_> = products.iter().map(|p| self.outcome(&factors, p)).collect();
        list.sort_by(likelier_first);
        let listed: f64 = list.iter().map(|o| o.chance).sum();
        Outcomes { list, total, rest: if whole { 0.0 } else { (1.0 - listed).max(0.0) } }
    }

    /// Share of all fertile eggs that hatches, so far as genotypes decide it.
    #[must_use]
    pub fn hatching(&self) -> f64 {
        let lives =
            |shares: &[LookShare]| shares.iter().map(|s| s.chance * s.hatching).sum::<f64>();
        self.look_factors(Mix::Laid, Among::All).iter().map(|f| lives(&f.shares)).product()
    }

    /// Of the fertile eggs that look so, the share whose genotype fits a target and hatches.
    ///
    /// # Errors
    /// [`TargetTooTangled`] as for the target itself.
    pub fn fitting_of(
        &self,
        outcome: &Outcome<'_>,
        target: &Target,
    ) -> Result<f64, TargetTooTangled> {
        let mut wanted = self.lives(Among::All);
        wanted.push(target.clone());
        let wanted = Target::All(wanted);
        let asked = wanted.loci();
        let seen = outcome.places.iter().filter(|(locus, _)| asked.contains(locus));
        let seen = seen.filter_map(|(locus, look)| {
            let alike = self.catalogue.locus(*locus)?.genotypes_with_look(*look).collect();
            Some(Target::Is(*locus, alike))
        });
        let mut parts: Vec<Target> = seen.collect();
        let so = self.laid(&Target::All(parts.clone()), Among::All)?;
        parts.push(wanted);
        let both = self.laid(&Target::All(parts), Among::All)?;
        Ok(if so > 0.0 { (both / so).min(1.0) } else { 0.0 })
    }

    pub(super) fn look_factors(&self, mix: Mix, among: Among) -> Vec<LookFactor> {
        self.known_loci()
            .map(|(pair, locus)| {
                let mut genotypes: Vec<(Genotype, f64)> = Vec::new();
                for (sire, dam, w) in &pair.joint {
                    for (genotype, p) in young(locus, *sire, *dam, among) {
                        match genotypes.iter_mut().find(|(g, _)| *g == genotype) {
                            Some((_, sum)) => *sum += w * p,
                            None => genotypes.push((genotype, w * p)),
                        }
                    }
                }
                LookFactor { locus: pair.locus, shares: shares(locus, pair.locus, &genotypes, mix) }
            })
            .collect()
    }

    pub(super) fn outcome(&self, factors: &[LookFactor], product: &Product) -> Outcome<'c> {
        let mut outcome = Outcome {
            look: Vec::with_capacity(factors.len()),
            places: Vec::with_capacity(factors.len()),
            chance: product.value,
            hatching: 1.0,
            viability: Viability::Lives,
            hets: Vec::with_capacity(factors.len()),
        };
        for (factor, at) in factors.iter().zip(&product.at) {
            let Some(share) = factor.shares.get(*at) else { continue };
            outcome.look.extend(share.look.map(|l| self.catalogue.look_name(factor.locus, l)));
            outcome.places.push((factor.locus, share.look));
            outcome.hatching *= share.hatching;
            outcome.viability = outcome.viability.max(share.viability);
            outcome.hets.extend_from_slice(&share.hets);
        }
        outcome.look.sort_unstable();
        outcome
    }
}

pub(super) fn likelier_first(a: &Outcome<'_>, b: &Outcome<'_>) -> Ordering {
    b.chance.total_cmp(&a.chance).then_with(|| a.look.cmp(&b.look))
}

// Genotypes that look alike are merged before anything is ranked; sorted likeliest first.
fn shares(locus: &Locus, id: LocusId, genotypes: &[(Genotype, f64)], mix: Mix) -> Vec<LookShare> {
    let lives = |g: Genotype| locus.entry(g).viability.hatches();
    let hatched: f64 = genotypes.iter().filter(|(g, _)| lives(*g)).map(|(_, p)| p).sum();
    let mut looks: Vec<Option<LookId>> =
        genotypes.iter().map(|(g, _)| locus.entry(*g).look).collect();
    looks.sort_unstable();
    looks.dedup();
    let mut shares: Vec<LookShare> = looks
        .into_iter()
        .map(|look| {
            let alike: Vec<_> = genotypes
                .iter()
                .copied()
                .filter(|(g, _)| locus.entry(*g).look == look && (mix == Mix::Laid || lives(*g)))
                .collect();
            let sum: f64 = alike.iter().map(|(_, p)| p).sum();
            let living: f64 = alike.iter().filter(|(g, _)| lives(*g)).map(|(_, p)| p).sum();
            let viability =
                alike.iter().map(|(g, _)| locus.entry(*g).viability).max().unwrap_or_default();
            let chance = if mix == Mix::Laid { sum } else { sum / hatched };
            let hets = if look.is_none() { hets(locus, id, &alike, sum) } else { Vec::new() };
            LookShare { look, chance, hatching: living / sum, viability, hets }
        })
        .filter(|s| s.chance > 0.0)
        .collect();
    shares.sort_by(|a, b| b.chance.total_cmp(&a.chance).then(a.look.cmp(&b.look)));
    shares
}

fn hets(locus: &Locus, id: LocusId, alike: &[(Genotype, f64)], sum: f64) -> Vec<Het> {
    (1..locus.alleles().len())
        .filter_map(|i| {
            let allele = AlleleId(u8::try_from(i).ok()?);
            let hidden = locus.alleles().get(i)?.mode == Mode::Recessive;
            let carries: f64 =
                alike.iter().filter(|(g, _)| g.copies(allele) > 0).map(|(_, p)| p).sum();
            (hidden && carries > 0.0)
                .then(|| Het { gene: Gene { locus: id, allele }, chance: (carries / sum).min(1.0) })
        })
        .collect()
}
