//! How much an animal ate, in rats.

use records::facts::Fed;
use records::{Animal, Meal};
use units::Day;

/// What one prey animal counts for where rats are counted: a rat from weaned on is one, whatever its
/// size; a younger one a quarter, a mouse a third. Common practice counts rats, no source; the
/// shares are our own choice. Other prey has none.
pub fn rats_each(prey: &str) -> Option<f64> {
    let prey = prey.to_lowercase();
    if names(&prey, &["mouse", "mice"]) {
        Some(1.0 / 3.0)
    } else if !names(&prey, &["rat"]) {
        None
    } else if names(&prey, UNWEANED) {
        Some(0.25)
    } else {
        Some(1.0)
    }
}

/// What it counts for in food, a medium rat being one: the sizes are about those of the trade's
/// classes, from memory, no source.
fn food_each(prey: &str) -> Option<f64> {
    let rats = rats_each(prey)?;
    let prey = prey.to_lowercase();
    let is_grown_rat = rats > 0.9;
    Some(match () {
        () if !is_grown_rat => 0.2,
        () if names(&prey, &["weaned", "weaner"]) => 0.4,
        () if names(&prey, &["small"]) => 0.7,
        () if names(&prey, &["jumbo"]) => 2.5,
        () if names(&prey, &["large"]) => 1.6,
        () => 1.0,
    })
}

const UNWEANED: &[&str] = &["pup", "pink", "fuzz", "hopper", "crawler", "unweaned"];

fn names(prey: &str, words: &[&str]) -> bool {
    words.iter().any(|word| prey.contains(word))
}

/// Rats eaten in a stretch of days.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Eaten {
    /// Rats, as keepers count them.
    pub rats: f64,
    /// The same food as medium rats.
    pub medium_rats: f64,
    /// Meals offered that were written down; without any nothing is known.
    pub meals: usize,
}

/// From `from` until the day before `until`.
pub fn eaten(animal: &Animal, from: Day, until: Day) -> Eaten {
    let mut eaten = Eaten { rats: 0.0, medium_rats: 0.0, meals: 0 };
    for meal in animal.meals.iter().filter(|m| from <= m.day && m.day < until) {
        eaten.meals += 1;
        eaten.rats += taken(&meal.what, rats_each);
        eaten.medium_rats += taken(&meal.what, food_each);
    }
    eaten
}

fn taken(fed: &Fed, each: impl Fn(&str) -> Option<f64>) -> f64 {
    let each = each(&fed.prey).filter(|_| fed.meal == Meal::Taken);
    each.unwrap_or(0.0) * f64::from(fed.count)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prey_is_told_by_its_words() {
        assert_eq!(rats_each("Medium rat"), Some(1.0));
        assert_eq!(rats_each("rat pups"), Some(0.25));
        assert_eq!(rats_each("adult mice"), Some(1.0 / 3.0));
        assert_eq!(rats_each("chick"), None);
        let eaten = [(10.0, "small rat"), (4.0, "rat pup"), (6.0, "mouse")];
        let rats: f64 = eaten.iter().map(|(n, prey)| n * rats_each(prey).unwrap_or(0.0)).sum();
        assert!((rats - 13.0).abs() < 1e-12);
        assert_eq!(food_each("chick"), None);
        let sizes = ["rat pup", "weaned rat", "small rat", "rat", "large rat", "jumbo rat"];
        assert!(sizes.windows(2).all(|pair| food_each(pair[0]) < food_each(pair[1])));
    }
}
