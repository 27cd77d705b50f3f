//! Learning the size of clutches, slugs and hatch rate from what was laid here.

use forecast::clutch::{ClutchModel, Counted};
use records::{Animal, Clutch, Colony, Dated};
use units::{Day, Grams};

/// A weight so many days before laying still tells her mass before it; our own choice.
const WEIGHT_HOLDS_DAYS: i32 = 120;

/// The model of clutches as the room's own move it, by what had happened by `day`.
#[must_use]
pub fn clutches(colony: &Colony, day: Day) -> ClutchModel {
    let all: Vec<Counted> =
        colony.clutches.iter().filter_map(|clutch| counted(colony, clutch, day)).collect();
    ClutchModel::learned(&all)
}

/// Her clutches so far, but for the one laid on `but`.
#[must_use]
pub fn hers(colony: &Colony, female: usize, day: Day, but: Option<Day>) -> Vec<Counted> {
    let hers = colony.clutches.iter().filter(|c| c.female == female);
    let others = hers.filter(|c| but.is_none() || c.laid != but);
    others.filter_map(|clutch| counted(colony, clutch, day)).collect()
}

fn counted(colony: &Colony, clutch: &Clutch, day: Day) -> Option<Counted> {
    let laid = clutch.laid.filter(|laid| *laid <= day)?;
    let hatched = clutch.hatched.as_ref().filter(|h| h.day <= day);
    Some(Counted {
        grams: mass_before(&colony.animals[clutch.female], laid).map(|w| w.what.get()),
        eggs: clutch.eggs?,
        slugs: clutch.slugs,
        hatchlings: hatched.and_then(|h| h.what),
    })
}

/// Her last weight before that day, where it is not too old.
#[must_use]
pub fn mass_before(animal: &Animal, day: Day) -> Option<&Dated<Grams>> {
    let holds = |w: &&Dated<Grams>| (0..=WEIGHT_HOLDS_DAYS).contains(&day.days_since(w.day));
    animal.weights.iter().rfind(holds)
}
