//! The rules of the night as the keeper set them.

use records::Colony;
use schedule::Rules;
use units::{Grams, Probability};

/// Every setting of the night: its name, what it means, and how its text is read into the rules.
pub const SETTINGS: &[(&str, &str)] = &[
    ("female_at_least", "least mass of a female, g; `off` switches the rule off"),
    ("male_at_least", "least mass of a male, g; `off` switches the rule off"),
    ("male_loss_at_most", "largest loss of a male since the season opened, %; or `off`"),
    ("nights_placed_below", "nights of the last seven from which a male has a night off; or `off`"),
    ("rest_after_lock", "nights a male rests after a lock; or `off`"),
    ("resorbing_at_most", "chance of resorbing above which a female waits, %; or `off`"),
    ("second_clutch", "`yes` allows a second clutch in a season"),
    ("weight_stale_after", "days after which a weight is old"),
    ("season_opens", "month and day on which the season opens, like 11-01"),
    ("felt_words", "own words for felt follicles with their class, like `bean = 0, egg = 2`"),
];

/// The rules in force. A value that cannot be read leaves the default, so that a slip of the pen
/// never switches a rule off.
#[must_use]
pub fn rules(colony: &Colony) -> Rules {
    let mut rules = Rules::default();
    let text = |name: &str| colony.setting(name).map(|t| t.trim().to_lowercase());
    if let Some(t) = text("female_at_least") {
        rules.female_at_least = optional(&t, grams, rules.female_at_least);
    }
    if let Some(t) = text("male_at_least") {
        rules.male_at_least = optional(&t, grams, rules.male_at_least);
    }
    if let Some(t) = text("male_loss_at_most") {
        rules.male_loss_at_most = optional(&t, percent, rules.male_loss_at_most);
    }
    if let Some(t) = text("nights_placed_below") {
        rules.nights_placed_below = optional(&t, whole, rules.nights_placed_below);
    }
    if let Some(t) = text("rest_after_lock") {
        rules.rest_after_lock = optional(&t, whole, rules.rest_after_lock);
    }
    if let Some(t) = text("resorbing_at_most") {
        rules.resorbing_at_most = optional(&t, percent, rules.resorbing_at_most);
    }
    if let Some(t) = text("second_clutch") {
        rules.second_clutch = t == "yes";
    }
    if let Some(days) = text("weight_stale_after").and_then(|t| whole(&t)) {
        rules.weight_stale_after = days;
    }
    rules
}

fn optional<T>(text: &str, read: impl Fn(&str) -> Option<T>, default: Option<T>) -> Option<T> {
    if text == "off" { None } else { read(text).map(Some).unwrap_or(default) }
}

fn grams(text: &str) -> Option<Grams> {
    let number = text.trim_end_matches('g').trim().parse().ok()?;
    Grams::new(number).ok().filter(|g| g.get() > 0.0)
}

fn percent(text: &str) -> Option<Probability> {
    let number: f64 = text.trim_end_matches('%').trim().parse().ok()?;
    Probability::new(number / 100.0).ok()
}

fn whole(text: &str) -> Option<u32> {
    text.parse().ok()
}
