//! The colony as the night's engine wants it: dense indices and plain numbers.

use std::collections::BTreeMap;

use forecast::{Belief, Milestone};
use records::colony::Presence;
use records::words::{Choice, Lock, PlannedMale, Sex};
use records::{Animal, Colony, RecordId, Stay};
use schedule::{
    ByBand, Female, Follicles, Keeping, LockOutcome, Male, NightTogether, PastNight, PlannedPair,
    Room, Rules, Size, StayState, Weighing,
};
use units::{Grams, Night, Probability};

use crate::cycle::belief_then;
use crate::follicles::{FemaleStanding, Phase};
use crate::planned_pairs::{Wanted, planned_pairs};
use crate::tonight::Asking;

/// The chance that the animal carries what the text asks for.
pub type Carries<'a> = dyn Fn(&Animal, &str) -> f64 + 'a;

/// Nights ahead for which leaving a band is reckoned: longer than any rest a rule asks for.
const NIGHTS_AHEAD: u32 = 8;

/// The records behind each planned pair (male place, female place).
pub type PlanRecords = BTreeMap<(usize, usize), Vec<RecordId>>;

/// Who is who in the room handed to the engine.
pub struct Cast {
    /// The room.
    pub room: Room,
    /// Place in the colony of each male.
    pub males: Vec<usize>,
    /// Place in the colony of each female.
    pub females: Vec<usize>,
    /// The record behind each planned pair (male place, female place): written, or a first night.
    pub plan_records: PlanRecords,
    /// Of each pair (male place, female place) that is planned by what he carries: what that is, and
    /// the chance that he does.
    pub carried: Carried,
}

/// What a male is wanted for, and the chance that he carries it.
pub type Carried = BTreeMap<(usize, usize), (String, f64)>;

pub(super) fn cast(
    colony: &Colony,
    rules: &Rules,
    standings: &[FemaleStanding],
    asking: &Asking<'_>,
) -> Cast {
    let today = colony.as_of.day;
    let tonight = Night::beginning(today);
    let here = |place: &usize| colony.animals[*place].presence(today) == Presence::InHouse;
    let males: Vec<usize> = (0..colony.animals.len())
        .filter(|p| colony.animals[*p].sex() == Some(Sex::Male))
        .filter(here)
        .filter(|p| takes_part(colony, rules, *p))
        .collect();
    let mut females: Vec<usize> = standings.iter().map(|s| s.place).collect();
    let also = colony.stays.iter().filter(|s| s.night == tonight).map(|s| s.female);
    let written = colony.planned.iter().filter_map(|p| colony.place_of(p.what.female));
    for place in also.chain(written) {
        if !females.contains(&place) && here(&place) {
            females.push(place);
        }
    }
    let Plans { planned, ruled_out, records, carried } = planned(colony, &males, &females, asking);
    let of_place = |place: &usize| {
        let standing = standings.iter().find(|s| s.place == *place);
        female(colony, rules, *place, standing)
    };
    let room = Room {
        females: females.iter().map(of_place).collect(),
        males: males.iter().map(|place| male(colony, *place)).collect(),
        planned,
        stays: stays(colony, &males, &females, asking.fresh),
        ruled_out,
    };
    Cast { room, males, females, plan_records: records, carried }
}

/// A male counts once he is of breeding size, was ever placed, or is planned: hatchlings that
/// nobody weighs any more are no part of the night.
pub(crate) fn takes_part(colony: &Colony, rules: &Rules, place: usize) -> bool {
    let animal = &colony.animals[place];
    let least = rules.male_at_least;
    let is_large = animal.last_weight().is_some_and(|w| least.is_none_or(|least| w.what >= least));
    let is_planned = colony.planned.iter().any(|p| match p.what.male {
        PlannedMale::Animal(id) => id == animal.id,
        PlannedMale::Carrying(_) => false,
    });
    is_large || is_planned || !animal.stays.is_empty()
}

fn outcome(stay: &Stay) -> LockOutcome {
    match stay.lock.map(|(lock, _)| lock) {
        Some(Lock::Seen) => LockOutcome::Seen,
        Some(Lock::Suspected) => LockOutcome::Suspected,
        Some(Lock::NoneSeen) => LockOutcome::NoneSeen,
        Some(Lock::NotLooked) | None => LockOutcome::NotLooked,
    }
}

