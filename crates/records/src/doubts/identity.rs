//! Doubts about who an animal is, when it lived here, and what it descends from.

use units::{Day, When};

use crate::colony::{Animal, Colony, Presence};
use crate::doubts::{Doubt, DoubtKind};
use crate::facts::Fact;
use crate::ids::RecordId;
use crate::journal::Live;
use crate::words::Sex;

pub(super) fn find(colony: &Colony, all: &mut Vec<Doubt>) {
    for (at, animal) in colony.animals.iter().enumerate() {
        outside_life(colony, animal, colony.code(at), all);
        parents(colony, animal, colony.code(at), all);
    }
    codes_twice(colony, all);
    leaning(colony, all);
}

fn event_day(live: &Live) -> Option<Day> {
    match live.when {
        When::Day(day) => Some(day),
        When::Night(night) => Some(night.evening()),
        When::Instant(_) | When::Undated => None,
    }
}

/// Facts that need the animal in the house.
fn needs_presence(fact: &Fact) -> bool {
    !matches!(
        fact,
        Fact::Added(_)
            | Fact::Left(_)
            | Fact::CameBack(_)
            | Fact::Changed(_)
            | Fact::SexTold(_)
            | Fact::Retagged(_)
            | Fact::Borrowed(_)
            | Fact::Noted(_)
            | Fact::Looked(_)
            | Fact::Tested(_)
            | Fact::HatchedOut(_)
    )
}

fn outside_life(colony: &Colony, animal: &Animal, code: &str, all: &mut Vec<Doubt>) {
    let facts = animal.history.iter().filter_map(|id| colony.record(*id));
    for live in facts.filter(|l| needs_presence(&l.fact)) {
        let Some(day) = event_day(live) else { continue };
        // What happens on the very day of leaving may still have been before it; and the morning
        // after a night belongs to that night.
        match animal.presence(day - 1) {
            Presence::Gone if animal.presence(day) == Presence::Gone => {
                let left = animal.left.iter().rev().find(|l| l.day < day);
                let Some(left) = left else { continue };
                all.push(Doubt {
                    kind: DoubtKind::AfterLeaving,
                    records: vec![left.record, live.id],
                    day: Some(day),
                    what: format!(
                        "{code} left ({}) on {}, yet \"{}\" is written for {day}.",
                        left.what.how,
                        left.day,
                        live.fact.kind()
                    ),
                    remedy: "Correct the day, or the animal's code on the later record.",
                });
            }
            Presence::NotYet if animal.presence(day) == Presence::NotYet => all.push(Doubt {
                kind: DoubtKind::BeforeHatching,
                records: vec![animal.added(), live.id],
                day: Some(day),
                what: format!(
                    "{code} hatched on {}, yet \"{}\" is written for {day}.",
                    animal.hatched.map(|d| d.to_string()).unwrap_or_default(),
                    live.fact.kind()
                ),
                remedy: "Correct the day, the hatch date, or the animal's code.",
            }),
            _ => {}
        }
    }
}

fn parents(colony: &Colony, animal: &Animal, code: &str, all: &mut Vec<Doubt>) {
    for (parent, word, sex) in [(animal.sire, "sire", Sex::Male), (animal.dam, "dam", Sex::Female)]
    {
        let Some(at) = parent else { continue };
        let who = &colony.animals[at];
        let name = colony.code(at);
        if let (Some(own), Some(theirs)) = (animal.hatched, who.hatched)
            && own <= theirs
        {
            all.push(Doubt {
                kind: DoubtKind::YoungParent,
                records: vec![who.added(), animal.added()],
                day: Some(own),
                what: format!(
                    "{name} is the {word} of {code} but hatched on {theirs}, not before {own}."
                ),
                remedy: "Correct the parent or one of the two hatch dates.",
            });
        }
        if let Some((told, record)) = who.sex
            && told != sex
        {
            all.push(wrong_sex(
                vec![record, animal.added()],
                animal.hatched,
                format!("{name} is told {told} but is the {word} of {code}."),
            ));
        }
    }
}

pub(super) fn wrong_sex(records: Vec<RecordId>, day: Option<Day>, what: String) -> Doubt {
    Doubt {
        kind: DoubtKind::WrongSex,
        records,
        day,
        what,
        remedy: "Correct its sex, or the code of the animal on the other record.",
    }
}

fn codes_twice(colony: &Colony, all: &mut Vec<Doubt>) {
    let mut keys: Vec<&String> = colony.by_code.keys().collect();
    keys.sort();
    for key in keys {
        let bearers = &colony.by_code[key];
        for (n, a) in bearers.iter().enumerate() {
            for b in &bearers[n + 1..] {
                if let Some(day) = together(colony, *a, *b, key) {
                    let (a, b) = (&colony.animals[*a], &colony.animals[*b]);
                    all.push(Doubt {
                        kind: DoubtKind::CodeTwice,
                        records: vec![a.added(), b.added()],
                        day: Some(day),
                        what: format!("Two animals in the house bear the code {key}."),
                        remedy: "Give one of them another code, or withdraw one.",
                    });
                }
            }
        }
    }
}

/// A day on which both bear the code and are in the house, where there is one.
fn together(colony: &Colony, a: usize, b: usize, key: &str) -> Option<Day> {
    let starts = |at: usize| {
        let animal = &colony.animals[at];
        let spans = animal.codes.iter().filter(|s| s.code.key() == key);
        spans.map(|s| s.from.or(animal.hatched)).max().flatten()
    };
    let day = starts(a).max(starts(b)).unwrap_or(colony.as_of.day);
    let bears = |at: usize| {
        let animal = &colony.animals[at];
        let covers = |from: Option<Day>, to: Option<Day>| {
            from.is_none_or(|f| f <= day) && to.is_none_or(|t| day <= t)
        };
        animal.presence(day) == Presence::InHouse
            && animal.codes.iter().any(|s| s.code.key() == key && covers(s.from, s.to))
    };
    (bears(a) && bears(b)).then_some(day)
}

/// Records about animals or clutches whose own record was withdrawn.
fn leaning(colony: &Colony, all: &mut Vec<Doubt>) {
    for live in &colony.records {
        let lost_animal =
            live.fact.animals(live.id).iter().any(|id| colony.place_of(*id).is_none());
        let clutch = match &live.fact {
            Fact::HatchedOut(f) => Some(f.clutch),
            Fact::Incubated(f) => Some(f.clutch),
            _ => None,
        };
        let lost_clutch = clutch.is_some_and(|id| !colony.clutches.iter().any(|c| c.id == id));
        if lost_animal || lost_clutch {
            all.push(Doubt {
                kind: DoubtKind::LeansOnNothing,
                records: vec![live.id],
                day: event_day(live),
                what: format!(
                    "\"{}\" leans on a record that was withdrawn or is not known on this day.",
                    live.fact.kind()
                ),
                remedy: "Bring the withdrawn record back, or withdraw this one too.",
            });
        }
    }
}
