//! "How well did your forecasts hold?"
//!
//! Every forecast of the past is asked again with what was known on its evening, and held against
//! what came. The journal is folded once: histories are cut at a day, not folded anew. Rules, and why
//! they are so: `docs/methods/track_record.md`.

mod by_two;
mod came;
mod curve;
mod evening;
pub mod kind;
mod past;
mod reading;
pub mod record;
pub mod said;
mod season;
pub mod widening;

use records::{Colony, Sex};
use units::Day;

use crate::cycle::{checks, cycles_of};
use crate::room_forecasts::RoomForecasts;
use by_two::by_two;
use came::Came;
pub use forecast::calibration::tally::COVERAGES;
pub use kind::{Horizon, Kind};
pub use past::Past;
pub use record::{Coming, KindRecord, Track};
use season::{Gathered, ask_season, asked_seasons};
pub use widening::{Widened, Widening};

/// What forecasts go by on a day of the past; asked once for each season.
pub type Learned<'a> = &'a (dyn Fn(Day) -> RoomForecasts + Sync);

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
    let seasons = asked_seasons(colony, &basis.finished);
    let mut all = Gathered::default();
    let ask = |n: usize| ask_season(colony, &basis.finished, &seasons[n], learned);
    by_two(seasons.len(), ask, |season| all.take(season));
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
