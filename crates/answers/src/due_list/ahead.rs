//! What comes due in the days to come: checks, weights, expected events.

use records::{Animal, Colony, RecordId};
use units::{Day, DaySpan};

use super::{DueOn, Kind};
use crate::coming::{Coming, Step, coming};
use crate::due_soon::{cycle, words};
use crate::follicles::FemaleStanding;
use crate::settings::in_force;
use crate::tonight::{Tonight, takes_part};

/// Below this chance of coming an event is not listed; our choice, that of the strip.
const LEAST_CHANCE: f64 = 0.3;

fn plain(kind: Kind, what: String, animal: usize, day: Day, reason: String) -> DueOn {
    DueOn {
        kind,
        what,
        animal,
        with: None,
        day,
        until: None,
        chance: None,
        severity: None,
        source: None,
        reason,
        records: vec![],
    }
}

/// Follicle checks that fall due after today.
pub(super) fn checks(colony: &Colony, tonight: &Tonight, until: Day) -> Vec<DueOn> {
    let force = in_force(colony);
    let today = colony.as_of.day;
    let due = tonight.females.iter().filter_map(|f| {
        let every = force.due.check_every(cycle(f, &force.rules))?;
        let animal = &colony.animals[f.place];
        let last = animal.checks.last().filter(|_| !f.standing.checks.is_empty())?;
        let day = last.day + i32::try_from(every).ok()?;
        let word = words(schedule::due::What::FollicleCheck).to_owned();
        let reason = format!("Last check on {}, one every {every} days.", last.day.spoken());
        (today < day && day <= until).then(|| DueOn {
            records: vec![last.record],
            ..plain(Kind::Check, word, f.place, day, reason)
        })
    });
    due.collect()
}

/// Weights that grow old after today, of the animals the night asks about.
pub(super) fn weights(colony: &Colony, tonight: &Tonight, until: Day) -> Vec<DueOn> {
    let rules = in_force(colony).rules;
    let today = colony.as_of.day;
    let is_asked = |place: usize| {
        let animal = &colony.animals[place];
        let is_here = animal.presence(today) == records::colony::Presence::InHouse;
        let is_female = tonight.females.iter().any(|f| f.place == place);
        let is_male = animal.sex() == Some(records::Sex::Male) && takes_part(colony, &rules, place);
        is_here && (is_female || is_male)
    };
    let asked = (0..colony.animals.len()).filter(|place| is_asked(*place));
    let due = asked.filter_map(|place| {
        let last = colony.animals[place].last_weight()?;
        // The day after the weight is as old as may be.
        let day = last.day + i32::try_from(rules.weight_stale_after).ok()? + 1;
        let word = words(schedule::due::What::Weigh).to_owned();
        let reason = format!("Last weight on {}.", last.day.spoken_with_year());
        (today < day && day <= until).then(|| DueOn {
            records: vec![last.record],
            ..plain(Kind::Weigh, word, place, day, reason)
        })
    });
    due.collect()
}

/// Sizes, ovulation and what follows, where their interval begins by then.
pub(super) fn events(colony: &Colony, tonight: &Tonight, until: Day) -> Vec<DueOn> {
    let listed = |c: &Coming| c.step <= Step::Hatch;
    let of = |f| coming(f).into_iter().filter(listed).map(move |c| event(colony, f, &c));
    let mut all: Vec<DueOn> = tonight.females.iter().flat_map(of).collect();
    let comes = |d: &DueOn| d.chance.is_none_or(|p| p.get() >= LEAST_CHANCE);
    all.retain(|d| d.day <= until && comes(d));
    all
}

/// Ovulations that nobody wrote and that are more likely behind her than not.
pub(super) fn unwritten(colony: &Colony, tonight: &Tonight) -> Vec<DueOn> {
    let likely = tonight.females.iter().filter(|f| f.has_most_likely_ovulated());
    let due = likely.filter_map(|f| {
        let passed = f.ovulation()?.passed;
        let since = f.seen.last_check.map_or_else(String::new, |day| {
            format!(" since the check of {}", day.spoken_with_year())
        });
        let laying = f.chain.laying.as_ref().map_or_else(String::new, |laying| {
            let span = DaySpan::between(laying.low, laying.high);
            format!(" If so she lays {span}.")
        });
        let reason = format!(
            "By her follicles she has ovulated{since}, with a chance of {passed}.{laying} Look at \
             her, scan her, and write the ovulation or the check.",
        );
        let what = "ovulation, most likely".to_owned();
        let records = behind(&colony.animals[f.place], f);
        Some(DueOn { records, ..plain(Kind::Overdue, what, f.place, colony.as_of.day, reason) })
    });
    due.collect()
}

fn event(colony: &Colony, female: &FemaleStanding, coming: &Coming) -> DueOn {
    let (today, date) = (colony.as_of.day, &coming.date);
    let what = match coming.step {
        Step::Hatch => "hatching",
        step => step.said(),
    };
    let span = DaySpan::between(date.low, date.high);
    let holds = date.coverage;
    let comes = coming.told().map_or_else(String::new, |told| format!("; {told}"));
    let reason = format!(
        "{} is expected {span}, most likely about {} ({holds} interval{comes}).",
        crate::due_list::large(what),
        date.median.short(),
    );
    DueOn {
        until: Some((date.median, date.high)),
        chance: coming.chance,
        records: behind(&colony.animals[female.place], female),
        ..plain(Kind::Expected, what.to_owned(), female.place, date.low.max(today), reason)
    }
}

/// The last thing seen that a date rests on.
fn behind(animal: &Animal, female: &FemaleStanding) -> Vec<RecordId> {
    let seen = &female.seen;
    let last = if seen.laying.is_some() {
        animal.laid.last().map(|l| l.record)
    } else if let Some(shed) = seen.shed {
        animal.sheds.iter().rfind(|s| s.day == shed).map(|s| s.record)
    } else if seen.ovulation.is_some() {
        animal.ovulated.last().map(|o| o.record)
    } else {
        animal.checks.last().map(|c| c.record)
    };
    last.into_iter().collect()
}
