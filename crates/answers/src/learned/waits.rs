//! How long each cycle waited from its first placement to ovulation, or how far it was followed.

use forecast::Durations;
use forecast::effects::kaplan_meier::Spell;
use forecast::follicle::opening::Closing;
use forecast::{CycleSpan, effects::Grouping};
use records::{Animal, Colony, Sex};
use units::{Day, Season};

use crate::cycle::cycles_of;
use crate::room_forecasts::chain::durations;

/// A wait begins on an evening: whoever ovulates by the next morning has waited, too.
const BEFORE_THE_FIRST_EVENING: f64 = -0.5;

/// One cycle from its first placement on.
#[derive(Clone, Copy, Debug)]
pub struct Wait {
    /// Her place in the colony.
    pub female: usize,
    /// The season he was put in.
    pub season: Season,
    /// Her first check or placement of the cycle.
    pub opened: Day,
    /// Evening of his first night.
    pub placed: Day,
    /// Days from then on.
    pub spell: Spell,
}

/// All of them, with what could not be used.
#[derive(Debug, Default)]
pub struct Waits {
    /// Oldest first.
    pub all: Vec<Wait>,
    /// Ovulations nobody wrote, counted back from laying.
    pub by_laying: usize,
    /// Ovulated before any placement.
    pub before: usize,
    /// Cycles without a placement.
    pub unplaced: usize,
}

/// How a cycle went on from its first placement.
enum Went {
    Ovulated(Day),
    Laid(Day),
    /// Followed until then, without it.
    Until(Day),
}

pub fn waits(colony: &Colony) -> Waits {
    let usual = durations(colony, &Durations::default(), colony.as_of.day);
    #[expect(clippy::cast_possible_truncation, reason = "some fifty days")]
    let to_laying = usual.ovulation_to_laying.mean().round() as i32;
    let mut waits = Waits::default();
    for (female, animal) in colony.animals.iter().enumerate() {
        // A male's own nights are no cycle.
        if animal.sex() == Some(Sex::Male) {
            continue;
        }
        let spans = cycles_of(colony, animal, colony.as_of.day);
        for (at, span) in spans.iter().enumerate() {
            let next = spans.get(at + 1).map(|s| s.opened);
            let Some(placed) = first_placement(colony, animal, span, next) else {
                waits.unplaced += 1;
                continue;
            };
            let (until, happened) = match went(colony, animal, span, next) {
                Went::Ovulated(day) => (day, true),
                Went::Laid(day) => {
                    waits.by_laying += usize::from(day - to_laying >= placed);
                    (day - to_laying, true)
                }
                Went::Until(day) => (day.max(placed), false),
            };
            if until < placed {
                waits.before += 1;
                continue;
            }
            let exit = f64::from(until.days_since(placed));
            waits.all.push(Wait {
                female,
                season: Season::holding(placed, colony.season_opening()),
                opened: span.opened,
                placed,
                spell: Spell { entry: BEFORE_THE_FIRST_EVENING, exit, happened },
            });
        }
    }
    waits.all.sort_by_key(|w| w.placed);
    waits
}

fn first_placement(
    colony: &Colony,
    animal: &Animal,
    span: &CycleSpan,
    next: Option<Day>,
) -> Option<Day> {
    let last = match span.closed {
        Some(Closing::Laid(day) | Closing::Resorbed(day) | Closing::Quiet(day)) => day,
        None => colony.as_of.day,
    };
    let is_in =
        |day: &Day| span.opened <= *day && *day <= last && next.is_none_or(|next| *day < next);
    let nights = animal.stays.iter().map(|at| colony.stays[*at].night.evening());
    nights.filter(is_in).min()
}

fn went(colony: &Colony, animal: &Animal, span: &CycleSpan, next: Option<Day>) -> Went {
    let is_in = |day: &Day| span.opened <= *day && next.is_none_or(|next| *day < next);
    let laid = match span.closed {
        Some(Closing::Laid(day)) => Some(day),
        _ => None,
    };
    let ovulated = animal.ovulated.iter().map(|o| o.day).filter(is_in);
    if let Some(day) = ovulated.filter(|day| laid.is_none_or(|laid| *day <= laid)).min() {
        return Went::Ovulated(day);
    }
    match span.closed {
        Some(Closing::Laid(day)) => Went::Laid(day),
        Some(Closing::Resorbed(day) | Closing::Quiet(day)) => Went::Until(day),
        None => {
            let left = animal.left.iter().map(|l| l.day).filter(is_in).min();
            Went::Until(left.map_or(colony.as_of.day, |left| left.min(colony.as_of.day)))
        }
    }
}

impl Waits {
    /// How many came to ovulation.
    pub fn ovulations(&self) -> usize {
        self.all.iter().filter(|w| w.spell.happened).count()
    }

    /// Whose each is.
    pub fn by_female(&self) -> Grouping {
        Grouping::of(self.all.iter().map(|w| w.female)).0
    }
}
