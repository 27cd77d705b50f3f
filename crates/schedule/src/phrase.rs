//! The sentence beside every advice, made from its facts and nothing else.

use units::Grams;

use crate::fact::{Fact, Subject, Value};
use crate::room::Choice;
use crate::rule::Rule;

/// How the caller names things.
pub struct Wording<'a> {
    /// A male's code or name.
    pub male: &'a dyn Fn(usize) -> String,
    /// A female's code or name.
    pub female: &'a dyn Fn(usize) -> String,
    /// A mass with its unit, as the keeper reads it.
    pub mass: &'a dyn Fn(Grams) -> String,
    /// The mating size of a band with its unit.
    pub size: &'a dyn Fn(usize) -> String,
    /// The night that many nights from tonight, as read aloud ("Thursday").
    pub night: &'a dyn Fn(u32) -> String,
}

impl Wording<'_> {
    fn animal(&self, about: Subject) -> String {
        match about {
            Subject::Male(i) | Subject::Pair { male: i, .. } => (self.male)(i),
            Subject::Female(j) => (self.female)(j),
        }
    }

    fn value(&self, value: Value) -> String {
        match value {
            Value::Holds => "yes".to_owned(),
            Value::Unknown => "not known".to_owned(),
            Value::Mass(mass) => (self.mass)(mass),
            Value::Share(share) => share.to_string(),
            Value::Days(n) => count(n, "day"),
            Value::Nights(n) | Value::NightsOf { nights: n, .. } => count(n, "night"),
            Value::Worth(w) | Value::Plan { weight: w, .. } => format!("{w:.2}"),
        }
    }
}

/// The sentence that the facts make, in their order.
///
/// A rule that is kept goes without saying; an old weight is named. Empty when the facts say
/// nothing worth reading.
#[must_use]
pub fn sentence(facts: &[Fact], wording: &Wording<'_>) -> String {
    let mut text = String::new();
    for clause in facts.iter().filter_map(|fact| clause(fact, wording)) {
        if !text.is_empty() {
            text.push_str("; ");
        }
        text.push_str(&clause);
    }
    let mut letters = text.chars();
    match letters.next() {
        // A code keeps its case: only the engine's own words begin small.
        Some(first) if first.is_lowercase() && !begins_with_a_name(facts) => {
            first.to_uppercase().chain(letters).chain(['.']).collect()
        }
        Some(_) => text + ".",
        None => text,
    }
}

fn begins_with_a_name(facts: &[Fact]) -> bool {
    !matches!(
        facts.first().map(|f| f.rule),
        Some(
            Rule::PlannedPair
                | Rule::NoPlannedPair
                | Rule::NoMaleFits
                | Rule::MatingWanted
                | Rule::UncheckedTurn
        )
    )
}

fn clause(fact: &Fact, wording: &Wording<'_>) -> Option<String> {
    match fact.rule.bound() {
        crate::rule::Bound::Told => told(fact, wording),
        _ if fact.is_met() => kept(fact, wording),
        _ => broken(fact, wording),
    }
}

/// What is worth saying of a rule that is kept.
fn kept(fact: &Fact, w: &Wording<'_>) -> Option<String> {
    let who = w.animal(fact.about);
    Some(match (fact.rule, fact.about) {
        (Rule::UncheckedTurn, _) => match fact.value {
            Value::Nights(n) => {
                format!("no check yet, last placed {} ago", count(n, "night"))
            }
            _ => "no check yet and not placed this season".to_owned(),
        },
        (Rule::InShed, _) => format!(
            "{who} is in shed, but with {} to outgrow the size meanwhile another night may be too late",
            w.value(fact.value)
        ),
        (Rule::WorthMore, Subject::Pair { male, female }) => format!(
            "{} is worth {} at {} ({} against {})",
            (w.male)(male),
            if fact.value == fact.limit? { "as much" } else { "more" },
            (w.female)(female),
            w.value(fact.value),
            w.value(fact.limit?)
        ),
        (Rule::FemaleWeight | Rule::MaleWeight, _) if fact.value == Value::Unknown => {
            format!("{who} was never weighed")
        }
        _ => return None,
    })
}

