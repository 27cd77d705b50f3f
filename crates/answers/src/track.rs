//! "How well did your forecasts hold?"
//!
//! Every forecast of the past is asked again with what was known on its evening, and held against
//! what came. The journal is folded once: histories are cut at a day, not folded anew. Rules, and why
//! they are so: `docs/methods/track_record.md`.

mod came;
mod curve;
mod evening;
pub mod kind;
mod past;
pub mod record;
pub mod said;
pub mod widening;

use std::collections::{BTreeMap, HashSet};

use records::{Colony, Sex};
use units::{Day, Season};

use crate::cycle::{checks, cycles_of};
use crate::room_forecasts::RoomForecasts;
use crate::room_forecasts::clutch::{hers, mass_before};
use came::Came;
use curve::Curve;
use evening::{Evening, Reading, evenings};
pub use forecast::calibration::tally::COVERAGES;
pub use kind::{Horizon, Kind};
pub use past::Past;
use past::{Truth, score};
pub use record::{Coming, KindRecord, Track};
pub use widening::{Widened, Widening};

/// What forecasts go by on a day of the past; asked once for each season.
pub type Learned<'a> = &'a dyn Fn(Day) -> RoomForecasts;

/// The cycles that are over, and the season that is under way: as long as they are the same, so is the
/// track record.
#[derive(Clone, Debug, PartialEq)]
pub struct Basis {
    finished: Vec<Came>,
    opens: Day,
}

impl Basis {
    /// As of the moment the colony stands at.
    #[must_use]
    pub fn of(colony: &Colony) -> Self {
        Self { finished: finished(colony), opens: colony.season().opens() }
    }
}

/// The track record of a colony as of the moment it stands at.
///
/// What is learned is learned anew when a season opens, from what had happened by then.
#[must_use]
pub fn track(colony: &Colony) -> Track {
    track_of(colony, &Basis::of(colony))
}

/// The same, from the cycles as read before.
#[must_use]
pub fn track_of(colony: &Colony, basis: &Basis) -> Track {
    over(colony, basis, &|day| RoomForecasts::learned_by(colony, day))
}

/// The same, with forecasts that go by what is handed over.
#[must_use]
pub fn back_test(colony: &Colony, learned: Learned<'_>) -> Track {
    over(colony, &Basis::of(colony), learned)
}

fn over(colony: &Colony, basis: &Basis, learned: Learned<'_>) -> Track {
    let opening = colony.season_opening();
    let finished = &basis.finished;
    let mut seasons: BTreeMap<Day, Vec<(usize, Day)>> = BTreeMap::new();
    for (at, came) in finished.iter().enumerate() {
        for day in evenings(colony, came) {
            seasons.entry(Season::holding(day, opening).opens()).or_default().push((at, day));
        }
    }
    let mut all = Gathered::default();
    for (opens, asked) in seasons {
        let room = learned(opens - 1);
        let widening = Widening::learned(&all.past, opens - 1);
        for chunk in asked.chunk_by(|a, b| a.0 == b.0) {
            let came = &finished[chunk[0].0];
            let reading = Reading::of(colony, &room, came);
            if all.begun.insert(chunk[0].0) {
                all.past.extend(eggs(colony, &room, chunk[0].0, came));
            }
            for (at, day) in chunk {
                let evening = Evening::of(colony, &room, &reading, came, *day);
                all.take(*at, came, &evening, *day, &widening);
            }
        }
    }
    let widening = Widening::learned(&all.past, basis.opens - 1);
    Track::of(colony.as_of.day, all.past, &all.coming, widening)
}

/// Every cycle of every female that is over and of which all is known.
fn finished(colony: &Colony) -> Vec<Came> {
    let today = colony.as_of.day;
    let females = colony.animals.iter().enumerate().filter(|(_, a)| a.sex() == Some(Sex::Female));
    let of_one = |(place, animal)| {
        let spans = cycles_of(colony, animal, today).into_iter();
        let came = move |span| Came::of(colony, place, span, checks(colony, animal, &span, today));
        spans.filter_map(came)
    };
    females.flat_map(of_one).filter(|came| came.known <= today).collect()
}

/// What the evenings so far have given.
#[derive(Default)]
struct Gathered {
    past: Vec<Past>,
    coming: Vec<Coming>,
    /// Of each cycle one forecast of a kind and horizon is kept, the first: which one that is was
    /// plain on its evening, whatever came later.
    kept: HashSet<(usize, Kind, Horizon)>,
    asked: HashSet<usize>,
    begun: HashSet<usize>,
}

impl Gathered {
    fn take(&mut self, at: usize, came: &Came, evening: &Evening, day: Day, widening: &Widening) {
        let is_checked = came.checks.iter().any(|c| c.day <= day);
        if is_checked && came.ovulation_proved().is_none_or(|by| by > day) && self.asked.insert(at)
        {
            let (chance, has_come) = (evening.chance_of_ovulation(), came.has_ovulated());
            self.coming.push(Coming { chance, came: has_come, made: day, known: came.known });
        }
        for asked in evening.asked(came) {
            if !self.kept.insert((at, asked.kind, asked.horizon)) {
                continue;
            }
            let factor = widening.factor(asked.kind);
            let score = score(&asked.curve, asked.truth, asked.weight, factor);
            self.past.push(Past {
                kind: asked.kind,
                horizon: Some(asked.horizon),
                female: came.female,
                cycle: at,
                made: day,
                known: came.known,
                eighty: score.eighty,
                weight: asked.weight,
                fell: score.fell,
                fell_widened: score.fell_widened,
                off: score.off,
                crps: score.crps,
                needed: score.needed,
            });
        }
    }
}

/// The number of eggs, forecast when the cycle opened from her mass, her clutches before and the
/// room's. Numbers of eggs are not widened.
fn eggs(colony: &Colony, room: &RoomForecasts, at: usize, came: &Came) -> Option<Past> {
    let eggs = i32::from(came.eggs.filter(|eggs| *eggs > 0)?);
    let made = came.span.opened;
    let grams = mass_before(&colony.animals[came.female], made).map(|w| w.what.get());
    let next = room.clutches.next(grams, &hers(colony, came.female, made, None), None);
    let score = score(&Curve::Counted(next.eggs.chance), Truth::Whole(eggs), 1.0, 1.0);
    Some(Past {
        kind: Kind::Eggs,
        horizon: None,
        female: came.female,
        cycle: at,
        made,
        known: came.known,
        eighty: score.eighty,
        weight: 1.0,
        fell: score.fell,
        fell_widened: score.fell_widened,
        off: score.off,
        crps: score.crps,
        needed: score.needed,
    })
}
