//! How the room feeds where an animal's own meals do not tell.

use records::Colony;
use units::{Grams, Probability};

use super::{form, in_force};

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
    pub(super) classes: Vec<MealClass>,
    /// Days between meals of an animal younger than a year.
    pub young_every: u32,
    /// Refusals in a row without an ordinary reason from which they are looked into. Our choice.
    pub refusals: u32,
    /// Size from which most females stop eating, mm (common practice, no source: 20-25).
    pub off_food_from: f64,
    /// Share of the weight lost while fasting that is looked into. Our choice.
    pub loss: Probability,
    /// A female that took more feeders than this since she laid is held likelier to lay again
    /// (common practice, no source: 20 rats).
    pub repeat_over: u32,
}

/// Common practice, no source: hatchlings weekly, grown animals every 10 to 14 days; prey of about
/// 10-15 % of the weight while growing and 5-10 % later. The classes are our choice within that.
const MEALS: &str = "150 = rat fuzzy 7, 350 = rat pup 7, 700 = weaned rat 10, \
    1500 = small rat 12, more = medium rat 14";

impl Default for Feeding {
    fn default() -> Self {
        Self {
            classes: classes(MEALS).unwrap_or_default(),
            young_every: 7,
            refusals: 3,
            off_food_from: 20.0,
            loss: Probability::clamped(0.1),
            repeat_over: 20,
        }
    }
}

impl Feeding {
    /// As the keeper set it. A value that cannot be read leaves the default.
    #[must_use]
    pub fn of(colony: &Colony) -> Self {
        in_force(colony).feeding
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
pub(super) fn classes(text: &str) -> Option<Vec<MealClass>> {
    let class = |part: &str| {
        let (up_to, meal) = part.split_once('=')?;
        let up_to = up_to.trim().to_lowercase();
        let up_to = if up_to == "more" { None } else { Some(form::grams(&up_to)?) };
        let (prey, days) = meal.trim().rsplit_once(' ')?;
        let every_days = form::whole(days).filter(|days| (1..=90).contains(days))?;
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

/// The classes as they are written.
pub(super) fn told(classes: &[MealClass]) -> String {
    let one = |c: &MealClass| {
        let up_to = c.up_to.map_or_else(|| "more".to_owned(), |most| most.to_string());
        format!("{up_to} = {} {}", c.prey, c.every_days)
    };
    classes.iter().map(one).collect::<Vec<_>>().join(", ")
}