fn keeping(colony: &Colony, animal: &Animal) -> Keeping {
    let today = colony.as_of.day;
    Keeping {
        in_house: animal.presence(today) == Presence::InHouse,
        quarantine: Animal::under_way(&animal.quarantine).is_some(),
        treatment: Animal::under_way(&animal.treatment).is_some(),
        weight: animal.last_weight().map(|w| Weighing {
            mass: w.what,
            age_days: u32::try_from(today.days_since(w.day)).unwrap_or(0),
        }),
    }
}

/// In blue since a day on which it was seen so, until the shed; forgotten after three weeks.
pub(crate) fn in_blue(colony: &Colony, animal: &Animal) -> Option<RecordId> {
    let seen = animal.in_blue.last()?;
    let shed = animal.sheds.last().is_some_and(|s| s.day >= seen.day);
    let old = colony.as_of.day.days_since(seen.day) > 21;
    (!shed && !old).then_some(seen.record)
}

/// His weight nearest before the season opened, or the first after it.
pub(super) fn opening_weight(colony: &Colony, animal: &Animal) -> Option<(Grams, RecordId)> {
    let opens = colony.season().opens();
    let before = animal.weights.iter().rfind(|w| w.day <= opens);
    before.or_else(|| animal.weights.first()).map(|w| (w.what, w.record))
}

fn male(colony: &Colony, place: usize) -> Male {
    let animal = &colony.animals[place];
    let tonight = Night::beginning(colony.as_of.day);
    let nights = animal.stays.iter().map(|at| &colony.stays[*at]).filter(|s| s.night < tonight);
    Male {
        keeping: keeping(colony, animal),
        weight_at_opening: opening_weight(colony, animal).map(|(mass, _)| mass),
        in_blue: in_blue(colony, animal).is_some(),
        nights: nights
            .map(|s| PastNight {
                ago: u32::try_from(tonight.nights_since(s.night)).unwrap_or(u32::MAX),
                lock: outcome(s),
            })
            .collect(),
    }
}

fn female(
    colony: &Colony,
    rules: &Rules,
    place: usize,
    standing: Option<&FemaleStanding>,
) -> Female {
    let animal = &colony.animals[place];
    let tonight = Night::beginning(colony.as_of.day);
    let resorbing = match standing {
        Some(s) if s.standing.resorbed() => Probability::ONE,
        Some(s) if !s.standing.checks.is_empty() => s.state.resorbing,
        _ => Probability::ZERO,
    };
    // A night of another season is no turn of this one: "1455 nights ago" tells a keeper nothing.
    let is_told = |night: Night| {
        night.evening() >= colony.season().opens()
            || tonight.nights_since(night)
                <= i32::try_from(rules.unchecked_every).unwrap_or(i32::MAX)
    };
    let last_placed = animal
        .stays
        .iter()
        .map(|at| &colony.stays[*at])
        .filter(|s| s.night < tonight && s.placed.is_some() && s.female == place)
        .map(|s| s.night)
        .max()
        .filter(|night| is_told(*night));
    let unchecked = Size::Unchecked {
        nights_since_placed: last_placed.and_then(|n| u32::try_from(tonight.nights_since(n)).ok()),
    };
    let size = match standing {
        Some(s) if !s.standing.checks.is_empty() => {
            Size::Followed(follicles(colony, rules, place, s))
        }
        _ => unchecked,
    };
    Female {
        keeping: keeping(colony, animal),
        ovulated: standing.is_some_and(|s| matches!(s.phase, Phase::Ovulated | Phase::Shed)),
        resorbing,
        laid_this_season: standing.is_some_and(|s| s.seen.laying.is_some()),
        second_clutch: false,
        in_shed: in_blue(colony, animal).is_some(),
        size,
    }
}

fn edges(rules: &Rules, band: usize) -> (f64, f64) {
    let low = rules.band_from[band].get();
    let high = rules.band_from.get(band + 1).map_or(f64::INFINITY, |mm| mm.get());
    (low, high)
}

/// The last band runs until ovulation: of those who are large enough for it, those who have ovulated
/// unseen are beyond it.
fn in_bands(belief: &Belief, rules: &Rules) -> ByBand<Probability> {
    std::array::from_fn(|band| {
        let (low, high) = edges(rules, band);
        let inside = belief.chance_between(low, high);
        if high.is_finite() || inside == Probability::ZERO {
            return inside;
        }
        Probability::clamped(inside.get() - belief.chance_of_ovulation().passed.get())
    })
}

