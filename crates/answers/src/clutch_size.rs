//! "How many fertile eggs will she lay?"

use genetics::chances::{ClutchError, ClutchSize, USUAL_MEAN};
use records::Colony;

/// How many clutches of hers the usual clutch counts for; our own choice. A female's mean then
/// varies by about 1.5 eggs around the usual one: (mean / clutches)^(1/2), a gamma prior.
const USUAL_COUNTS_FOR: f64 = 3.0;

/// What is reckoned for her next clutch.
#[derive(Clone, Debug, PartialEq)]
pub struct HerClutch {
    /// Chances of each number of fertile eggs.
    pub size: ClutchSize,
    /// Fertile eggs of her clutches so far, in journal order.
    pub hers: Vec<u16>,
}

impl HerClutch {
    /// From the fertile eggs of her clutches so far: her mean, drawn towards the usual clutch as if
    /// that were so many clutches more (docs/methods/chances.md), and Poisson about it.
    #[must_use]
    pub fn of(hers: Vec<u16>) -> Self {
        if hers.is_empty() {
            return Self { size: ClutchSize::usual(), hers };
        }
        #[expect(clippy::cast_precision_loss, reason = "a handful of clutches")]
        let n = hers.len() as f64;
        let sum: f64 = hers.iter().map(|eggs| f64::from(*eggs)).sum();
        let mean = (sum + USUAL_COUNTS_FOR * USUAL_MEAN) / (n + USUAL_COUNTS_FOR);
        Self { size: ClutchSize::about(mean), hers }
    }

    /// The number of eggs asked for, else what is reckoned for her.
    ///
    /// # Errors
    /// [`ClutchError`] for more eggs than any clutch has.
    pub fn size_or(&self, eggs: Option<usize>) -> Result<ClutchSize, ClutchError> {
        eggs.map_or_else(|| Ok(self.size.clone()), ClutchSize::fixed)
    }

    /// The numbers between which the clutch lies with a chance of at least 80 %.
    #[must_use]
    pub fn interval(&self) -> (usize, usize) {
        (self.size.quantile(0.1), self.size.quantile(0.9))
    }
}

/// Her next clutch, as the day the colony stands at knows her; `her` is none for an animal that is
/// not of the house. Clutches whose eggs are not counted, or that held slugs alone, say nothing.
#[must_use]
pub fn her_clutch(colony: &Colony, her: Option<usize>) -> HerClutch {
    let hers = colony.clutches.iter().filter(|clutch| Some(clutch.female) == her);
    let fertile = hers.filter_map(|c| Some(c.eggs?.saturating_sub(c.slugs.unwrap_or(0))));
    HerClutch::of(fertile.filter(|eggs| *eggs > 0).collect())
}
