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
    (
        "meals_by_weight",
        "usual prey and days between meals by weight, g, like `150 = rat fuzzy 7, more = medium rat 14`",
    ),
    ("young_fed_every", "days between meals of an animal younger than a year"),
    ("refusals_looked_into", "refusals in a row without an ordinary reason that are looked into"),
    ("off_food_from", "follicle size from which a female off food is ordinary, mm"),
    ("fasting_loss_looked_into", "loss of weight since the last meal that is looked into, %"),
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

/// A usual meal of animals up to a weight.
#[derive(Clone, Debug, PartialEq)]
pub struct MealClass {
    /// Up to and with this mass; none in the last class.
    pub up_to: Option<Grams>,
    /// Kind and size of prey.
    pub prey: String,
    /// Days between meals.
    pub every_days: u32,
}

/// How the room feeds where an animal's own meals do not tell.
#[derive(Clone, Debug, PartialEq)]
pub struct Feeding {
    classes: Vec<MealClass>,
    /// Days between meals of an animal younger than a year.
    pub young_every: u32,
    /// Refusals in a row without an ordinary reason from which they are looked into. Our choice.
    pub refusals: u32,
    /// Size from which most females stop eating, mm (common practice, no source: 20-25).
    pub off_food_from: f64,
    /// Share of the weight lost while fasting that is looked into. Our choice.
    pub loss: f64,
}

/// Common practice, no source: hatchlings weekly, grown animals every 10 to 14 days; prey of about
/// 10-15 % of the weight while growing and 5-10 % later. The classes are our choice within that.
const MEALS: &str = "150 = rat fuzzy 7, 350 = rat pup 7, 700 = weaned rat 10, \
    1500 = small rat 12, more = medium rat 14";

impl Feeding {
    /// As the keeper set it. A value that cannot be read leaves the default.
    #[must_use]
    pub fn of(colony: &Colony) -> Self {
        let classes =
            colony.setting("meals_by_weight").and_then(classes).or_else(|| classes(MEALS));
        let number = |name: &str| colony.setting(name).and_then(|t| whole(t.trim()));
        let share = |name: &str| colony.setting(name).and_then(|t| percent(t.trim()));
        let mm = colony.setting("off_food_from");
        let mm = mm.and_then(|t| t.trim().trim_end_matches("mm").trim().parse::<f64>().ok());
        Self {
            classes: classes.unwrap_or_default(),
            young_every: number("young_fed_every").filter(|n| *n > 0).unwrap_or(7),
            refusals: number("refusals_looked_into").filter(|n| *n > 0).unwrap_or(3),
            off_food_from: mm.filter(|mm| (1.0..=60.0).contains(mm)).unwrap_or(20.0),
            loss: share("fasting_loss_looked_into").map_or(0.1, Probability::get),
        }
    }

    /// The class of that mass; of none the first.
    #[must_use]
    pub fn class_of(&self, mass: Option<Grams>) -> MealClass {
        let fits = |c: &&MealClass| match (mass, c.up_to) {
            (Some(mass), Some(most)) => mass <= most,
            _ => true,
        };
        let class = self.classes.iter().find(fits).or(self.classes.last());
        class.cloned().unwrap_or(MealClass { up_to: None, prey: "rat".into(), every_days: 10 })
    }
}

/// Reads `150 = rat fuzzy 7, more = medium rat 14`; every class must be readable, heavier ones
/// later and `more` last.
fn classes(text: &str) -> Option<Vec<MealClass>> {
    let class = |part: &str| {
        let (up_to, meal) = part.split_once('=')?;
        let up_to = up_to.trim().to_lowercase();
        let up_to = if up_to == "more" { None } else { Some(grams(&up_to)?) };
        let (prey, days) = meal.trim().rsplit_once(' ')?;
        let every_days = whole(days).filter(|days| (1..=90).contains(days))?;
        let prey = prey.trim().to_owned();
        (!prey.is_empty()).then_some(MealClass { up_to, prey, every_days })
    };
    let all: Vec<MealClass> = text.split(',').map(class).collect::<Option<_>>()?;
    let heavier = |two: &[MealClass]| match (two[0].up_to, two[1].up_to) {
        (Some(a), Some(b)) => a < b,
        (Some(_), None) => true,
        (None, _) => false,
    };
    all.windows(2).all(heavier).then_some(all)
}
