//! How much an animal ate, in rats.

use records::facts::Fed;
use records::{Animal, Meal};
use units::Day;

/// What one prey animal counts for, in rats: a rat from weaned on is one, whatever its size; a
/// younger one a quarter, a mouse a third. Common practice counts rats, no source; the shares are
/// our own choice. Other prey has none.
pub fn rats_each(prey: &str) -> Option<f64> {
    let prey = prey.to_lowercase();
    let names = |words: &[&str]| words.iter().any(|word| prey.contains(word));
    if names(&["mouse", "mice"]) {
        Some(1.0 / 3.0)
    } else if !names(&["rat"]) {
        None
    } else if names(&["pup", "pink", "fuzz", "hopper", "crawler", "unweaned"]) {
        Some(0.25)
    } else {
        Some(1.0)
    }
}

/// Rats eaten in a stretch of days.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Eaten {
    /// Rats.
    pub rats: f64,
    /// Meals offered that were written down; without any nothing is known.
    pub meals: usize,
}

/// From `from` until the day before `until`.
pub fn eaten(animal: &Animal, from: Day, until: Day) -> Eaten {
    let mut eaten = Eaten { rats: 0.0, meals: 0 };
    for meal in animal.meals.iter().filter(|m| from <= m.day && m.day < until) {
        eaten.meals += 1;
        eaten.rats += rats(&meal.what);
    }
    eaten
}

fn rats(fed: &Fed) -> f64 {
    let each = rats_each(&fed.prey).filter(|_| fed.meal == Meal::Taken);
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
    }
}
