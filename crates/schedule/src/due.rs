//! What is due by the calendar: checks, warmth, dates gone by, males to take out, weights.
//!
//! Days and nights are counted from today; the caller turns them into dates.

use units::Probability;

use crate::bars::stale;
use crate::fact::{Fact, Subject, Value};
use crate::plan::{Move, Plan};
use crate::room::{ByBand, Room, Stay, StayState};
use crate::rule::Rule;
use crate::rules::Rules;

/// Intervals and thresholds of the due lists. All are our own choice unless said.
#[derive(Clone, Debug, PartialEq)]
pub struct DueRules {
    /// Days between checks while the cycle rests. Default 28.
    pub check_resting: u32,
    /// Days between checks while follicles grow. Default 14: a band is 7-10 mm wide and growth is
    /// 1-3 mm a week (common practice, no source), so no band goes by between two checks.
    pub check_growing: u32,
    /// Days between checks in a stall or while she may resorb. Default 21.
    pub check_stalled: u32,
    /// Days between checks from the last band on. Default 7.
    pub check_last_band: u32,
    /// She is to be warmed up when over the last mating size with this chance. Default .5.
    pub warm_from: Probability,
    /// ... and mated at this many sizes ("several matings", common practice, no source). Default 2.
    pub warm_matings: f64,
    /// Days past the latest laying date from which a vet is to be called. Default 14.
    pub vet_after: u32,
    /// A copulation lasts up to three days (common practice, no source): a lock that has stood for
    /// more nights than this is to be looked at. Default 3.
    pub longest_lock: u32,
}

impl Default for DueRules {
    fn default() -> Self {
        Self {
            check_resting: 28,
            check_growing: 14,
            check_stalled: 21,
            check_last_band: 7,
            warm_from: Probability::clamped(0.5),
            warm_matings: 2.0,
            vet_after: 14,
            longest_lock: 3,
        }
    }
}

impl DueRules {
    /// Days from one check to the next; none where no interval runs.
    #[must_use]
    pub const fn check_every(&self, cycle: Cycle) -> Option<u32> {
        match cycle {
            Cycle::Closed | Cycle::Unchecked => None,
            Cycle::Resting => Some(self.check_resting),
            Cycle::Growing => Some(self.check_growing),
            Cycle::LastBand => Some(self.check_last_band),
            Cycle::Stalled => Some(self.check_stalled),
        }
    }
}

/// Something that is due.
#[derive(Clone, Debug, PartialEq)]
pub struct Due {
    /// What is to be done.
    pub what: What,
    /// To whom.
    pub about: Subject,
    /// The day it fell due, in days from today (0 or negative); `None` when no date tells.
    pub since: Option<i32>,
    /// The day by which it should be done, in days from today.
    pub by: i32,
    /// Why.
    pub facts: Vec<Fact>,
}

/// The kinds of things that fall due.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum What {
    /// Check her follicles.
    FollicleCheck,
    /// Back to full warmth.
    WarmUp,
    /// An event that was expected and has not been recorded.
    Overdue(Event),
    /// Take the male out.
    TakeOut,
    /// Weigh.
    Weigh,
}

/// An event with a forecast date.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Event {
    /// Ovulation.
    Ovulation,
    /// Pre-lay shed.
    PreLayShed,
    /// Laying.
    Laying,
    /// Hatching.
    Hatching,
}

/// Where a female's cycle stands, as far as checks go.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Cycle {
    /// No check in this cycle.
    Unchecked,
    /// Not begun.
    Resting,
    /// Growing, below the last band.
    Growing,
    /// Growing, in the last band.
    LastBand,
    /// Stalled, or perhaps resorbing.
    Stalled,
    /// Ovulated, laid or resorbed: nothing to check.
    Closed,
}

/// Whether a follicle check of female `j` is due, `last` days after her last one; `here` days after
/// she came in, or this season opened, where there is none.
///
/// It falls due on the day the interval is full; the day after is late.
#[must_use]
pub fn follicle_check(
    j: usize,
    cycle: Cycle,
    last: Option<u32>,
    here: Option<u32>,
    rules: &DueRules,
) -> Option<Due> {
    let about = Subject::Female(j);
    if cycle == Cycle::Closed {
        return None;
    }
    let (Some(every), Some(last)) = (rules.check_every(cycle), last) else {
        let fact = Fact::told(Rule::LastCheck, about, Value::Unknown);
        return Some(Due::never_done(What::FollicleCheck, about, here, fact));
    };
    let since = signed(every) - signed(last);
    let fact = Fact::against(Rule::LastCheck, about, Value::Days(last), Value::Days(every));
    let due =
        Due { what: What::FollicleCheck, about, since: Some(since), by: since, facts: vec![fact] };
    (since <= 0).then_some(due)
}