/// A rule that keeps an animal where it is.
fn broken(fact: &Fact, w: &Wording<'_>) -> Option<String> {
    let who = w.animal(fact.about);
    let value = w.value(fact.value);
    let limit = fact.limit.map(|l| w.value(l)).unwrap_or_default();
    Some(match (fact.rule, fact.about) {
        (Rule::FemaleWeight | Rule::MaleWeight, _) => match fact.value {
            Value::Mass(_) => format!("{who} weighs {value}, under {limit}"),
            _ => format!("{who} was never weighed, and {limit} is the least"),
        },
        (Rule::MaleLoss, _) => format!(
            "{who} is down {} since the season opened, more than {limit}",
            finer(fact.value)
        ),
        (Rule::InBlue, _) => format!("{who} is in blue"),
        (Rule::NightsPlaced, _) => match fact.value {
            Value::NightsOf { nights, window } => {
                format!("{who} was placed on {nights} of the last {window} nights")
            }
            _ => format!("{who} was placed on {value}"),
        },
        (Rule::RestAfterLock, _) => {
            format!("{who} locked {value} ago and rests {limit}")
        }
        (Rule::Ovulated, _) => format!("{who} has ovulated"),
        (Rule::Resorbing, _) => format!("{who} is resorbing ({})", finer(fact.value)),
        (Rule::LaidThisSeason, _) => format!("{who} has laid this season"),
        (Rule::Treatment, _) => format!("{who} is under treatment"),
        (Rule::Quarantine, _) => format!("{who} is in quarantine"),
        (Rule::NotInHouse, _) => format!("{who} is not in the house"),
        (Rule::InShed, _) => {
            format!("{who} is in shed and another night will do ({value} to outgrow the size)")
        }
        (Rule::RuledOut, Subject::Pair { male, female }) => {
            format!("{} with {} is ruled out", (w.male)(male), (w.female)(female))
        }
        (Rule::NoPlannedPair, _) => format!("no planned pair names {who}"),
        (Rule::NoMaleFits, _) => format!("no male carries the gene planned for {who}"),
        (Rule::MatingWanted, _) => format!("no mating is wanted of {who} tonight ({value})"),
        (Rule::UncheckedTurn, _) => {
            format!("no check yet, last placed {value} ago, and she goes every {limit}")
        }
        (Rule::Worth, Subject::Pair { male, female }) => {
            format!("the plan gives {} with {} no worth", (w.male)(male), (w.female)(female))
        }
        _ => return None,
    })
}

/// A measure told for its own sake.
fn told(fact: &Fact, w: &Wording<'_>) -> Option<String> {
    let who = w.animal(fact.about);
    let value = w.value(fact.value);
    let share = fact.value.number().unwrap_or(0.0);
    Some(match (fact.rule, fact.about) {
        (Rule::PlannedPair, Subject::Pair { male, female }) => {
            let choice = match fact.value {
                Value::Plan { choice: Choice::Second, .. } => "second",
                _ => "first",
            };
            format!("{choice} choice for {} is {}", (w.female)(female), (w.male)(male))
        }
        (Rule::PlacedTonight, Subject::Pair { male, female }) => {
            format!("{} is placed with {} tonight", (w.male)(male), (w.female)(female))
        }
        (Rule::LeftTogether, Subject::Pair { male, female }) => {
            let (male, female) = ((w.male)(male), (w.female)(female));
            format!("{male} has been with {female} for {value}: leave him there")
        }
        (Rule::WantedIn(k), _) => format!("{value} that a mating at {} is wanted", (w.size)(k)),
        (Rule::MatedIn(k), _) if share >= 0.05 => format!("{value} mated at {}", (w.size)(k)),
        (Rule::Closing, _) if share >= 0.05 => {
            format!("{value} that she outgrows it before he is free again")
        }
        (Rule::LockRate, _) => format!("{who} locks on {value} of his nights"),
        (Rule::Suggestion, _) => {
            format!("{who} is free and locks on {value} of his nights: plan the pair if it suits")
        }
        (Rule::CheckDue, _) => "a follicle check is due".to_owned(),
        (Rule::FreeAgain, _) => match fact.value {
            Value::Nights(n) => format!("{who} is free again {}", (w.night)(n)),
            _ => return None,
        },
        (Rule::WeightAge, _) => format!("the weight of {who} is {value} old"),
        (Rule::StillLocked, Subject::Pair { male, female }) => {
            format!("{} and {} are still locked", (w.male)(male), (w.female)(female))
        }
        (Rule::DatePassed, _) => format!("the latest day expected passed {value} ago"),
        (Rule::CallVet, _) => "call a reptile vet".to_owned(),
        (Rule::LastCheck, _) => match fact.value {
            Value::Days(_) => {
                let every = fact.limit.map(|l| w.value(l)).unwrap_or_default();
                format!("last check {value} ago, one every {every}")
            }
            _ => "no follicle check yet".to_owned(),
        },
        (Rule::OverLastSize, _) => format!("{value} that she is over {}", (w.size)(3)),
        (Rule::Matings, _) => format!("mated at about {share:.1} sizes"),
        (Rule::NightsTogether, Subject::Pair { male, female }) => {
            format!("{} has been with {} for {value}", (w.male)(male), (w.female)(female))
        }
        (Rule::NeverWeighed, _) => format!("{who} was never weighed"),
        _ => return None,
    })
}

/// Percent with a decimal, so that 12.4 % never reads as "12 %, more than 12 %".
fn finer(value: Value) -> String {
    value.number().map_or_else(String::new, |share| {
        let tenths = (share * 1000.0).round();
        if tenths % 10.0 == 0.0 && (share * 1000.0 - tenths).abs() < 1e-9 {
            format!("{:.0} %", share * 100.0)
        } else {
            // Rounded up: the value lies above its limit and must not print as the limit.
            format!("{:.1} %", (share * 1000.0).ceil() / 10.0)
        }
    })
}

fn count(n: u32, noun: &str) -> String {
    if n == 1 { format!("1 {noun}") } else { format!("{n} {noun}s") }
}
