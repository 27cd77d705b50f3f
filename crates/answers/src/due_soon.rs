//! "What is due?" Follicle checks, warmth, dates gone by, males to take out, weights.

use forecast::{Chain, Durations, Seen};
use records::{Animal, Colony, RecordId};
use schedule::due::{self, DueRules, What};
use schedule::{Plan, Room, Rules, Subject, mated};
use units::{Day, When};

use crate::follicles::{FemaleStanding, Phase};
use crate::incubation::durations_of;
use crate::room_forecasts::RoomForecasts;
use crate::tonight::Cast;

/// Something due, by index into the night's females and males.
#[derive(Clone, Debug)]
pub struct DueFound {
    /// As the engine found it.
    pub due: due::Due,
    /// Records it rests on.
    pub records: Vec<RecordId>,
}

/// Everything due on the evening the colony stands at. `females[j]` is the standing of the room's
/// female `j`, where she has one; the plan says which males come out.
#[must_use]
pub(crate) fn due_soon(
    colony: &Colony,
    forecasts: &RoomForecasts,
    (cast, plan): (&Cast, &Plan),
    rules: &Rules,
    females: &[Option<&FemaleStanding>],
) -> Vec<DueFound> {
    let due_rules = crate::settings::in_force(colony).due;
    let today = colony.as_of.day;
    let room = &cast.room;
    let here = |about| days_here(colony, subject(about, &cast.males, &cast.females));
    let mut all = Vec::new();
    for (j, standing) in females.iter().enumerate() {
        let Some(standing) = standing else { continue };
        let animal = &colony.animals[standing.place];
        let last = animal.checks.last().filter(|_| !standing.standing.checks.is_empty());
        let age = last.and_then(|c| u32::try_from(today.days_since(c.day)).ok());
        let since = here(Subject::Female(j));
        let check = due::follicle_check(j, cycle(standing, rules), age, since, &due_rules);
        all.extend(
            check
                .map(|due| DueFound { due, records: last.map(|c| c.record).into_iter().collect() }),
        );
        all.extend(warm_up(colony, room, rules, &due_rules, j, standing));
        all.extend(
            overdue(
                &durations_of(colony, forecasts, standing.place, &standing.seen, today),
                &due_rules,
                j,
                &standing.seen,
                today,
            )
            .map(|due| DueFound {
                due,
                records: animal.ovulated.last().map(|o| o.record).into_iter().collect(),
            }),
        );
    }
    let stays = room.stays.iter().filter_map(|stay| due::take_out(stay, plan, &due_rules));
    all.extend(stays.map(|due| DueFound { records: placed(colony, cast, &due), due }));
    let weigh = due::weighing_list(room, rules, here);
    all.extend(weigh.into_iter().map(|due| {
        let place = subject(due.about, &cast.males, &cast.females);
        let weight = colony.animals[place].last_weight().map(|w| w.record);
        DueFound { due, records: weight.into_iter().collect() }
    }));
    all
}

/// The placing of a pair that is together tonight.
fn placed(colony: &Colony, cast: &Cast, due: &due::Due) -> Vec<RecordId> {
    let Subject::Pair { male, female } = due.about else { return vec![] };
    let pair = (cast.males[male], cast.females[female]);
    let tonight = units::Night::beginning(colony.as_of.day);
    let stay =
        colony.stays.iter().find(|s| (s.male, s.female, s.night) == (pair.0, pair.1, tonight));
    stay.and_then(|s| s.placed).into_iter().collect()
}

/// Days since the animal came in, hatched or came back, this season opened, or she last laid,
/// whichever was last.
fn days_here(colony: &Colony, place: usize) -> Option<u32> {
    let animal = &colony.animals[place];
    let back = animal.returned.last().map(|r| r.day);
    let laid = animal.laid.last().map(|l| l.day);
    let last = [came_in(colony, animal), animal.hatched, back, laid].into_iter().flatten().max();
    let opens = colony.season().opens();
    let since = last.map_or(opens, |day| day.max(opens));
    u32::try_from(colony.as_of.day.days_since(since)).ok()
}

