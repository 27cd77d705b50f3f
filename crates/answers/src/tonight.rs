//! "Who goes where tonight?"

mod facts;
mod room;

use records::{Animal, Colony, RecordId};
use schedule::due::What;
use schedule::{Fact, Rule, Subject, Why, Wording, sentence};
use units::{Day, Grams, Night, Probability};

use crate::due_soon::{due_soon, subject, words};
use crate::follicles::{FemaleStanding, follicles};
use crate::room_forecasts::RoomForecasts;
use crate::settings::rules;

pub use room::Carries;
pub(crate) use room::{Cast, in_blue, takes_part};

/// A chance from which it is not told that a male carries what he is wanted for; our own choice.
const CERTAIN: f64 = 0.995;

/// One measured thing, with the records it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct FactShown {
    /// A short fixed name.
    pub rule: &'static str,
    /// The value found, in its own unit: g, share 0..=1, days, nights, worth. None: it holds, or
    /// is not known.
    pub value: Option<f64>,
    /// The limit it was held against.
    pub limit: Option<f64>,
    /// The records.
    pub records: Vec<RecordId>,
}

/// A placement for tonight.
#[derive(Clone, Debug, PartialEq)]
pub struct MoveShown {
    /// Place of the male in the colony.
    pub male: usize,
    /// Place of the female.
    pub female: usize,
    /// Place of another female in whose tub he still is: the move starts there.
    pub from: Option<usize>,
    /// What it is worth; 0 for a standing placement no plan names.
    pub worth: f64,
    /// The sentence.
    pub reason: String,
    /// The facts the sentence was made from.
    pub facts: Vec<FactShown>,
}

/// A female that is not placed tonight.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOutShown {
    /// Her place in the colony.
    pub female: usize,
    /// The kind of reason.
    pub why: Why,
    /// Whether a mating is wanted.
    pub in_need: bool,
    /// The sentence.
    pub reason: String,
    /// The facts the sentence was made from.
    pub facts: Vec<FactShown>,
}

/// Something due.
#[derive(Clone, Debug, PartialEq)]
pub struct DueShown {
    /// What is to be done.
    pub what: &'static str,
    /// Place of the animal in the colony.
    pub animal: usize,
    /// Place of the female in whose tub a male is that is to come out.
    pub with: Option<usize>,
    /// The day it fell due.
    pub since: Option<Day>,
    /// The day by which it should be done.
    pub by: Day,
    /// The sentence.
    pub reason: String,
    /// The records it rests on.
    pub records: Vec<RecordId>,
}

impl DueShown {
    /// Whether the day by which it should be done lies behind.
    #[must_use]
    pub fn is_late(&self, today: Day) -> bool {
        self.by < today
    }
}

/// The answer.
#[derive(Clone, Debug)]
pub struct Tonight {
    /// The night.
    pub night: Night,
    /// Placements advised, in rack order of the males.
    pub moves: Vec<MoveShown>,
    /// Placements of this night that are made already.
    pub done: Vec<MoveShown>,
    /// Pairs still locked, left alone.
    pub left_alone: Vec<MoveShown>,
    /// Pairs together from an earlier night that are best left so.
    pub staying: Vec<MoveShown>,
    /// Pairs together from an earlier night of which he comes out; each stands in `due` too.
    pub coming_out: Vec<MoveShown>,
    /// Females left out, those in need first.
    pub left_out: Vec<LeftOutShown>,
    /// What is due, most pressing first.
    pub due: Vec<DueShown>,
    /// Where each female stands.
    pub females: Vec<FemaleStanding>,
}

/// How the plan is asked for.
pub struct Asking<'a> {
    /// Plan as if no placement had been made for this night yet.
    pub fresh: bool,
    /// The chance that a male carries what a planned pair asks for, in trade shorthand.
    pub carries: &'a Carries<'a>,
    /// How a mass reads in a sentence, with its unit.
    pub mass: &'a dyn Fn(Grams) -> String,
}

/// A mass as the command line and JSON say it.
#[must_use]
pub fn in_grams(mass: Grams) -> String {
    format!("{mass} g")
}

/// Plans the night that begins on the day the colony stands at.
#[must_use]
pub fn tonight(colony: &Colony, forecasts: &RoomForecasts, asking: &Asking<'_>) -> Tonight {
    let rules = rules(colony);
    let standings = follicles(colony, forecasts);
    let cast = room::cast(colony, &rules, &standings, asking);
    let plan = schedule::tonight(&cast.room, &rules);
    let say = Saying { colony, cast: &cast, rules: &rules, mass: asking.mass };
    let show = |m: &schedule::Move| say.placement(m);
    let mut moves: Vec<MoveShown> = plan.moves.iter().map(show).collect();
    moves.sort_by_key(|m| (tub(colony, m.from.unwrap_or(m.male)), colony.code(m.male).to_owned()));
    let mut left_out: Vec<LeftOutShown> = plan.left_out.iter().map(|l| say.omission(l)).collect();
    left_out.sort_by_key(|l| (!l.in_need, colony.code(l.female).to_owned()));
    let by_female: Vec<Option<&FemaleStanding>> =
        cast.females.iter().map(|place| standings.iter().find(|s| s.place == *place)).collect();
    let mut due: Vec<DueShown> = due_soon(colony, forecasts, (&cast, &plan), &rules, &by_female)
        .iter()
        .map(|d| say.due(d))
        .collect();
    due.sort_by_key(|d| (d.by, d.what, colony.code(d.animal).to_owned()));
    let long_locks = plan.left_alone.iter().map(show).filter_map(|m| looked_at(m, &due)).collect();
    let is_left = |m: &MoveShown| looked_at(m.clone(), &due).is_none();
    Tonight {
        night: Night::beginning(colony.as_of.day),
        moves,
        done: plan.done.iter().map(show).collect(),
        left_alone: plan.left_alone.iter().map(show).filter(is_left).collect(),
        staying: plan.staying.iter().map(show).collect(),
        coming_out: plan.coming_out.iter().map(show).chain::<Vec<_>>(long_locks).collect(),
        left_out,
        due,
        females: standings,
    }
}

