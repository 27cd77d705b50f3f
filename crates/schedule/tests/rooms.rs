//! Rooms for tests: animals that may go tonight, to be changed one thing at a time.

use schedule::{
    ByBand, Choice, Female, Follicles, Keeping, LockOutcome, Male, PastNight, PlannedPair, Room,
    Size, Weighing,
};
use units::{Grams, Probability};

pub fn p(chance: f64) -> Probability {
    Probability::new(chance).unwrap()
}

pub fn bands(chances: [f64; 4]) -> ByBand<Probability> {
    chances.map(p)
}

pub fn grams(mass: f64) -> Grams {
    Grams::new(mass).unwrap()
}

pub fn weighing(mass: f64, age_days: u32) -> Option<Weighing> {
    Some(Weighing { mass: grams(mass), age_days })
}

fn keeping(mass: f64) -> Keeping {
    Keeping { in_house: true, quarantine: false, treatment: false, weight: weighing(mass, 5) }
}

/// A heavy female at 22 mm that was never mated.
pub fn female() -> Female {
    followed([0.0, 0.9, 0.1, 0.0])
}

pub fn followed(in_band: [f64; 4]) -> Female {
    Female {
        keeping: keeping(2000.0),
        ovulated: false,
        resorbing: Probability::ZERO,
        laid_this_season: false,
        second_clutch: false,
        in_shed: false,
        size: Size::Followed(Follicles {
            in_band: bands(in_band),
            leaves: Vec::new(),
            nights: Vec::new(),
        }),
    }
}

pub fn unchecked(nights_since_placed: Option<u32>) -> Female {
    Female { size: Size::Unchecked { nights_since_placed }, ..female() }
}

pub fn follicles(female: &mut Female) -> &mut Follicles {
    match &mut female.size {
        Size::Followed(follicles) => follicles,
        Size::Unchecked { .. } => panic!("a female with checks was meant"),
    }
}

/// A grown male without a history.
pub fn male() -> Male {
    Male {
        keeping: keeping(900.0),
        weight_at_opening: Some(grams(900.0)),
        in_blue: false,
        nights: Vec::new(),
    }
}

/// A male whose history of `nights`, `locks` of them locked, is too old to bind him.
pub fn male_with_record(locks: u32, nights: u32) -> Male {
    let outcome = |n| if n < locks { LockOutcome::Seen } else { LockOutcome::NoneSeen };
    Male {
        nights: (0..nights).map(|n| PastNight { ago: 100 + n, lock: outcome(n) }).collect(),
        ..male()
    }
}

pub fn first(female: usize, males: &[usize]) -> PlannedPair {
    PlannedPair { female, males: males.to_vec(), choice: Choice::First, weight: 1.0 }
}

/// One female and one male, planned.
pub fn pair(female: Female, male: Male) -> Room {
    Room {
        females: vec![female],
        males: vec![male],
        planned: vec![first(0, &[0])],
        ..Room::default()
    }
}
