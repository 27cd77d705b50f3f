//! Doubts about nights, clutches and young.

use std::collections::{BTreeMap, HashMap};

use units::{Day, Night, When};

use crate::colony::{Clutch, Colony, Stay};
use crate::doubts::identity::wrong_sex;
use crate::doubts::{Doubt, DoubtKind};
use crate::facts::Fact;
use crate::ids::AnimalId;
use crate::journal::Live;
use crate::words::Lock;

/// Two clutches of one female closer than this are not believed. Our choice: ovulation to laying
/// takes about 50 days, and follicles take months to grow before it.
const CLUTCHES_APART_DAYS: i32 = 120;

pub(super) fn find(colony: &Colony, all: &mut Vec<Doubt>) {
    nights(colony, all);
    looks(colony, all);
    sexes(colony, all);
    for clutch in &colony.clutches {
        counts(colony, clutch, all);
        parents(colony, clutch, all);
    }
    order(colony, all);
    too_close(colony, all);
}

fn nights(colony: &Colony, all: &mut Vec<Doubt>) {
    // Keyed by the animal that cannot be shared; the first stay of the night is kept.
    let mut of_male: HashMap<(Night, usize), &Stay> = HashMap::new();
    let mut of_female: HashMap<(Night, usize), &Stay> = HashMap::new();
    for stay in &colony.stays {
        let night = stay.night;
        let (male, female) = (colony.code(stay.male), colony.code(stay.female));
        let first = *of_male.entry((night, stay.male)).or_insert(stay);
        if first.female != stay.female {
            let other = colony.code(first.female);
            let what = format!("{male} is with {other} and with {female} in the night of {night}.");
            all.push(night_doubt(DoubtKind::TwoFemales, first, stay, what));
        }
        let first = *of_female.entry((night, stay.female)).or_insert(stay);
        if first.male != stay.male {
            let other = colony.code(first.male);
            let what =
                format!("{other} and {male} are both with {female} in the night of {night}.");
            all.push(night_doubt(DoubtKind::TwoMales, first, stay, what));
        }
    }
}

fn night_doubt(kind: DoubtKind, a: &Stay, b: &Stay, what: String) -> Doubt {
    let record = |s: &Stay| s.placed.or(s.lock.map(|(_, id)| id));
    Doubt {
        kind,
        records: [record(a), record(b)].into_iter().flatten().collect(),
        day: Some(a.night.evening()),
        what,
        remedy: "Correct the night, the male or the female on one of the two.",
    }
}

/// One says that they locked and another that they did not. Two looks at different moments of a
/// night may both be right, so those that tell their moment are left alone.
fn looks(colony: &Colony, all: &mut Vec<Doubt>) {
    type Looks<'a> = [Option<&'a Live>; 2];
    let mut of_night: BTreeMap<(Night, AnimalId, AnimalId), Looks<'_>> = BTreeMap::new();
    for live in &colony.records {
        let Fact::LockLooked(look) = &live.fact else { continue };
        let side = match look.lock {
            Lock::Seen | Lock::Suspected => 0,
            Lock::NoneSeen => 1,
            Lock::NotLooked => continue,
        };
        let looks = of_night.entry((look.night, look.male, look.female)).or_default();
        looks[side].get_or_insert(live);
    }
    for ((night, male, female), looks) in of_night {
        let [Some(seen), Some(none)] = looks else { continue };
        if let (When::Instant(a), When::Instant(b)) = (seen.when, none.when)
            && a != b
        {
            continue;
        }
        let (Some(male), Some(female)) = (colony.place_of(male), colony.place_of(female)) else {
            continue;
        };
        let Fact::LockLooked(look) = &seen.fact else { continue };
        all.push(Doubt {
            kind: DoubtKind::LooksDiffer,
            records: vec![seen.id, none.id],
            day: Some(night.evening()),
            what: format!(
                "The lock of {} with {} in the night of {night} is told as {} and as {}.",
                colony.code(male),
                colony.code(female),
                look.lock,
                Lock::NoneSeen
            ),
            remedy: "Correct or withdraw the look that is wrong.",
        });
    }
}

fn sexes(colony: &Colony, all: &mut Vec<Doubt>) {
    for live in &colony.records {
        let counts = matches!(
            live.fact,
            Fact::Placed(_) | Fact::Laid(_) | Fact::Checked(_) | Fact::Ovulated(_)
        );
        if !counts {
            continue;
        }
        for (id, needed) in live.fact.roles() {
            let Some(at) = colony.place_of(id) else { continue };
            let animal = &colony.animals[at];
            if let Some((told, record)) = animal.sex
                && told != needed
            {
                let what = format!(
                    "{} is told {told} but stands as a {needed} in \"{}\".",
                    colony.code(at),
                    live.fact.kind()
                );
                all.push(wrong_sex(vec![record, live.id], None, what));
            }
        }
    }
}

