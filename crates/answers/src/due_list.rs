//! "What comes due, by date?" Everything dated in one list: what is late, what falls due today, what is
//! expected in the days to come, and when to call a vet.

mod ahead;
mod meals;

use records::{Colony, RecordId};
use units::{Day, Grams, Probability};

use crate::feeding_due::{FeedingDue, feeding_due};
use crate::room_forecasts::RoomForecasts;
use crate::tonight::{Asking, DueShown, Tonight, tonight};
use crate::vet_rules::{Severity, VetFlag, vet_rules};
use crate::who_next::{WhoNext, who_next};

/// What kind of thing comes due.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A rule says to call a vet.
    Vet,
    /// An event that was expected and has not been recorded.
    Overdue,
    /// Food refused in a way that is to be looked into.
    LookInto,
    /// A male comes out.
    TakeOut,
    /// Back to full warmth.
    WarmUp,
    /// A follicle check.
    Check,
    /// A weight.
    Weigh,
    /// A meal.
    Meal,
    /// An event is expected.
    Expected,
}

impl Kind {
    /// The word for it, as JSON says it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Vet => "vet",
            Self::Overdue => "overdue",
            Self::LookInto => "look into",
            Self::TakeOut => "take out",
            Self::WarmUp => "warm up",
            Self::Check => "follicle check",
            Self::Weigh => "weigh",
            Self::Meal => "meal",
            Self::Expected => "expected",
        }
    }
}

/// One thing that comes due.
#[derive(Clone, Debug, PartialEq)]
pub struct DueOn {
    /// Its kind.
    pub kind: Kind,
    /// What is to be done, or what is expected.
    pub what: String,
    /// Place of the animal in the colony.
    pub animal: usize,
    /// Place of the female in whose tub a male is that is to come out.
    pub with: Option<usize>,
    /// The day under which it stands: by which it should be done, or the first on which it is
    /// expected.
    pub day: Day,
    /// The last day on which it is expected, with the middle of the interval.
    pub until: Option<(Day, Day)>,
    /// The chance that it comes at all, where it may not.
    pub chance: Option<Probability>,
    /// How soon, of a rule to call a vet.
    pub severity: Option<Severity>,
    /// Where the rule comes from and its grade, of a rule to call a vet.
    pub source: Option<(&'static str, &'static str)>,
    /// Why.
    pub reason: String,
    /// The records it rests on.
    pub records: Vec<RecordId>,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct DueList {
    /// The day asked about.
    pub today: Day,
    /// Days looked ahead.
    pub days: u32,
    /// Everything, rules to call a vet first, then by date.
    pub all: Vec<DueOn>,
    /// Whose follicles to look at tonight to learn most, most for its minutes first.
    pub looks: Vec<WhoNext>,
}

impl DueOn {
    /// Whether the day by which it should be done lies behind.
    #[must_use]
    pub fn is_late(&self, today: Day) -> bool {
        self.kind != Kind::Vet && self.kind != Kind::Expected && self.day < today
    }
}

/// Everything that comes due up to so many days from the day the colony stands at.
#[must_use]
pub fn due_list(
    colony: &Colony,
    forecasts: &RoomForecasts,
    asking: &Asking<'_>,
    days: u32,
) -> DueList {
    let tonight = tonight(colony, forecasts, asking);
    let feeding = feeding_due(colony, &tonight);
    due_from(colony, (&tonight, &feeding), asking.mass, days)
}

/// The same, where tonight and the meals are worked out already.
#[must_use]
pub fn due_from(
    colony: &Colony,
    (tonight, feeding): (&Tonight, &FeedingDue),
    mass: &dyn Fn(Grams) -> String,
    days: u32,
) -> DueList {
    let today = colony.as_of.day;
    let until = today + i32::try_from(days).unwrap_or(i32::MAX / 4);
    let flags = vet_rules(colony, (tonight, feeding), mass);
    let mut all: Vec<DueOn> = flags.iter().map(of_flag).collect();
    // What a rule to call a vet tells more of is not told twice.
    let is_told = |d: &&DueShown| {
        let same = |f: &&VetFlag| f.animal == d.animal && f.rule.key.replace('_', " ") == d.what;
        flags.iter().any(|f| same(&f))
    };
    all.extend(tonight.due.iter().filter(|d| !is_told(d)).map(of_tonight));
    all.extend(ahead::checks(colony, tonight, until));
    all.extend(ahead::weights(colony, tonight, until));
    all.extend(ahead::unwritten(colony, tonight));
    all.extend(ahead::events(colony, tonight, until));
    all.extend(meals::meals(feeding, until));
    all.sort_by_cached_key(|d| {
        (d.severity.is_none(), d.severity, d.day, d.kind, colony.code(d.animal).to_owned())
    });
    DueList { today, days, all, looks: who_next(colony, &tonight.females) }
}

fn of_flag(flag: &VetFlag) -> DueOn {
    DueOn {
        kind: Kind::Vet,
        what: flag.rule.key.replace('_', " "),
        animal: flag.animal,
        with: None,
        day: flag.since,
        until: None,
        chance: None,
        severity: Some(flag.severity),
        source: Some((flag.rule.source, flag.rule.grade)),
        reason: format!("{}. Rule: {}. {}", flag.seen, flag.rule.says, flag.advice),
        records: flag.records.clone(),
    }
}

fn of_tonight(due: &DueShown) -> DueOn {
    let kind = match due.what {
        "follicle check" => Kind::Check,
        "warm up" => Kind::WarmUp,
        "take out" => Kind::TakeOut,
        "weigh" => Kind::Weigh,
        _ => Kind::Overdue,
    };
    DueOn {
        kind,
        what: due.what.to_owned(),
        animal: due.animal,
        with: due.with,
        day: due.by,
        until: None,
        chance: None,
        severity: None,
        source: None,
        reason: due.reason.clone(),
        records: due.records.clone(),
    }
}

/// With a large first letter.
fn large(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(letters).collect()
}