/// A pair locked for longer than a copulation lasts, with the reason of what is due: it is not both
/// left alone and to be taken out.
fn looked_at(mut m: MoveShown, due: &[DueShown]) -> Option<MoveShown> {
    let out = words(What::TakeOut);
    let is_pair = |d: &&DueShown| (d.what, d.animal, d.with) == (out, m.male, Some(m.female));
    m.reason.clone_from(&due.iter().find(is_pair)?.reason);
    Some(m)
}

fn tub(colony: &Colony, place: usize) -> Option<String> {
    colony.animals[place].tub_on(colony.as_of.day).map(|t| t.as_str().to_owned())
}

/// A female that ovulated, laid or resorbs needs no male, whatever her size.
fn is_past_need(fact: &Fact) -> bool {
    let is_past = matches!(fact.rule, Rule::Ovulated | Rule::Resorbing | Rule::LaidThisSeason);
    is_past && !fact.is_met()
}

/// Code and name, as said aloud.
#[must_use]
pub fn called(animal: &Animal, day: Day) -> String {
    let code = animal.code_on(day);
    animal.name.as_ref().map_or_else(|| code.to_owned(), |name| format!("{code} {name}"))
}

struct Saying<'a> {
    colony: &'a Colony,
    cast: &'a Cast,
    rules: &'a schedule::Rules,
    mass: &'a dyn Fn(Grams) -> String,
}

impl Saying<'_> {
    fn sentence(&self, facts: &[Fact], beside: Subject) -> String {
        let today = self.colony.as_of.day;
        let code = |place: usize| self.colony.code(place).to_owned();
        let size = |band: usize| format!("{} mm", self.rules.mating_size[band.min(3)]);
        let band = |band: usize| {
            let from = &self.rules.band_from;
            from.get(band + 1).map_or_else(
                || format!("from {} mm", from[band.min(3)]),
                |to| format!("{} to {to} mm", from[band]),
            )
        };
        let wording = Wording {
            male: &|i| code(self.cast.males[i]),
            female: &|j| code(self.cast.females[j]),
            mass: self.mass,
            size: &size,
            band: &band,
            night: &|n| {
                (today + i32::try_from(n).unwrap_or(0)).date().strftime("on %A").to_string()
            },
        };
        sentence(facts, beside, &wording)
    }

    fn facts(&self, facts: &[Fact]) -> Vec<FactShown> {
        facts.iter().map(|fact| facts::shown(self.colony, self.cast, fact)).collect()
    }

    fn placement(&self, m: &schedule::Move) -> MoveShown {
        let (male, female) = (self.cast.males[m.male], self.cast.females[m.female]);
        let mut reason = self.sentence(&m.facts, Subject::Pair { male: m.male, female: m.female });
        let mut facts = self.facts(&m.facts);
        if let Some((wanted, p)) = self.cast.carried.get(&(male, female)) {
            facts.push(facts::carried(self.colony, male, *p));
            if *p < CERTAIN {
                let p = Probability::clamped(*p).to_a_tenth();
                reason.push_str(&format!(" Chance that he carries {wanted}: {p}."));
            }
        }
        if let Some((day, fact)) = facts::long_unchecked(self.colony, female) {
            let (said, days) = (day.short_with_year(), self.colony.as_of.day.days_since(day));
            reason.push_str(&format!(" Last checked {said}, {days} days ago: check her first."));
            facts.push(fact);
        }
        MoveShown {
            male,
            female,
            from: m.from.map(|j| self.cast.females[j]),
            worth: m.worth.map_or(0.0, |w| w.total),
            reason,
            facts,
        }
    }

    fn omission(&self, l: &schedule::LeftOut) -> LeftOutShown {
        LeftOutShown {
            female: self.cast.females[l.female],
            why: l.why,
            in_need: l.in_need && !l.facts.iter().any(is_past_need),
            reason: self.sentence(&l.facts, Subject::Female(l.female)),
            facts: self.facts(&l.facts),
        }
    }

    fn due(&self, found: &crate::due_soon::DueFound) -> DueShown {
        let today = self.colony.as_of.day;
        DueShown {
            what: words(found.due.what),
            animal: subject(found.due.about, &self.cast.males, &self.cast.females),
            with: match found.due.about {
                Subject::Pair { female, .. } => Some(self.cast.females[female]),
                _ => None,
            },
            since: found.due.since.map(|days| today + days),
            by: today + found.due.by,
            reason: self.sentence(&found.due.facts, found.due.about),
            records: found.records.clone(),
        }
    }
}
