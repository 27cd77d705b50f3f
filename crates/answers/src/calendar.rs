//! "What belongs into a calendar?" What is expected of each female, what was seen of it, and what is due.
//!
//! Every event has an identity that holds while its day moves: the animal, the day her cycle opened,
//! and what it is. A calendar that is fed again replaces the forecast of yesterday by that of today,
//! and at last by the day on which it was seen.

use forecast::follicle::opening::Closing;
use forecast::{CycleSpan, cycles};
use records::{AnimalId, Colony};
use units::{Day, DaySpan};

use crate::coming::{Coming, Step, coming};
use crate::cycle::happenings;
use crate::due_list::{DueList, DueOn, Kind};
use crate::follicles::FemaleStanding;

/// How sure it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It was seen.
    Seen,
    /// A forecast.
    Expected,
    /// To be done, or late.
    Due,
}

impl Standing {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Seen => "seen",
            Self::Expected => "expected",
            Self::Due => "due",
        }
    }
}

/// One event, on whole days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CalendarEvent {
    /// Place of the animal in the colony.
    pub place: usize,
    /// The animal.
    pub animal: AnimalId,
    /// The day on which the cycle opened that it belongs to; the season's opening where none did.
    pub cycle: Day,
    /// What it is, in one word that stays: `laying`, `check`, `overdue-laying`.
    pub what: String,
    /// How sure it is.
    pub standing: Standing,
    /// The days: the 80 % interval of a forecast.
    pub days: DaySpan,
    /// "F03 laying expected 3–19 Mar (80 %)".
    pub title: String,
    /// Why, with the chance that it comes, the median and what it rests on.
    pub said: String,
}

impl CalendarEvent {
    /// The same for as long as it is the same event, and no other's.
    #[must_use]
    pub fn identity(&self) -> String {
        let day = self.cycle.to_string().replace('-', "");
        format!("{}-{day}-{}", self.animal, self.what)
    }
}

/// Below this chance of coming an event stands in no calendar: a page can say how doubtful it is, a
/// calendar hardly; our choice.
const LEAST_CHANCE: f64 = 0.5;

/// Longer spans stand in none either: five months of one event hide all others. Our own choice, a
/// third of a year.
const LONGEST_DAYS: i32 = 122;

/// Everything for a calendar, by day: what was seen this season and what is expected of every female,
/// checks, warming up, what is overdue and rules to call a vet.
#[must_use]
pub fn calendar(colony: &Colony, females: &[FemaleStanding], due: &DueList) -> Vec<CalendarEvent> {
    let (mut all, today) = (Vec::new(), due.today);
    for female in females {
        let seen = Step::ALL.into_iter().filter_map(|step| {
            let day = female.seen.day(step.event()?)?;
            Some(seen(colony, female, step, day))
        });
        all.extend(seen);
        let likely = |c: &Coming| {
            c.chance.is_none_or(|p| p.get() >= LEAST_CHANCE)
                && c.date.high.days_since(c.date.low) <= LONGEST_DAYS
        };
        // What becomes of the young is left out until there are eggs, as on the strip.
        let last = if female.seen.laying.is_some() { Step::FirstMeal } else { Step::Hatch };
        let ahead = coming(female).into_iter().filter(|c| c.step <= last && likely(c));
        all.extend(ahead.map(|coming| expected(colony, female, &coming)));
    }
    for due in &due.all {
        let female = females.iter().find(|f| f.place == due.animal);
        all.extend(to_do(colony, female, today, due));
    }
    all.sort_by_cached_key(|e: &CalendarEvent| (e.days.first(), e.days.last(), e.identity()));
    all.dedup_by_key(|e: &mut CalendarEvent| e.identity());
    all
}

fn seen(colony: &Colony, female: &FemaleStanding, step: Step, day: Day) -> CalendarEvent {
    let code = colony.code(female.place);
    let what = match step {
        Step::Ovulation => "ovulated",
        Step::PreLayShed => "had her pre-lay shed",
        Step::Laying => "laid",
        Step::Hatch => "clutch hatched",
        Step::FirstShed => "young: first shed",
        Step::FirstMeal => "young: first meal",
        Step::Mm12 | Step::Mm22 | Step::Mm32 | Step::Mm40 => step.said(),
    };
    CalendarEvent {
        place: female.place,
        animal: colony.animals[female.place].id,
        cycle: cycle(colony, female),
        what: step.word().to_owned(),
        standing: Standing::Seen,
        days: DaySpan::between(day, day),
        title: format!("{code} {what}"),
        said: format!("Written down. {}", who(colony, female.place)),
    }
}

