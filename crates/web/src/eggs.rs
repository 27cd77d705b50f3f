//! The eggs: every clutch that waits to hatch, the next one first, and those still to come.

mod clutch;
mod picture;
mod written;

use answers::eggs::{clutches_to_come, eggs};
use answers::track::Kind;
use askama::Template;
use axum::response::Response;
use records::{Place, RecordId};
use units::DaySpan;

use crate::asking::Asked;
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::notice::notice;
use crate::said::unbroken;
use crate::site::{Site, View};
use crate::track::Fragment;
use clutch::{ClutchLine, counts};
use written::WrittenOf;

/// One clutch that is still to be laid.
struct ToCome {
    name: String,
    link: String,
    /// "lays about 3 Mar (27 Feb–8 Mar)".
    lays: String,
    expected: String,
    /// Where her laying is written.
    write: String,
}

#[derive(Template)]
#[template(path = "eggs.html")]
struct Page {
    frame: Frame,
    is_empty: bool,
    clutches: Vec<ClutchLine>,
    /// Those of which something can hatch.
    n_waiting: usize,
    has_picture: bool,
    to_come: Vec<ToCome>,
    /// Clutches that hatched lately, of which young are still to be written, and where.
    hatched: Vec<(String, String)>,
    /// Names of places, to choose from.
    places: Vec<String>,
    /// The place that the form of temperatures begins with.
    place: String,
    valid: (String, String),
    day: String,
    written: Vec<WrittenOf>,
    held: Fragment,
}

impl Page {
    /// A fresh id for one form.
    #[expect(clippy::unused_self, reason = "templates call methods of what they are given")]
    fn record(&self) -> RecordId {
        store::new_id()
    }
}

/// `/eggs`
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let forecasts = site.forecasts(&view.colony);
    let heat = |celsius: f64| unbroken(&view.you.measures.degrees(celsius));
    let waiting = eggs(&view.colony, &forecasts, &heat);
    let n_waiting = waiting.iter().filter(|one| !one.is_lost).count();
    let clutches: Vec<ClutchLine> = waiting.iter().map(|one| ClutchLine::of(&view, one)).collect();
    let places = places(&view);
    let (low, high) = forecast::incubation::VALID;
    let page = Page {
        frame: Frame::around(&view, "Eggs", "Eggs", "/eggs").with(notice(&site, &view, &asked)),
        is_empty: view.colony.animals.is_empty(),
        place: begins_with(asked.get("place"), &clutches),
        has_picture: clutches.iter().any(|c| !c.narrow.is_empty()),
        clutches,
        n_waiting,
        to_come: to_come(&view, &forecasts),
        hatched: crate::hatchlings::of_late(&view),
        written: written::all(&site, &view, &places),
        places: places.iter().map(ToString::to_string).collect(),
        valid: (heat(low), heat(high)),
        day: view.day.to_string(),
        held: Fragment::of_kinds(&view, &forecasts.widening, &[Kind::Laying, Kind::Hatch]),
    };
    Ok(html(&page))
}

/// The place asked for; else the one place in which all clutches lie.
fn begins_with(asked: Option<&str>, clutches: &[ClutchLine]) -> String {
    let all = || {
        let mut places = clutches.iter().map(|c| c.place.as_str()).filter(|p| !p.is_empty());
        let first = places.next()?;
        places.all(|place| place == first).then_some(first)
    };
    asked.or_else(all).unwrap_or_default().chars().take(64).collect()
}

fn to_come(view: &View, forecasts: &answers::RoomForecasts) -> Vec<ToCome> {
    let all = clutches_to_come(&view.colony, forecasts).into_iter();
    all.map(|clutch| ToCome {
        name: view.called(clutch.female),
        link: view.animal_link(clutch.female),
        lays: clutch.laying.as_ref().map_or_else(
            || "when she lays is not known".to_owned(),
            |laying| {
                let span = unbroken(&DaySpan::between(laying.low, laying.high).to_string());
                format!("lays about {} ({span})", unbroken(&laying.median.short()))
            },
        ),
        expected: counts(&clutch.expected),
        write: written::form_link(view, clutch.female, "laid"),
    })
    .collect()
}

/// Every place that holds eggs or of which a temperature is written, those with eggs first.
pub fn places(view: &View) -> Vec<Place> {
    let colony = &view.colony;
    let mut all: Vec<Place> = Vec::new();
    let mut add = |place: &Place| {
        if !all.iter().any(|known| known.key() == place.key()) {
            all.push(place.clone());
        }
    };
    for (at, _) in answers::eggs::waiting(colony) {
        colony.clutches[at].incubated.last().iter().for_each(|put| add(&put.what));
    }
    colony.clutches.iter().flat_map(|c| &c.incubated).for_each(|put| add(&put.what));
    let mut keys: Vec<&String> = colony.readings.keys().collect();
    keys.sort_unstable();
    for key in keys {
        let last = colony.readings[key].last().and_then(|read| colony.record(read.record));
        if let Some(records::Fact::Reading(reading)) = last.map(|live| &live.fact) {
            add(&reading.place);
        }
    }
    all
}

/// What other pages say of clutches that wait: of one female, her eggs with the way to them.
pub fn links(view: &View, place: usize) -> Vec<(String, String)> {
    let of_her = answers::eggs::waiting(&view.colony)
        .filter(|(at, _)| view.colony.clutches[*at].female == place);
    of_her
        .map(|(at, laid)| {
            let id = view.colony.clutches[at].id.0;
            let to = format!("{}#clutch-{id}", view.link("/eggs"));
            (format!("Eggs laid {}: warmth and hatch", unbroken(&laid.short())), to)
        })
        .collect()
}

/// How many clutches wait to hatch, and of how many it is not written where the eggs lie.
pub fn waiting(view: &View) -> (usize, usize) {
    let all = || answers::eggs::waiting(&view.colony).map(|(at, _)| &view.colony.clutches[at]);
    let clutches = || all().filter(|clutch| !clutch.is_lost_by(view.day));
    let is_told =
        |c: &records::Clutch| !c.incubated.is_empty() || c.kept == Some(records::EggsKept::WithHer);
    (clutches().count(), clutches().filter(|c| !is_told(c)).count())
}
