//! Bands of follicle size: was she mated in it, is a mating wanted in it.

use units::Probability;

use crate::room::{ByBand, Follicles};
use crate::rules::{LockWeights, Rules};

/// Number of size bands, one for each size at which a mating is wanted.
pub const BANDS: usize = 4;

/// mated(k) = 1 - product over her nights of (1 - P(in band k that night) x lock weight).
#[must_use]
pub fn mated(follicles: &Follicles, weights: &LockWeights) -> ByBand<Probability> {
    std::array::from_fn(|k| {
        let not_yet: f64 = follicles
            .nights
            .iter()
            .map(|night| 1.0 - night.in_band[k].get() * weights.of(night.lock).get())
            .product();
        Probability::clamped(1.0 - not_yet)
    })
}

/// What is wanted of a checked female tonight.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// Chance that she was mated in each band.
    pub mated: ByBand<Probability>,
    /// wanted(k) = P(in band k tonight) x (1 - mated(k)).
    pub by_band: ByBand<Probability>,
    /// Chance that a mating is wanted tonight, whatever her band: the sum over bands.
    pub any: Probability,
}

impl Wanted {
    /// The band in which a mating is likeliest to be wanted, the smaller one of equals.
    #[must_use]
    pub fn likeliest_band(&self) -> usize {
        likeliest(&self.by_band)
    }

    /// Chance that she leaves her band within `nights`, given that a mating is wanted in it.
    ///
    /// Sum of wanted(k) x leaves(k) over the sum of wanted(k); 0 where nothing is wanted.
    #[must_use]
    pub fn closing(&self, follicles: &Follicles, nights: u32) -> Probability {
        let Some(row) = row_at(&follicles.leaves, nights) else { return Probability::ZERO };
        let sum: f64 = self.by_band.iter().map(|w| w.get()).sum();
        if sum <= 0.0 {
            return Probability::ZERO;
        }
        let leaving: f64 = self.by_band.iter().zip(row).map(|(w, l)| w.get() * l.get()).sum();
        Probability::clamped(leaving / sum)
    }
}

pub(crate) fn likeliest(chances: &ByBand<Probability>) -> usize {
    (1..BANDS).fold(0, |best, k| if chances[k] > chances[best] { k } else { best })
}

fn row_at<T>(table: &[T], nights: u32) -> Option<&T> {
    let index = usize::try_from(nights).ok()?.checked_sub(1)?;
    table.get(index).or(table.last())
}

/// Works out what is wanted of a checked female tonight.
#[must_use]
pub fn wanted(follicles: &Follicles, rules: &Rules) -> Wanted {
    let mated = mated(follicles, &rules.lock_weights);
    let by_band: ByBand<Probability> = std::array::from_fn(|k| {
        Probability::clamped(follicles.in_band[k].get() * (1.0 - mated[k].get()))
    });
    let any = Probability::clamped(by_band.iter().map(|w| w.get()).sum());
    Wanted { mated, by_band, any }
}

/// Whether a mating is wanted in some single band with the chance that makes a female needy.
#[must_use]
pub fn in_need(wanted: &Wanted, rules: &Rules) -> bool {
    wanted.by_band.iter().any(|&w| w >= rules.in_need_from)
}