fn expected(colony: &Colony, female: &FemaleStanding, coming: &Coming) -> CalendarEvent {
    let Coming { step, date, chance, .. } = coming;
    let code = colony.code(female.place);
    let days = DaySpan::between(date.low, date.high);
    let of_young = if *step > Step::Hatch { "young: " } else { "" };
    let title = format!("{code} {of_young}{} expected {days} ({})", step.said(), date.coverage);
    let mut said = vec![
        format!("As likely before as after {}", date.median.short_with_year()),
        format!("the days hold it with a chance of {}", date.coverage),
    ];
    said.extend(chance.map(|chance| format!("the chance that it comes at all is {chance}")));
    let passed = coming.may_have_passed();
    said.extend(passed.map(|passed| format!("it has come already with a chance of {passed}")));
    if let Some(size) = female.size.as_ref().filter(|_| chance.is_some()) {
        let [median, low, high] = [&size.median, &size.low, &size.high].map(|mm| mm.get().round());
        said.push(format!("she has about {median} mm ({low}–{high})"));
    }
    said.extend(
        female
            .seen
            .last()
            .map(|(event, day)| format!("it rests on: {} {}", event.word(), day.short_with_year())),
    );
    let said = format!("{}. {}", said.join("; "), who(colony, female.place));
    CalendarEvent {
        place: female.place,
        animal: colony.animals[female.place].id,
        cycle: cycle(colony, female),
        what: step.word().to_owned(),
        standing: Standing::Expected,
        days,
        title,
        said,
    }
}

fn to_do(
    colony: &Colony,
    female: Option<&FemaleStanding>,
    today: Day,
    due: &DueOn,
) -> Option<CalendarEvent> {
    let code = colony.code(due.animal);
    let is_late = due.day < today;
    let since = if is_late { format!("since {}", due.day.short()) } else { String::new() };
    let late = if is_late { format!(", late {since}") } else { String::new() };
    let word = due.what.replace(' ', "-");
    // What is late is to be done today; what is overdue has been so since that day.
    let on = due.day.max(today);
    let (what, first, title) = match due.kind {
        Kind::Check => ("check".to_owned(), on, format!("{code} follicle check{late}")),
        Kind::WarmUp => ("warm-up".to_owned(), on, format!("{code} warm up{late}")),
        Kind::Overdue => {
            (word, due.day, format!("{code} {} {since}", due.what).trim_end().to_owned())
        }
        Kind::Vet => (format!("vet-{word}"), today, format!("{code} call a vet: {}", due.what)),
        Kind::LookInto | Kind::TakeOut | Kind::Weigh | Kind::Meal | Kind::Expected => return None,
    };
    let last = if due.kind == Kind::Vet { today } else { on };
    let opened = female.and_then(|f| f.standing.span).map(|span| span.opened);
    Some(CalendarEvent {
        place: due.animal,
        animal: colony.animals[due.animal].id,
        cycle: opened.unwrap_or(colony.season().opens()),
        what,
        standing: Standing::Due,
        days: DaySpan::between(first, last),
        title,
        said: format!("{} {}", due.reason, who(colony, due.animal)),
    })
}

/// The day on which the cycle opened that led to the clutch of this season, or is under way.
fn cycle(colony: &Colony, female: &FemaleStanding) -> Day {
    let season = || colony.season().opens();
    let opened = |span: CycleSpan| span.opened;
    let Some(laid) = female.seen.laying else {
        return female.standing.span.map_or_else(season, opened);
    };
    let animal = &colony.animals[female.place];
    let all = cycles(&happenings(colony, animal), colony.as_of.day);
    let led = all.into_iter().rfind(|span| span.closed == Some(Closing::Laid(laid)));
    led.map_or_else(season, opened)
}

/// "F03 Juniper, tub R1-03."
fn who(colony: &Colony, place: usize) -> String {
    let animal = &colony.animals[place];
    let tub =
        animal.tub_on(colony.as_of.day).map_or_else(String::new, |tub| format!(", tub {tub}"));
    format!("{}{tub}.", crate::tonight::called(animal, colony.as_of.day))
}
