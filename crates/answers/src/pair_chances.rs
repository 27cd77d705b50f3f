//! "What can this pair give?"

use genetics::chances::{ClutchError, ClutchSize, Outcome, PairBelief, TargetTooTangled};
use genetics::{Catalogue, Label, Target};

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
    /// Share of fertile eggs that hatches, as far as genotypes decide it.
    pub hatching: f64,
    /// The wish, where one was asked.
    pub wish: Option<WishShown>,
    /// Cautions.
    pub cautions: Vec<CautionShown>,
    /// Fertile eggs reckoned with, on average.
    pub eggs: f64,
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq)]
pub enum NoChances {
    /// The clutch size makes no sense.
    Clutch(ClutchError),
    /// The wish is too tangled.
    Wish(TargetTooTangled),
}

impl std::fmt::Display for NoChances {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Clutch(e) => e.fmt(f),
            Self::Wish(e) => e.fmt(f),
        }
    }
}

impl std::error::Error for NoChances {}

/// Chances of a planned pair from what is known or claimed of both parents.
///
/// # Errors
/// [`NoChances`] for an impossible clutch size or a wish that is too tangled.
pub fn pair_chances(
    catalogue: &Catalogue,
    (sire, dam): (&Label, &Label),
    wish: Option<&Target>,
    eggs: Option<usize>,
    most: usize,
) -> Result<PairChances, NoChances> {
    let pair = PairBelief::from_labels(catalogue, sire, dam);
    let clutch = match eggs {
        Some(n) => ClutchSize::fixed(n).map_err(NoChances::Clutch)?,
        None => ClutchSize::usual(),
    };
    let outcomes = pair.outcomes(most);
    let look = |o: &Outcome<'_>| {
        let fits = wish.map(|w| pair.fitting_of(o, w)).transpose().map_err(NoChances::Wish)?;
        let hets = o.hets.iter().map(|h| (catalogue.gene_name(h.gene).to_owned(), h.chance));
        Ok(LookShown {
            look: o.look.iter().map(|word| (*word).to_owned()).collect(),
            combo: catalogue.combo_of(&o.look).map(str::to_owned),
            chance: o.chance,
            hatching: o.hatching,
            hets: hets.collect(),
            fits,
        })
    };
    let looks = outcomes.list.iter().map(look).collect::<Result<_, NoChances>>()?;
    let wish = wish.map(|w| pair.target(w, &clutch).map_err(NoChances::Wish)).transpose()?;
    Ok(PairChances {
        looks,
        rest: outcomes.rest,
        n_looks: outcomes.total,
        hatching: pair.hatching(),
        wish: wish.map(|w| WishShown {
            per_egg: w.per_egg,
            per_hatchling: w.per_hatchling,
            at_least_one: w.at_least_one,
        }),
        cautions: pair
            .cautions()
            .into_iter()
            .map(|c| CautionShown { reason: c.reason, chance: c.chance })
            .collect(),
        eggs: clutch.mean(),
    })
}