fn counts(colony: &Colony, clutch: &Clutch, all: &mut Vec<Doubt>) {
    let Some(eggs) = clutch.eggs else { return };
    let slugs = clutch.slugs.unwrap_or(0);
    let hatched = clutch.hatched.as_ref().and_then(|h| h.what);
    let out = hatched.unwrap_or(0);
    let female = colony.code(clutch.female);
    let remedy = "Count slugs inside the eggs, and correct the number that is wrong.";
    let mut records = vec![clutch.id.0];
    records.extend(clutch.hatched.as_ref().map(|h| h.record));
    if u32::from(slugs) + u32::from(out) > u32::from(eggs) {
        let what =
            format!("{female}'s clutch has {eggs} eggs, but {slugs} slugs and {out} hatchlings.");
        all.push(Doubt { kind: DoubtKind::ClutchCounts, records, day: clutch.laid, what, remedy });
    } else if let Some(count) = hatched
        && !clutch.young.is_empty()
        && clutch.young.len() != usize::from(count)
    {
        let what = format!(
            "{female}'s clutch is written with {count} hatchlings, but {} are listed.",
            clutch.young.len()
        );
        records.extend(clutch.young.last().map(|at| colony.animals[*at].added()));
        let remedy = "Correct the count, or add or withdraw a hatchling.";
        all.push(Doubt { kind: DoubtKind::ClutchCounts, records, day: clutch.laid, what, remedy });
    }
}

/// Looks at the records, not at the folded clutch: a hatching dated before its laying is folded
/// before there is a clutch to take it.
fn order(colony: &Colony, all: &mut Vec<Doubt>) {
    let clutches: HashMap<_, &Clutch> = colony.clutches.iter().map(|c| (c.id, c)).collect();
    for live in &colony.records {
        let Fact::HatchedOut(hatching) = &live.fact else { continue };
        let Some(clutch) = clutches.get(&hatching.clutch) else { continue };
        let (Some(laid), When::Day(hatched)) = (clutch.laid, live.when) else { continue };
        let days = hatched.days_since(laid);
        // husbandry facts give 50 to 70 days of incubation; 35 to 100 leaves room for a cool
        // incubator and for a day or two of careless dating, not for a swapped month.
        // Eggs may be lost, and told as hatched with none, from the first day on.
        let least = if hatching.hatchlings == Some(0) { 0 } else { 35 };
        if (least..=100).contains(&days) {
            continue;
        }
        all.push(Doubt {
            kind: DoubtKind::ClutchOrder,
            records: vec![clutch.id.0, live.id],
            day: Some(laid),
            what: format!(
                "{}'s clutch was laid on {laid} and hatched on {hatched}: {days} days.",
                colony.code(clutch.female)
            ),
            remedy: "Correct one of the two days; day and month may be swapped.",
        });
    }
}

fn parents(colony: &Colony, clutch: &Clutch, all: &mut Vec<Doubt>) {
    for at in &clutch.young {
        let young = &colony.animals[*at];
        if let (Some(own), Some(credited)) = (young.sire, clutch.sire)
            && own != credited
        {
            all.push(Doubt {
                kind: DoubtKind::ClutchParents,
                records: vec![clutch.id.0, young.added()],
                day: young.hatched,
                what: format!(
                    "{} has {} as its sire, but the clutch is credited to {}.",
                    colony.code(*at),
                    colony.code(own),
                    colony.code(credited)
                ),
                remedy: "Correct the sire of the hatchling or of the clutch.",
            });
        }
    }
}

fn too_close(colony: &Colony, all: &mut Vec<Doubt>) {
    for (at, animal) in colony.animals.iter().enumerate() {
        for pair in animal.laid.windows(2) {
            let [a, b] = pair else { continue };
            if b.day.days_since(a.day) < CLUTCHES_APART_DAYS {
                all.push(Doubt {
                    kind: DoubtKind::ClutchesTooClose,
                    records: vec![a.record, b.record],
                    day: Some(b.day),
                    what: format!("{} laid on {} and again on {}.", colony.code(at), a.day, b.day),
                    remedy: "Withdraw one if it was written twice, or correct its day.",
                });
            }
        }
        ovulations(colony, at, all);
    }
}

/// Ovulation comes before laying: about 50 days (common practice, no source); 20 to 100 allowed.
fn ovulations(colony: &Colony, at: usize, all: &mut Vec<Doubt>) {
    let animal = &colony.animals[at];
    for laying in &animal.laid {
        let day: Day = laying.day;
        let near = animal.ovulated.iter().find(|o| (-60..20).contains(&day.days_since(o.day)));
        if let Some(ovulation) = near {
            all.push(Doubt {
                kind: DoubtKind::ClutchOrder,
                records: vec![ovulation.record, laying.record],
                day: Some(day),
                what: format!(
                    "{} ovulated on {} and laid on {day}.",
                    colony.code(at),
                    ovulation.day
                ),
                remedy: "Correct one of the two days; day and month may be swapped.",
            });
        }
    }
}
