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
    /// The sizes a band reaches over, with their unit ("27 to 36 mm").
    pub band: &'a dyn Fn(usize) -> String,
    /// The night that many nights from tonight, as read aloud ("Thursday").
    pub night: &'a dyn Fn(u32) -> String,
}

impl Wording<'_> {
    fn value(&self, value: Value) -> String {
        match value {
            Value::Holds => "yes".to_owned(),
            Value::Unknown => "not known".to_owned(),
            Value::Mass(mass) => (self.mass)(mass),
            Value::Share(share) => share.to_string(),
            Value::Days(n) => days(n),
            Value::Nights(n) | Value::NightsOf { nights: n, .. } => count(n, "night"),
            Value::Worth(w) | Value::Plan { weight: w, .. } => format!("{w:.2}"),
        }
    }
}

/// The sentence that the facts make beside what they are about.
///
/// The animal or pair that it stands beside is "she" and "he"; all others are named. Of a move what
/// is wanted comes first; else the order of the facts holds, headline first. A rule that is kept
/// goes without saying; an old weight is named. Empty when the facts say nothing worth reading.
#[must_use]
pub fn sentence(facts: &[Fact], beside: Subject, wording: &Wording<'_>) -> String {
    let mut facts: Vec<&Fact> = facts.iter().collect();
    if matches!(beside, Subject::Pair { .. }) {
        facts.sort_by_key(|fact| rank(fact.rule));
    }
    drop_repeated(&mut facts, beside);
    let speaker = Speaker { wording, beside };
    let clauses: Vec<String> = facts.into_iter().filter_map(|fact| speaker.clause(fact)).collect();
    let Some(first) = clauses.first() else { return String::new() };
    // A code keeps its case: only the engine's own words begin large.
    if OWN_WORDS.iter().any(|word| first.starts_with(word)) {
        let text = clauses.join("; ");
        let mut letters = text.chars();
        let large = letters.next().into_iter().flat_map(char::to_uppercase);
        return large.chain(letters).chain(['.']).collect();
    }
    clauses.join("; ") + "."
}

/// The words with which a clause of ours can begin.
const OWN_WORDS: &[&str] = &[
    "a mating ",
    "call ",
    "first choice ",
    "he ",
    "her ",
    "his ",
    "last check ",
    "mated ",
    "no ",
    "second choice ",
    "she ",
    "the ",
    "they ",
];

/// What a keeper wants to read first of a move.
const fn rank(rule: Rule) -> u8 {
    match rule {
        Rule::StillLocked | Rule::LeftTogether | Rule::PlacedTonight | Rule::NightsTogether => 0,
        Rule::WantedIn(_) | Rule::UncheckedTurn => 1,
        Rule::MatedIn(_) => 2,
        Rule::Closing => 3,
        Rule::PlannedPair => 4,
        Rule::LockRate => 5,
        _ => 6,
    }
}

/// That no mating is wanted says it for every band: the likeliest band is only told beside it where
/// it reads otherwise, and never of a pair, where it would read as wanted.
fn drop_repeated(facts: &mut Vec<&Fact>, beside: Subject) {
    let any = facts.iter().find(|f| f.rule == Rule::MatingWanted && !f.is_met()).copied();
    let reads = |value: Value| match value {
        Value::Share(share) => share.to_string(),
        _ => String::new(),
    };
    let Some(any) = any else { return };
    let is_pair = matches!(beside, Subject::Pair { .. });
    let adds = |f: &Fact| !is_pair && reads(f.value) != reads(any.value);
    facts.retain(|f| !matches!(f.rule, Rule::WantedIn(_)) || adds(f));
}

/// Speaks of one animal or pair as "she" and "he".
struct Speaker<'a> {
    wording: &'a Wording<'a>,
    beside: Subject,
}