/// The first day on which anything was done to it; where nothing was, the day it was added. A list
/// of animals says nothing of when each came in, and may be imported at any time.
fn came_in(colony: &Colony, animal: &Animal) -> Option<Day> {
    let first = [
        animal.weights.first().map(|w| w.day),
        animal.meals.first().map(|m| m.day),
        animal.quarantine.first().map(|q| q.day),
        animal.checks.first().map(|c| c.day),
        animal.sheds.first().map(|s| s.day),
    ];
    let added = || match colony.record(animal.added())?.when {
        When::Day(day) => Some(day),
        _ => None,
    };
    first.into_iter().flatten().min().or_else(added)
}

/// Where her cycle stands, as far as checks go.
pub(crate) fn cycle(standing: &FemaleStanding, rules: &Rules) -> due::Cycle {
    match standing.phase {
        Phase::Ovulated | Phase::Shed | Phase::Laid => due::Cycle::Closed,
        Phase::Resorbed if standing.standing.resorbed() => due::Cycle::Closed,
        Phase::Unchecked => due::Cycle::Unchecked,
        Phase::Resting => due::Cycle::Resting,
        Phase::Resorbed => due::Cycle::Stalled,
        Phase::Building => {
            let states = &standing.state;
            let size = standing.size.as_ref().map_or(0.0, |s| s.median.get());
            if standing.has_most_likely_ovulated() {
                due::Cycle::LastBand
            } else if states.stalled.get() + states.resorbing.get() >= 0.6 {
                due::Cycle::Stalled
            } else if size >= rules.band_from[3].get() {
                due::Cycle::LastBand
            } else {
                due::Cycle::Growing
            }
        }
    }
}

fn warm_up(
    colony: &Colony,
    room: &Room,
    rules: &Rules,
    due_rules: &DueRules,
    j: usize,
    standing: &FemaleStanding,
) -> Option<DueFound> {
    let animal = &colony.animals[standing.place];
    let opened = standing.standing.span?.opened;
    let is_warm = animal.warmed.last().is_some_and(|w| w.day >= opened);
    let schedule::Size::Followed(follicles) = &room.females[j].size else { return None };
    if is_warm || standing.phase != Phase::Building {
        return None;
    }
    let over = standing.standing.belief.chance_between(40.0, f64::INFINITY);
    let due = due::warm_up(j, over, &mated(follicles, &rules.lock_weights), due_rules)?;
    Some(DueFound { due, records: animal.checks.last().map(|c| c.record).into_iter().collect() })
}

/// The next event of the chain after the last seen one, when its interval is over.
fn overdue(
    durations: &Durations,
    rules: &DueRules,
    j: usize,
    seen: &Seen,
    today: Day,
) -> Option<due::Due> {
    let from = seen.laying.or(seen.shed).or(seen.ovulation)?;
    if seen.hatch.is_some() {
        return None;
    }
    let chain = Chain::ahead(durations, seen, None, from);
    let (event, estimate) = match (seen.ovulation, seen.shed, seen.laying) {
        (_, _, Some(_)) => (due::Event::Hatching, chain.hatch),
        (_, Some(_), None) => (due::Event::Laying, chain.laying),
        // A missed shed must not hide that eggs are overdue.
        (Some(_), None, None) => {
            let late = chain.laying.as_ref().is_some_and(|e| e.high < today);
            if late {
                (due::Event::Laying, chain.laying)
            } else {
                (due::Event::PreLayShed, chain.shed)
            }
        }
        (None, None, None) => return None,
    };
    due::overdue(j, event, estimate?.high.days_since(today), rules)
}

/// Plain words for what is to be done.
#[must_use]
pub fn words(what: What) -> &'static str {
    match what {
        What::FollicleCheck => "follicle check",
        What::WarmUp => "warm up",
        What::Overdue(due::Event::Ovulation) => "ovulation overdue",
        What::Overdue(due::Event::PreLayShed) => "pre-lay shed overdue",
        What::Overdue(due::Event::Laying) => "laying overdue",
        What::Overdue(due::Event::Hatching) => "hatching overdue",
        What::TakeOut => "take out",
        What::Weigh => "weigh",
    }
}

/// The place of whom something is due for: the female, or the male on his own.
#[must_use]
pub fn subject(about: Subject, males: &[usize], females: &[usize]) -> usize {
    match about {
        Subject::Male(i) | Subject::Pair { male: i, .. } => males[i],
        Subject::Female(j) => females[j],
    }
}
