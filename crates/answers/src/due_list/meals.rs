//! Meals that come due, and refusals to look into.

use units::Day;

use super::{DueOn, Kind};
use crate::feeding_due::{FeedingDue, MealShown, Refusal};

/// The next meal of everybody whose day comes by then, and what is to be looked into.
pub(super) fn meals(feeding: &FeedingDue, until: Day) -> Vec<DueOn> {
    let due = feeding.due.iter().chain(&feeding.after).chain(&feeding.wait);
    let later = feeding.later.iter().filter(|m| m.due_on <= until);
    let mut all: Vec<DueOn> = due.chain(later).map(|m| of_meal(m, Kind::Meal)).collect();
    // Lost weight has a rule of its own.
    let refused =
        feeding.look_into().filter(|m| m.refusal == Refusal::LookInto && m.lost.is_none());
    all.extend(refused.map(|m| DueOn { day: feeding.day, ..of_meal(m, Kind::LookInto) }));
    all
}

fn of_meal(meal: &MealShown, kind: Kind) -> DueOn {
    let count =
        if meal.prey.count == 1 { String::new() } else { format!("{} x ", meal.prey.count) };
    let what = match kind {
        Kind::LookInto => "refused food".to_owned(),
        _ => format!("{count}{}", meal.prey.name),
    };
    DueOn {
        kind,
        what,
        animal: meal.place,
        with: None,
        day: meal.due_on,
        until: None,
        chance: None,
        severity: None,
        source: None,
        reason: meal.reason.clone(),
        records: meal.records.clone(),
    }
}
