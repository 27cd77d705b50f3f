//! Follicle checks and weights: one animal a screen, in rack order.

use answers::FemaleStanding;
use answers::feeding_due::feeding_due;
use answers::tonight::Tonight;
use answers::who_next;
use askama::Template;
use axum::response::Response;
use records::RecordId;
use records::colony::Presence;

use super::parts::{Part, parts};
use crate::asking::{Asked, Fields, with_field};
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::history::found;
use crate::notice::notice;
use crate::rack;
use crate::said::unbroken;
use crate::site::{Site, View};
use crate::strip::{Form, strip};
use crate::tonight::tub;

/// One stop on the walk.
struct Stop {
    place: usize,
    is_done: bool,
    why: String,
}

/// The animal on the screen.
struct Shown {
    tub: String,
    name: String,
    link: String,
    id: String,
    last: String,
    why: String,
    strip: String,
    skip: String,
    is_done: bool,
}

#[derive(Template)]
#[template(path = "one.html")]
struct Page {
    frame: Frame,
    parts: Vec<Part>,
    is_check: bool,
    shown: Option<Shown>,
    n_done: usize,
    n_all: usize,
    rest: Vec<(String, String, bool)>,
    /// Where a look tonight tells most: tub and name, page, way of looking, why.
    looks: Vec<(String, String, &'static str, String)>,
    more: Option<(String, String)>,
    day: String,
    record: RecordId,
    back: String,
    words: Vec<String>,
    /// Two neighbouring words in one.
    between: Vec<String>,
}

/// What the walk is for.
struct Walk {
    path: &'static str,
    title: &'static str,
    stops: Vec<Stop>,
    more: Option<(String, String)>,
    is_all: bool,
}

/// `/round/checks`: one female a screen.
pub async fn checks(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let tonight = site.tonight(&view);
    let mut stops = due(&tonight, "follicle check");
    let on_day = |place: &usize| {
        let checks = &view.colony.animals[*place].checks;
        checks.iter().any(|c| c.day == view.day)
    };
    add_done(&view, &mut stops, on_day);
    let walk =
        Walk { path: "/round/checks", title: "Follicle checks", stops, more: None, is_all: false };
    Ok(show(&site, &view, &asked, (&tonight, walk)))
}

/// `/round/weights`: the weighing list, or with `?all=1` everybody in a tub.
pub async fn weights(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let tonight = site.tonight(&view);
    let is_all = asked.get("all").is_some();
    let mut stops = due(&tonight, "weigh");
    let on_day = |place: &usize| {
        let weights = &view.colony.animals[*place].weights;
        weights.iter().any(|w| w.day == view.day)
    };
    if is_all {
        let places = 0..view.colony.animals.len();
        let in_tub = |p: &usize| tub(&view, *p).is_some();
        let missing = |p: &usize| stops.iter().all(|s| s.place != *p);
        let others: Vec<usize> = places.filter(in_tub).filter(missing).collect();
        stops.extend(others.into_iter().map(|place| Stop {
            place,
            is_done: on_day(&place),
            why: String::new(),
        }));
    }
    add_done(&view, &mut stops, on_day);
    let more = if is_all {
        ("The weighing list only".to_owned(), view.link("/round/weights"))
    } else {
        ("Weigh the others too".to_owned(), view.link("/round/weights?all=1"))
    };
    let walk = Walk { path: "/round/weights", title: "Weights", stops, more: Some(more), is_all };
    Ok(show(&site, &view, &asked, (&tonight, walk)))
}

fn due(tonight: &Tonight, what: &str) -> Vec<Stop> {
    let due = tonight.due.iter().filter(|d| d.what == what);
    due.map(|d| Stop { place: d.animal, is_done: false, why: d.reason.clone() }).collect()
}

/// Those done on this day stay on the walk, so that the next one is the next one.
fn add_done(view: &View, stops: &mut Vec<Stop>, is_done: impl Fn(&usize) -> bool) {
    let here = |p: &usize| view.colony.animals[*p].presence(view.day) == Presence::InHouse;
    stops.retain(|s| here(&s.place));
    for stop in stops.iter_mut() {
        stop.is_done = is_done(&stop.place);
    }
    let missing = |p: &usize| stops.iter().all(|s| s.place != *p);
    let done: Vec<usize> =
        (0..view.colony.animals.len()).filter(&is_done).filter(missing).filter(here).collect();
    stops.extend(done.into_iter().map(|place| Stop { place, is_done: true, why: String::new() }));
    stops.sort_by_key(|s| {
        (rack::order(tub(view, s.place)), rack::order(Some(view.colony.code(s.place))))
    });
}

fn show(site: &Site, view: &View, asked: &Fields, (tonight, walk): (&Tonight, Walk)) -> Response {
    let back = if walk.is_all { format!("{}?all=1", walk.path) } else { walk.path.to_owned() };
    let here = view.link(&back);
    let of = |name: &str| {
        let id = asked.get(name).and_then(|text| text.parse::<RecordId>().ok())?;
        walk.stops.iter().position(|s| view.colony.animals[s.place].id.0 == id)
    };
    let open = |s: &&Stop| !s.is_done;
    // Behind the last one comes the end, also where some were skipped.
    let current = match (of("tub"), of("after")) {
        (Some(at), _) => walk.stops.get(at),
        (None, Some(at)) => walk.stops[at + 1..].iter().find(open),
        (None, None) => walk.stops.iter().find(open),
    };
    let id = |s: &Stop| view.colony.animals[s.place].id.to_string();
    let rest = walk.stops.iter().map(|s| {
        let label = format!("{} {}", view.tub(s.place), view.colony.code(s.place));
        (label, with_field(&here, "tub", &id(s)), s.is_done)
    });
    let rest = rest.collect();
    let feeding = feeding_due(&view.colony, tonight);
    let is_check = walk.path == "/round/checks";
    let told = if is_check { who_next(&view.colony, &tonight.females) } else { vec![] };
    let looks = told.iter().take(LOOKS).map(|w| {
        let label = format!("{} {}", view.tub(w.place), view.called(w.place));
        (label, view.animal_link(w.place), w.how.word(), w.reason.clone())
    });
    let page = Page {
        frame: Frame::around(view, walk.title, "Round", &back).with(notice(site, view, asked)),
        parts: parts(view, tonight, &feeding, walk.path),
        is_check,
        shown: current.map(|stop| shown(view, tonight, stop, (is_check, &here))),
        n_done: walk.stops.iter().filter(|s| s.is_done).count(),
        n_all: walk.stops.len(),
        rest,
        looks: looks.collect(),
        more: walk.more,
        day: view.day.to_string(),
        record: store::new_id(),
        back: here.clone(),
        words: words(view),
        between: neighbours(view),
    };
    html(&page)
}

/// Looks named on the page.
const LOOKS: usize = 8;

fn shown(view: &View, tonight: &Tonight, stop: &Stop, (is_check, here): (bool, &str)) -> Shown {
    let animal = &view.colony.animals[stop.place];
    let female: Option<&FemaleStanding> = tonight.females.iter().find(|f| f.place == stop.place);
    let said = |what: String, day: units::Day| {
        unbroken(&format!("Last: {what}, {}", day.short_with_year()))
    };
    let last = if is_check {
        animal.checks.last().map(|c| said(found(&c.what), c.day))
    } else {
        animal.last_weight().map(|w| said(view.you.measures.mass(w.what), w.day))
    };
    Shown {
        tub: view.tub(stop.place),
        name: view.called(stop.place),
        link: view.animal_link(stop.place),
        id: animal.id.to_string(),
        last: last.unwrap_or_default(),
        why: crate::tonight::clauses(&stop.why).0,
        strip: female
            .filter(|_| is_check)
            .map_or_else(String::new, |f| strip(view, f, Form::Narrow)),
        skip: with_field(here, "after", &animal.id.to_string()),
        is_done: stop.is_done,
    }
}

/// The keeper's own words for felt sizes, else the usual four.
pub fn words(view: &View) -> Vec<String> {
    let words = answers::felt::to_choose(view.colony.setting("felt_words"));
    words.into_iter().map(|(_, word)| word).collect()
}

/// Each two neighbours of them in one.
pub fn neighbours(view: &View) -> Vec<String> {
    answers::felt::neighbours(view.colony.setting("felt_words"))
}