impl Speaker<'_> {
    const fn is_he(&self, i: usize) -> bool {
        matches!(self.beside, Subject::Male(m) | Subject::Pair { male: m, .. } if m == i)
    }

    const fn is_she(&self, j: usize) -> bool {
        matches!(self.beside, Subject::Female(f) | Subject::Pair { female: f, .. } if f == j)
    }

    fn he(&self, i: usize) -> String {
        if self.is_he(i) { "he".to_owned() } else { (self.wording.male)(i) }
    }

    fn him(&self, i: usize) -> String {
        if self.is_he(i) { "him".to_owned() } else { (self.wording.male)(i) }
    }

    fn her(&self, j: usize) -> String {
        if self.is_she(j) { "her".to_owned() } else { (self.wording.female)(j) }
    }

    fn who(&self, about: Subject) -> String {
        match about {
            Subject::Male(i) | Subject::Pair { male: i, .. } => self.he(i),
            Subject::Female(j) if self.is_she(j) => "she".to_owned(),
            Subject::Female(j) => (self.wording.female)(j),
        }
    }

    fn whose(&self, about: Subject) -> &'static str {
        match about {
            Subject::Male(i) | Subject::Pair { male: i, .. } if self.is_he(i) => "his",
            Subject::Female(j) if self.is_she(j) => "her",
            _ => "the",
        }
    }

    fn value(&self, value: Value) -> String {
        self.wording.value(value)
    }

    fn clause(&self, fact: &Fact) -> Option<String> {
        match fact.rule.bound() {
            crate::rule::Bound::Told => self.told(fact),
            _ if fact.is_met() => self.kept(fact),
            _ => self.broken(fact),
        }
    }

    /// What is worth saying of a rule that is kept.
    fn kept(&self, fact: &Fact) -> Option<String> {
        let who = self.who(fact.about);
        Some(match (fact.rule, fact.about) {
            (Rule::UncheckedTurn, _) => match fact.value {
                Value::Nights(n) if n <= LONG_AGO => {
                    format!("no check yet, last placed {} ago", count(n, "night"))
                }
                Value::Nights(_) => "no check yet and not placed for four months".to_owned(),
                _ => "no check yet and not placed this season".to_owned(),
            },
            (Rule::InShed, _) => format!(
                "{who} is in shed, but with {} to outgrow the size meanwhile another night may be \
                 too late",
                self.value(fact.value)
            ),
            (Rule::WorthMore, Subject::Pair { male, female }) => format!(
                "{} does {} good at {} tonight ({} against {})",
                self.he(male),
                // As it is read: 0.17 is not more than 0.17.
                if self.value(fact.value) == self.value(fact.limit?) { "as much" } else { "more" },
                self.her(female),
                self.value(fact.value),
                self.value(fact.limit?)
            ),
            (Rule::FemaleWeight | Rule::MaleWeight, _) if fact.value == Value::Unknown => {
                format!("{who} was never weighed")
            }
            _ => return None,
        })
    }

    /// A rule that keeps an animal where it is.
    fn broken(&self, fact: &Fact) -> Option<String> {
        let who = self.who(fact.about);
        let value = self.value(fact.value);
        let limit = fact.limit.map(|l| self.value(l)).unwrap_or_default();
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
                format!("{} with {} is ruled out", self.him(male), self.her(female))
            }
            (Rule::NoPlannedPair, Subject::Female(j)) => {
                format!("no planned pair names {}", self.her(j))
            }
            (Rule::NoMaleFits, Subject::Female(j)) => {
                format!("no male carries the gene planned for {}", self.her(j))
            }
            (Rule::PairNotPlanned, Subject::Pair { male, female }) => {
                format!("{} is not planned for {}", self.he(male), self.her(female))
            }
            (Rule::MatingWanted, _) => {
                format!("a mating is wanted tonight with a chance of only {value}")
            }
            (Rule::UncheckedTurn, _) => {
                format!("no check yet, last placed {value} ago, and she goes every {limit}")
            }
            (Rule::Worth, Subject::Pair { male, female }) => {
                format!("the plan gives {} with {} no worth", self.him(male), self.her(female))
            }
            _ => return None,
        })
    }

    /// A measure told for its own sake.
    fn told(&self, fact: &Fact) -> Option<String> {
        let (who, value) = (self.who(fact.about), self.value(fact.value));
        let share = fact.value.number().unwrap_or(0.0);
        Some(match (fact.rule, fact.about) {
            (Rule::PlannedPair, Subject::Pair { male, female }) => {
                self.choice(fact.value, male, female)
            }
            (Rule::WantedIn(k), _) => self.wanted(k, fact.value),
            (Rule::MatedIn(k), _) if share >= 0.05 => {
                format!("{value} that she was mated at {}", (self.wording.size)(k))
            }
            (Rule::Closing, _) if share >= 0.05 => {
                format!("{value} that she outgrows it before he is free again")
            }
            (Rule::LockRate, _) => format!("{who} locks on {value} of his nights"),
            (Rule::Suggestion, _) => format!(
                "{who} is free and locks on {value} of his nights: plan the pair if it suits"
            ),
            (Rule::FreeAgain, _) => match fact.value {
                Value::Nights(n) => format!("{who} is free again {}", (self.wording.night)(n)),
                _ => return None,
            },
            (_, Subject::Pair { male, female }) => return self.of_stay(fact, male, female),
            _ => return self.of_due(fact),
        })
    }

    /// What is told of a male in a female's tub.
    fn of_stay(&self, fact: &Fact, male: usize, female: usize) -> Option<String> {
        let (he, her, value) = (self.he(male), self.her(female), self.value(fact.value));
        Some(match fact.rule {
            Rule::PlacedTonight => format!("{he} is placed with {her} tonight"),
            Rule::LeftTogether => {
                format!("{he} has been with {her} for {value}: leave him there")
            }
            Rule::StillLocked if self.is_he(male) && self.is_she(female) => {
                "they are still locked".to_owned()
            }
            Rule::StillLocked => format!("{he} and {her} are still locked"),
            Rule::NightsTogether => format!("{he} has been with {her} for {value}"),
            Rule::OtherMale => format!("{he} goes to {her} tonight"),
            _ => return None,
        })
    }

    /// What is told beside something due.
    fn of_due(&self, fact: &Fact) -> Option<String> {
        let (who, value) = (self.who(fact.about), self.value(fact.value));
        let share = fact.value.number().unwrap_or(0.0);
        Some(match fact.rule {
            Rule::CheckDue => "a follicle check is due".to_owned(),
            Rule::WeightAge => match self.whose(fact.about) {
                "the" => format!("the weight of {who} is {value} old"),
                whose => format!("{whose} weight is {value} old"),
            },
            Rule::DatePassed => format!("the latest day expected passed {value} ago"),
            Rule::CallVet => "call a reptile vet".to_owned(),
            Rule::LastCheck => match fact.value {
                Value::Days(_) => {
                    let every = fact.limit.map(|l| self.value(l)).unwrap_or_default();
                    format!("last check {value} ago, one every {every}")
                }
                _ => "no follicle check yet".to_owned(),
            },
            Rule::OverLastSize => format!("{value} that she is over {}", (self.wording.size)(3)),
            Rule::Matings => format!("she was mated at {} sizes already", roughly(share)),
            Rule::NeverWeighed => format!("{who} was never weighed"),
            _ => return None,
        })
    }

    fn choice(&self, value: Value, male: usize, female: usize) -> String {
        let choice = match value {
            Value::Plan { choice: Choice::Second, .. } => "second",
            _ => "first",
        };
        if self.is_he(male) && self.is_she(female) {
            format!("he is her {choice} choice")
        } else {
            format!("{choice} choice for {} is {}", self.her(female), self.him(male))
        }
    }

    /// Beside a move, what it is for; beside one that stays, how far from wanted it is.
    fn wanted(&self, k: usize, value: Value) -> String {
        let (size, band) = ((self.wording.size)(k), (self.wording.band)(k));
        let chance = self.value(value);
        if matches!(self.beside, Subject::Pair { .. }) {
            format!("a mating at {size} ({band}) is wanted ({chance})")
        } else {
            format!("{chance} that a mating at {size} ({band}) is wanted")
        }
    }
}

/// "about 2", "2 or 3": an expected number in words.
fn roughly(expected: f64) -> String {
    let (below, above) = (expected.floor(), expected.ceil());
    if (expected - expected.round()).abs() < 0.2 {
        format!("about {:.0}", expected.round())
    } else {
        format!("{below:.0} or {above:.0}")
    }
}

/// Nights after which a placement counts as none: a quiet cycle closes then (our choice).
const LONG_AGO: u32 = 120;

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

/// Days; beyond a year their number tells a keeper nothing.
fn days(n: u32) -> String {
    match n / 365 {
        0 => count(n, "day"),
        1 => "over a year".to_owned(),
        years => format!("over {years} years"),
    }
}

fn count(n: u32, noun: &str) -> String {
    if n == 1 { format!("1 {noun}") } else { format!("{n} {noun}s") }
}
