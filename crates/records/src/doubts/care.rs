//! Doubts about feeding and weighing.

use std::collections::HashMap;

use crate::colony::{Animal, Colony};
use crate::doubts::{Doubt, DoubtKind};

/// Two weights nearer than this many days are compared.
const NEAR_DAYS: i32 = 45;
/// A change beyond these ratios within that time is a leap. Our choice: fasting males lose well
/// under a third in a season, and growing animals do not double in six weeks.
const LEAST_RATIO: f64 = 0.6;
const MOST_RATIO: f64 = 1.7;

pub(super) fn find(colony: &Colony, all: &mut Vec<Doubt>) {
    for (at, animal) in colony.animals.iter().enumerate() {
        fed_twice(animal, colony.code(at), all);
        weight_leaps(animal, colony.code(at), all);
    }
}

fn fed_twice(animal: &Animal, code: &str, all: &mut Vec<Doubt>) {
    let mut seen = HashMap::new();
    for meal in &animal.meals {
        let key = (meal.day, meal.what.prey.to_lowercase(), meal.what.meal);
        if let Some(first) = seen.insert(key, meal.record) {
            all.push(Doubt {
                kind: DoubtKind::FedTwice,
                records: vec![first, meal.record],
                day: Some(meal.day),
                what: format!(
                    "{code} has the same feeding ({} {}) twice on {}.",
                    meal.what.prey, meal.what.meal, meal.day
                ),
                remedy: "Withdraw one if it was written twice; where there were two, say on the Desk that both \
                         are right.",
            });
        }
    }
}

fn weight_leaps(animal: &Animal, code: &str, all: &mut Vec<Doubt>) {
    for pair in animal.weights.windows(2) {
        let [a, b] = pair else { continue };
        let ratio = b.what.get() / a.what.get();
        let near = b.day.days_since(a.day) <= NEAR_DAYS;
        if near && !(LEAST_RATIO..=MOST_RATIO).contains(&ratio) {
            all.push(Doubt {
                kind: DoubtKind::WeightLeap,
                records: vec![a.record, b.record],
                day: Some(b.day),
                what: format!(
                    "{code} weighed {} g on {} and {} g on {}.",
                    a.what, a.day, b.what, b.day
                ),
                remedy: "Weigh again, and correct the one that is wrong.",
            });
        }
    }
}