impl Due {
    /// What was never done fell due when there was first somebody to do it to.
    fn never_done(what: What, about: Subject, here: Option<u32>, fact: Fact) -> Self {
        let since = here.map(|days| -signed(days));
        Self { what, about, since, by: since.unwrap_or(0), facts: vec![fact] }
    }
}

/// Whether female `j` is to be warmed up: over the last mating size, with several matings.
///
/// `mated` is the chance that she was mated in each band; their sum is the expected number of
/// sizes at which she was. The caller leaves out who is warmed already or has ovulated.
#[must_use]
pub fn warm_up(
    j: usize,
    over_last_size: Probability,
    mated: &ByBand<Probability>,
    rules: &DueRules,
) -> Option<Due> {
    let about = Subject::Female(j);
    let matings: f64 = mated.iter().map(|m| m.get()).sum();
    if over_last_size < rules.warm_from || matings < rules.warm_matings {
        return None;
    }
    let facts = vec![
        Fact::against(
            Rule::OverLastSize,
            about,
            Value::Share(over_last_size),
            Value::Share(rules.warm_from),
        ),
        Fact::against(
            Rule::Matings,
            about,
            Value::Worth(matings),
            Value::Worth(rules.warm_matings),
        ),
    ];
    Some(Due { what: What::WarmUp, about, since: None, by: 0, facts })
}

/// Whether an expected event of female `j` is overdue: its latest day, in days from today, passed.
#[must_use]
pub fn overdue(j: usize, event: Event, latest: i32, rules: &DueRules) -> Option<Due> {
    if latest >= 0 {
        return None;
    }
    let about = Subject::Female(j);
    let late = latest.unsigned_abs();
    let mut facts = vec![Fact::told(Rule::DatePassed, about, Value::Days(late))];
    if event == Event::Laying && late >= rules.vet_after {
        let limit = Value::Days(rules.vet_after);
        facts.push(Fact::against(Rule::CallVet, about, Value::Days(late), limit));
    }
    Some(Due { what: What::Overdue(event), about, since: Some(latest + 1), by: latest, facts })
}

/// Whether a male is to be taken out tonight: the plan leaves him with nobody, or a lock has stood
/// for longer than a copulation lasts.
///
/// A pair that the plan lets stay, or of which he goes elsewhere, needs no such word.
#[must_use]
pub fn take_out(stay: &Stay, plan: &Plan, rules: &DueRules) -> Option<Due> {
    let is_pair = |m: &&Move| (m.male, m.female) == (stay.male, stay.female);
    let about = Subject::Pair { male: stay.male, female: stay.female };
    if let Some(out) = plan.coming_out.iter().find(is_pair) {
        let facts = out.facts.clone();
        return Some(Due { what: What::TakeOut, about, since: Some(0), by: 0, facts });
    }
    plan.left_alone.iter().find(is_pair)?;
    let StayState::StillLocked { nights } = stay.state else { return None };
    if nights <= rules.longest_lock {
        return None;
    }
    let limit = Value::Nights(rules.longest_lock);
    let facts = vec![
        Fact::against(Rule::NightsTogether, about, Value::Nights(nights), limit),
        Fact::told(Rule::StillLocked, about, Value::Nights(nights)),
    ];
    let since = signed(rules.longest_lock.saturating_add(1)) - signed(nights);
    Some(Due { what: What::TakeOut, about, since: Some(since), by: since, facts })
}

/// Everybody in the house whose weight is missing or older than the setting.
///
/// `here` tells how many days ago an animal came in, or this season opened.
#[must_use]
pub fn weighing_list(
    room: &Room,
    rules: &Rules,
    here: impl Fn(Subject) -> Option<u32>,
) -> Vec<Due> {
    let males = room.males.iter().map(|m| &m.keeping).enumerate();
    let females = room.females.iter().map(|f| &f.keeping).enumerate();
    males
        .map(|(i, k)| (Subject::Male(i), k))
        .chain(females.map(|(j, k)| (Subject::Female(j), k)))
        .filter(|(_, k)| k.in_house)
        .filter_map(|(about, k)| {
            let Some(weighing) = k.weight else {
                let fact = Fact::told(Rule::NeverWeighed, about, Value::Unknown);
                return Some(Due::never_done(What::Weigh, about, here(about), fact));
            };
            let fact = stale(about, k, rules)?;
            let since = signed(rules.weight_stale_after) - signed(weighing.age_days);
            let facts = vec![fact];
            Some(Due { what: What::Weigh, about, since: Some(since), by: since, facts })
        })
        .collect()
}

fn signed(n: u32) -> i32 {
    i32::try_from(n).unwrap_or(i32::MAX)
}