fn follicles(colony: &Colony, rules: &Rules, place: usize, standing: &FemaleStanding) -> Follicles {
    let belief = &standing.standing.belief;
    let in_band = in_bands(belief, rules);
    let tonight = Night::beginning(colony.as_of.day);
    let outlooks: Vec<_> = (0..4)
        .map(|band| match rules.band_from.get(band + 1) {
            Some(end) => belief.outlook(Milestone::Size(end.get())),
            None => belief.outlook(Milestone::Ovulation),
        })
        .collect();
    let leaves = (1..=NIGHTS_AHEAD)
        .map(|nights| {
            std::array::from_fn(|band| {
                let inside: Probability = in_band[band];
                let within = outlooks[band].within(nights).get();
                if inside.get() < 1e-9 {
                    Probability::ZERO
                } else {
                    Probability::clamped(within / inside.get())
                }
            })
        })
        .collect();
    let opened = standing.standing.span.map(|s| s.opened);
    let nights = colony.animals[place]
        .stays
        .iter()
        .map(|at| &colony.stays[*at])
        .filter(|s| s.female == place && s.night < tonight)
        .filter(|s| opened.is_some_and(|from| s.night.evening() >= from))
        .filter_map(|s| {
            let then: Belief = belief_then(&standing.standing, s.night.evening())?;
            Some(NightTogether { in_band: in_bands(&then, rules), lock: outcome(s) })
        })
        .collect();
    Follicles { in_band, leaves, nights }
}

struct Plans {
    planned: Vec<PlannedPair>,
    ruled_out: Vec<(usize, usize)>,
    records: PlanRecords,
    carried: Carried,
}

/// The planned pairs of the season among these animals, and those ruled out.
fn planned(colony: &Colony, males: &[usize], females: &[usize], asking: &Asking<'_>) -> Plans {
    let (mut pairs, mut ruled_out) = (Vec::new(), Vec::new());
    let mut records = PlanRecords::new();
    let (mut carried, mut named) = (Carried::new(), Vec::new());
    for plan in planned_pairs(colony, asking.carries) {
        let Some(j) = females.iter().position(|p| *p == plan.female) else { continue };
        let fits = |i: &usize| plan.fits(colony, asking.carries, males[*i]);
        let fitting: Vec<usize> = (0..males.len()).filter(fits).collect();
        for i in &fitting {
            let pair = (males[*i], females[j]);
            records.entry(pair).or_default().push(plan.record);
            match plan.carried(colony, asking.carries, males[*i]) {
                Some((text, p)) if !plan.is_ruled_out() => {
                    carried.entry(pair).or_insert_with(|| (text.to_owned(), p));
                }
                Some(_) => {}
                None => named.push(pair),
            }
        }
        if fitting.is_empty() && !plan.is_written {
            continue;
        }
        if plan.is_ruled_out() {
            ruled_out.extend(fitting.iter().map(|i| (*i, j)));
            // A male who is named is a reason to tell; those who carry a gene are many.
            if matches!(plan.wanted, Wanted::Carrying(_)) {
                continue;
            }
        }
        let choice = match plan.choice {
            Choice::First => schedule::Choice::First,
            Choice::Second => schedule::Choice::Second,
        };
        pairs.push(PlannedPair { female: j, males: fitting, choice, weight: plan.weight });
    }
    // Of a male who is named the plan asks no gene.
    carried.retain(|pair, _| !named.contains(pair));
    Plans { planned: pairs, ruled_out, records, carried }
}

fn stays(colony: &Colony, males: &[usize], females: &[usize], fresh: bool) -> Vec<schedule::Stay> {
    let tonight = Night::beginning(colony.as_of.day);
    let mut all = Vec::new();
    for stay in colony.stays.iter().filter(|s| s.night == tonight) {
        let i = males.iter().position(|p| *p == stay.male);
        let j = females.iter().position(|p| *p == stay.female);
        let (Some(male), Some(female), Some(placed)) = (i, j, stay.placed) else { continue };
        let own = |s: &&Stay| s.placed == Some(placed) && s.female == stay.female;
        let first = colony.stays.iter().filter(own).map(|s| s.night).min().unwrap_or(tonight);
        let nights = u32::try_from(tonight.nights_since(first)).unwrap_or(0);
        let last =
            colony.stays.iter().filter(own).filter(|s| s.night < tonight).max_by_key(|s| s.night);
        let is_locked = last.is_some_and(|s| s.lock.map(|(l, _)| l) == Some(Lock::Seen));
        let state = match (nights, is_locked) {
            (0, _) if fresh => continue,
            (0, _) => StayState::Tonight,
            (_, true) => StayState::StillLocked { nights },
            (_, false) => StayState::LeftTogether { nights },
        };
        all.push(schedule::Stay { male, female, state });
    }
    all
}
