//! A clutch as it will lie in the incubator: how many of each kind.

use units::Probability;

use super::clutch::ClutchSize;
use super::mixture::TargetTooTangled;
use super::outcomes::{Mix, Outcome};
use super::pair::PairBelief;
use super::transmission::Among;
use crate::genotype::GenotypeSet;
use crate::target::Target;

/// How many eggs are laid, and what becomes of them apart from their genes.
#[derive(Clone, Debug, PartialEq)]
pub struct Laying {
    /// Eggs laid, slugs among them.
    pub eggs: ClutchSize,
    /// Chance that an egg is fertile.
    pub fertility: Probability,
    /// Chance that a fertile egg hatches whose genes let it.
    pub hatch_rate: Probability,
}

/// The clutch that is expected.
#[derive(Clone, Debug, PartialEq)]
pub struct ClutchView<'c> {
    /// Eggs expected.
    pub eggs: f64,
    /// Fertile eggs expected, of both sexes.
    pub fertile: f64,
    /// Hatchlings expected, of both sexes.
    pub hatchlings: f64,
    /// The likeliest looks among the fertile eggs, likeliest first.
    pub kinds: Vec<KindExpected<'c>>,
    /// How many looks there are in all, listed or not.
    pub total: u128,
    /// Fertile eggs expected of all looks that are not listed.
    pub rest: f64,
}

/// What is expected of one look.
#[derive(Clone, Debug, PartialEq)]
pub struct KindExpected<'c> {
    /// The look, with its share of the fertile eggs asked about.
    pub outcome: Outcome<'c>,
    /// Fertile eggs expected.
    pub laid: f64,
    /// Hatchlings expected.
    pub hatched: f64,
    /// Chance of at least one hatchling that looks so.
    pub at_least_one: f64,
}

/// How many hatchlings of a clutch fit a target.
#[derive(Clone, Debug, PartialEq)]
pub struct TargetInClutch {
    /// Hatchlings expected that fit.
    pub expected: f64,
    /// Chance that none fits.
    pub miss: f64,
    /// Chance of at least 1, 2, ... that fit.
    pub at_least: Vec<f64>,
}

impl PairBelief<'_> {
    /// How many hatchlings of a clutch fit a target, up to `most`.
    ///
    /// With [`Among::Only`] those of one sex are counted, half of the eggs being of each.
    ///
    /// The clutch shares its parents' genotypes: as for [`PairBelief::at_least`] every chance is
    /// the mean over these of the chance given them.
    ///
    /// # Errors
    /// [`TargetTooTangled`] as for the target itself.
    pub fn in_clutch(
        &self,
        target: &Target,
        laying: &Laying,
        among: Among,
        most: usize,
    ) -> Result<TargetInClutch, TargetTooTangled> {
        let fits = self.fitting(target, among)?;
        let hatchling = laying.hatchling() * share_of(among);
        let at_least = |k: usize| {
            let hits = laying.eggs.hits(k);
            fits.iter().map(|(p, w)| w * hits.at_least(p * hatchling)).sum::<f64>().min(1.0)
        };
        let one = at_least(1);
        Ok(TargetInClutch {
            expected: laying.eggs.mean() * fits.iter().map(|(p, w)| w * p * hatchling).sum::<f64>(),
            miss: 1.0 - one,
            at_least: (1..=most).map(at_least).collect(),
        })
    }
}

impl<'c> PairBelief<'c> {
    /// The clutch that is expected, with the `limit` likeliest looks of the fertile eggs.
    ///
    /// With [`Among::Only`] the looks are those of one sex, half of the eggs being of each.
    ///
    /// # Errors
    /// [`TargetTooTangled`] as for a target that names all loci of the pair.
    pub fn clutch_view(
        &self,
        laying: &Laying,
        limit: usize,
        among: Among,
    ) -> Result<ClutchView<'c>, TargetTooTangled> {
        let eggs = laying.eggs.mean();
        let fertile = eggs * laying.fertility.get();
        let counted = fertile * share_of(among);
        let outcomes = self.outcomes_of(limit, Mix::Laid, among);
        let kind = |outcome: Outcome<'c>| {
            let looks = self.in_clutch(&self.looks_so(&outcome), laying, among, 1)?;
            Ok(KindExpected {
                laid: counted * outcome.chance,
                hatched: looks.expected,
                at_least_one: 1.0 - looks.miss,
                outcome,
            })
        };
        Ok(ClutchView {
            eggs,
            fertile,
            hatchlings: fertile * laying.hatch_rate.get() * self.hatching(),
            kinds: outcomes.list.into_iter().map(kind).collect::<Result<_, _>>()?,
            total: outcomes.total,
            rest: counted * outcomes.rest,
        })
    }

    /// Exactly the look of an outcome, at every locus where the pair may differ from the wild type.
    fn looks_so(&self, outcome: &Outcome<'_>) -> Target {
        let place = |(at, look): &(_, _)| {
            let alike: GenotypeSet =
                self.catalogue.locus(*at)?.genotypes_with_look(*look).collect();
            Some(Target::Is(*at, alike))
        };
        Target::All(outcome.places.iter().filter_map(place).collect())
    }
}

impl Laying {
    /// Chance that an egg becomes a hatchling, apart from its genes.
    fn hatchling(&self) -> f64 {
        self.fertility.get() * self.hatch_rate.get()
    }
}

const fn share_of(among: Among) -> f64 {
    match among {
        Among::All => 1.0,
        Among::Only(_) => 0.5,
    }
}
