//! "What can this pair give?"

use genetics::chances::{ClutchSize, Outcome, PairBelief, TargetTooTangled};
use genetics::{Catalogue, Label, Target};

use crate::copies::CopiesShown;
use crate::pair_genes::PairGenes;

/// One look of the young.
#[derive(Clone, Debug, PartialEq)]
pub struct LookShown {
    /// Catalogue names of what is seen, sorted; empty looks normal.
    pub look: Vec<String>,
    /// What the trade calls an animal that looks exactly so.
    pub combo: Option<String>,
    /// Chance of a fertile egg.
    pub chance: f64,
    /// Share of such eggs that hatches, as far as genotypes decide it.
    pub hatching: f64,
    /// The part of [`Self::hatching`] of which it is not known whether it hatches.
    pub unknown: f64,
    /// Hidden genes with the chance that one that looks so carries them.
    pub hets: Vec<(String, f64)>,
    /// Share of such eggs that fits the wish and hatches, where one was asked.
    pub fits: Option<f64>,
}

/// How likely a wish comes true.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WishShown {
    /// Of a fertile egg: fits and hatches.
    pub per_egg: f64,
    /// Of a hatchling; none where nothing hatches.
    pub per_hatchling: Option<f64>,
    /// At least one in the clutch.
    pub at_least_one: f64,
    /// The part of [`Self::per_egg`] of which it is not known whether it hatches.
    pub unknown: f64,
    /// At least one in the clutch, should none of those hatch.
    pub at_least_one_known: f64,
}

/// A harm that the pair may bring.
#[derive(Clone, Debug, PartialEq)]
pub struct CautionShown {
    /// The sentence.
    pub reason: String,
    /// Its chance, where it can be counted.
    pub chance: Option<f64>,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct PairChances {
    /// The likeliest looks, likeliest first.
    pub looks: Vec<LookShown>,
    /// Chance of all looks not listed.
    pub rest: f64,
    /// Looks in all, listed or not.
    pub n_looks: u128,
    /// The likeliest looks that fit the wish, likeliest first; none where no wish was asked.
    pub fitting: Vec<LookShown>,
    /// Looks that fit in all, listed or not.
    pub n_fitting: u128,
    /// Share of fertile eggs that hatches, as far as genotypes decide it.
    pub hatching: f64,
    /// The part of [`Self::hatching`] of which it is not known whether it hatches.
    pub unknown: f64,
    /// Parents whose look does not tell how many copies they carry.
    pub copies: Vec<CopiesShown>,
    /// The wish, where one was asked.
    pub wish: Option<WishShown>,
    /// Cautions.
    pub cautions: Vec<CautionShown>,
    /// Fertile eggs reckoned with, on average.
    pub eggs: f64,
}

/// Chances of a planned pair from what is known or claimed of both parents.
///
/// # Errors
/// [`TargetTooTangled`] for a wish that names too many uncertain genes over and over.
pub fn pair_chances(
    catalogue: &Catalogue,
    (sire, dam): (&Label, &Label),
    wish: Option<&Target>,
    clutch: &ClutchSize,
    most: usize,
) -> Result<PairChances, TargetTooTangled> {
    chances_of(&PairGenes::of_labels(catalogue, (sire, dam)), wish, clutch, most)
}

/// The same of a pair whose genes are known as well as the records tell.
///
/// # Errors
/// As [`pair_chances`].
pub fn chances_of(
    genes: &PairGenes<'_>,
    wish: Option<&Target>,
    clutch: &ClutchSize,
    most: usize,
) -> Result<PairChances, TargetTooTangled> {
    let (pair, catalogue) = (&genes.belief, genes.belief.catalogue());
    let outcomes = pair.outcomes(most);
    let asked = Asked { catalogue, pair, wish, doubted: pair.hatching_unknown() };
    let looks = outcomes.list.iter().map(|o| asked.look(o)).collect::<Result<_, _>>()?;
    let found = wish.map(|w| pair.outcomes_fitting(most, w)).transpose()?;
    let n_fitting = found.as_ref().map_or(0, |f| f.total);
    let found = found.map(|f| f.list).unwrap_or_default();
    let fitting = found.iter().map(|o| asked.look(o)).collect::<Result<_, _>>()?;
    let caution =
        |c: genetics::chances::Caution<'_>| CautionShown { reason: c.reason, chance: c.chance };
    let unknown = asked.doubted.as_ref().map(|d| Ok(pair.target(d, clutch)?.per_egg));
    Ok(PairChances {
        looks,
        rest: outcomes.rest,
        n_looks: outcomes.total,
        fitting,
        n_fitting,
        hatching: pair.hatching(),
        unknown: unknown.transpose()?.unwrap_or(0.0),
        copies: genes.copies.clone(),
        wish: wish.map(|w| asked.wish(w, clutch)).transpose()?,
        cautions: pair.cautions().into_iter().map(caution).collect(),
        eggs: clutch.mean(),
    })
}

struct Asked<'a> {
    catalogue: &'a Catalogue,
    pair: &'a PairBelief<'a>,
    wish: Option<&'a Target>,
    doubted: Option<Target>,
}

impl Asked<'_> {
    fn look(&self, o: &Outcome<'_>) -> Result<LookShown, TargetTooTangled> {
        let share = |target: &Target| self.pair.fitting_of(o, target);
        let hets = o.hets.iter().map(|h| (self.catalogue.gene_name(h.gene).to_owned(), h.chance));
        Ok(LookShown {
            look: o.look.iter().map(|word| (*word).to_owned()).collect(),
            combo: self.catalogue.combo_of(&o.look).map(str::to_owned),
            chance: o.chance,
            hatching: o.hatching,
            unknown: self.doubted.as_ref().map(share).transpose()?.unwrap_or(0.0),
            hets: hets.collect(),
            fits: self.wish.map(share).transpose()?,
        })
    }

    fn wish(&self, wish: &Target, clutch: &ClutchSize) -> Result<WishShown, TargetTooTangled> {
        let whole = self.pair.target(wish, clutch)?;
        let known = match &self.doubted {
            None => whole,
            Some(doubted) => {
                let known = Target::All(vec![wish.clone(), doubted.clone().negated()]);
                self.pair.target(&known, clutch)?
            }
        };
        Ok(WishShown {
            per_egg: whole.per_egg,
            per_hatchling: whole.per_hatchling,
            at_least_one: whole.at_least_one,
            unknown: (whole.per_egg - known.per_egg).max(0.0),
            at_least_one_known: known.at_least_one,
        })
    }
}
