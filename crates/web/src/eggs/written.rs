//! What was written of places, each to be withdrawn.

use records::{Fact, Live, Place, RecordId};

use crate::animal::when;
use crate::asking::with_field;
use crate::correct::can_be_told_again;
use crate::history::{told, written_by};
use crate::site::{Site, View};

/// Temperatures of a place, newest first.
pub struct WrittenOf {
    pub place: String,
    /// How many there are in all.
    pub n: usize,
    pub lines: Vec<Line>,
}

/// One record.
pub struct Line {
    pub when: String,
    pub what: String,
    pub from: String,
    pub id: RecordId,
    pub withdraw: RecordId,
    pub correct: Option<String>,
}

/// Temperatures of one place shown at most; a logger writes thousands. Our choice.
const SHOWN: usize = 30;
/// Places of which nothing was written for so many days are left out; our choice.
const IN_USE_DAYS: i32 = 100;

/// Every place in use: where eggs were put and the newest temperatures.
pub fn all(site: &Site, view: &View, places: &[Place]) -> Vec<WrittenOf> {
    let colony = &view.colony;
    let puts = colony.clutches.iter().filter(|c| c.hatched.is_none()).flat_map(|c| &c.incubated);
    let puts: Vec<_> = puts.filter(|put| view.day.days_since(put.day) <= IN_USE_DAYS).collect();
    let of = |place: &Place| {
        let readings = colony.readings.get(&place.key()).map_or(&[][..], Vec::as_slice);
        let mut ids: Vec<RecordId> =
            puts.iter().filter(|p| p.what.key() == place.key()).map(|p| p.record).collect();
        let is_new =
            |read: &&records::colony::PlaceReading| view.day.days_since(read.day) <= IN_USE_DAYS;
        ids.extend(readings.iter().rev().filter(is_new).map(|read| read.record));
        let n = ids.len();
        let lives = ids.into_iter().take(SHOWN).filter_map(|id| colony.record(id));
        let lines: Vec<Line> = lives.map(|live| line(site, view, live)).collect();
        (n > 0).then(|| WrittenOf { place: place.to_string(), n, lines })
    };
    places.iter().filter_map(of).collect()
}

fn line(site: &Site, view: &View, live: &Live) -> Line {
    let whose = match &live.fact {
        Fact::Incubated(put) => {
            let clutch = view.colony.clutches.iter().find(|c| c.id == put.clutch);
            clutch.map_or_else(String::new, |c| format!("{}: ", view.called(c.female)))
        }
        _ => String::new(),
    };
    let correct = view.link(&format!("/correct/{}", live.id));
    Line {
        when: when(site, live.when),
        what: format!("{whose}{}", told(view, &live.fact)),
        from: written_by(&live.who, live.source.as_ref()),
        id: live.id,
        withdraw: store::new_id(),
        correct: can_be_told_again(&live.fact)
            .then(|| with_field(&correct, "back", &view.link("/eggs"))),
    }
}

/// The form of that name on the page of an animal.
pub fn form_link(view: &View, place: usize, form: &str) -> String {
    format!("{}#write-{form}", with_field(&view.animal_link(place), "write", form))
}
