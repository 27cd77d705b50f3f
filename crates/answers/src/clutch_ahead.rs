//! "How many eggs, slugs and hatchlings will it be?"

use forecast::clutch::{Counts, PLAUSIBLE_EGGS};
use records::Colony;
use units::{Day, Estimate, Probability};

use crate::room_forecasts::RoomForecasts;
use crate::room_forecasts::clutch::{hers, mass_before};

/// What is expected of a clutch, with what it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct ClutchAhead {
    /// Eggs, slugs among them, and hatchlings; 80 % intervals.
    pub eggs: Estimate<usize>,
    /// See `eggs`.
    pub slugs: Estimate<usize>,
    /// See `eggs`.
    pub hatchlings: Estimate<usize>,
    /// Means of the three.
    pub means: (f64, f64, f64),
    /// Her mass that it rests on, g, with its day; none where no weight is new enough.
    pub grams: Option<(f64, Day)>,
    /// Her own clutches behind it.
    pub hers: usize,
    /// Clutches of the room behind eggs, slugs and hatchlings.
    pub room: (usize, usize, usize),
    /// A sentence where the clutch would be an unlikely one.
    pub caution: Option<String>,
}

/// The next clutch of a female, or the one laid on that day whose eggs may be counted already.
#[must_use]
pub fn clutch_ahead(
    colony: &Colony,
    room: &RoomForecasts,
    female: usize,
    laid: Option<Day>,
) -> ClutchAhead {
    let today = colony.as_of.day;
    let weight = mass_before(&colony.animals[female], laid.unwrap_or(today));
    let grams = weight.map(|w| (w.what.get(), w.day));
    let hers = hers(colony, female, today, laid);
    let clutch = laid.and_then(|laid| crate::incubation::clutch_of(colony, female, laid));
    let counted = clutch.and_then(|clutch| Some((clutch.eggs?, clutch.slugs)));
    let next = room.clutches.next(grams.map(|(grams, _)| grams), &hers, counted);
    let shown = |counts: &Counts| Estimate {
        median: counts.quantile(0.5),
        low: counts.quantile(0.1),
        high: counts.quantile(0.9),
        coverage: Probability::clamped(0.8),
        method: "mass before laying, her clutches and the room's",
    };
    let (least, most) = PLAUSIBLE_EGGS;
    let is_odd = |n: usize| n < usize::from(least) || n > usize::from(most);
    let eggs = shown(&next.eggs);
    let caution = is_odd(eggs.median).then(|| {
        format!(
            "{} eggs are hardly a clutch: wild ones hold 4-15. Look at her weight and at the count.",
            eggs.median
        )
    });
    ClutchAhead {
        slugs: shown(&next.slugs),
        hatchlings: shown(&next.hatchlings),
        means: (next.eggs.mean(), next.slugs.mean(), next.hatchlings.mean()),
        eggs,
        grams,
        hers: hers.len(),
        room: room.clutches.seen,
        caution,
    }
}
