//! The round: one tub a screen, for one thumb.

mod feeding;
mod one;
mod parts;

use answers::feeding_due::feeding_due;
use answers::tonight::Tonight;
use askama::Template;
use axum::response::{IntoResponse, Redirect, Response};
use records::{Lock, RecordId, Stay};
use units::Night;

use crate::asking::{Asked, Fields};
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::notice::notice;
use crate::rack;
use crate::site::{Site, View};
use crate::strip::{Form, strip};
use crate::tonight::tub;

pub use feeding::page as feeding;
pub use one::{checks, neighbours, weights, words};
use parts::{Part, parts};

/// One tub of the round.
struct Stop {
    male: usize,
    female: usize,
    /// The female in whose tub he is still.
    from: Option<usize>,
    /// He only comes out of her tub.
    is_out: bool,
    /// Placed, or looked at: nothing is asked any more.
    is_done: bool,
    /// What was seen of them, on the morning after.
    lock: Option<(Lock, RecordId)>,
    why: String,
}

/// What the screen of one tub shows.
struct Shown {
    tub: String,
    male: String,
    female: String,
    male_tub: String,
    male_id: String,
    female_id: String,
    link: String,
    strip: String,
    size: String,
    why: String,
    is_out: bool,
    is_done: bool,
    /// The look that a new answer replaces, and what it says.
    before: Option<(RecordId, &'static str)>,
}

#[derive(Template)]
#[template(path = "round.html")]
struct Page {
    frame: Frame,
    is_morning: bool,
    heading: String,
    parts: Vec<Part>,
    stop: Option<Shown>,
    rest: Vec<(String, String, bool)>,
    /// Pairs left together tonight, of which nothing is asked.
    staying: Vec<String>,
    n_left: usize,
    n_all: usize,
    night: String,
    record: RecordId,
    second: RecordId,
    batch: RecordId,
    back: String,
    locks: [(&'static str, &'static str); 4],
}

/// `/round`: the morning while it is unanswered, else the part that fits the hour.
pub async fn either(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let is_morning = view.unlooked() > 0 || (6..15).contains(&view.hour);
    let part = if is_morning { "/round/morning" } else { "/round/evening" };
    Ok(Redirect::to(&view.link(part)).into_response())
}

/// `/round/evening`: who goes where.
pub async fn evening(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let tonight = site.tonight(&view);
    let stop = |is_done| {
        move |m: &answers::MoveShown| Stop {
            male: m.male,
            female: m.female,
            from: m.from,
            is_out: false,
            is_done,
            lock: None,
            why: m.reason.clone(),
        }
    };
    let mut stops: Vec<Stop> = tonight.moves.iter().map(stop(false)).collect();
    stops.extend(tonight.done.iter().map(stop(true)));
    let out = tonight.coming_out.iter().map(stop(false));
    stops.extend(out.map(|s| Stop { from: Some(s.female), is_out: true, ..s }));
    stops.sort_by_key(|s| rack::order(tub(&view, s.from.unwrap_or(s.male))));
    let night = view.night();
    Ok(show(&site, &view, &tonight, &asked, &stops, (false, night)))
}

/// `/round/morning`: who locked, and who comes out.
pub async fn morning(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let tonight = site.tonight(&view);
    let night = Night::beginning(view.day - 1);
    let stays = view.colony.stays.iter().filter(|s| s.night == night && s.placed.is_some());
    let stop = |s: &Stay| Stop {
        male: s.male,
        female: s.female,
        from: None,
        is_out: false,
        is_done: s.lock.is_some(),
        lock: s.lock,
        why: String::new(),
    };
    let mut stops: Vec<Stop> = stays.map(stop).collect();
    stops.sort_by_key(|s| rack::order(tub(&view, s.female)));
    Ok(show(&site, &view, &tonight, &asked, &stops, (true, night)))
}

fn show(
    site: &Site,
    view: &View,
    tonight: &Tonight,
    asked: &Fields,
    stops: &[Stop],
    (is_morning, night): (bool, Night),
) -> Response {
    let path = if is_morning { "/round/morning" } else { "/round/evening" };
    let wanted = asked.get("tub").and_then(|text| text.parse::<RecordId>().ok());
    let of_wanted = |s: &&Stop| Some(view.colony.animals[s.female].id.0) == wanted;
    // After the tub just done comes the next one on the walk that is still open.
    let after = asked.get("after").and_then(|text| text.parse::<RecordId>().ok());
    let passed = stops.iter().position(|s| Some(view.colony.animals[s.female].id.0) == after);
    let open = |s: &&Stop| !s.is_done;
    let current = stops
        .iter()
        .find(of_wanted)
        .or_else(|| passed.and_then(|at| stops[at + 1..].iter().find(open)))
        .or_else(|| stops.iter().find(open));
    let rest = stops
        .iter()
        .map(|s| {
            let id = view.colony.animals[s.female].id.to_string();
            let to = crate::asking::with_field(&view.link(path), "tub", &id);
            let pair = if is_morning {
                format!("{} {}", view.tub(s.female), view.colony.code(s.female))
            } else if s.is_out {
                format!("{} take out {}", view.tub(s.female), view.colony.code(s.male))
            } else {
                format!("{} → {}", view.tub(s.from.unwrap_or(s.male)), view.tub(s.female))
            };
            (pair, to, s.is_done)
        })
        .collect();
    let stays = |m: &answers::MoveShown| {
        format!("{} {} with {}", view.tub(m.female), view.called(m.male), view.called(m.female))
    };
    let staying = tonight.staying.iter().filter(|_| !is_morning).map(stays).collect();
    let title = if is_morning { "Morning round" } else { "Evening round" };
    let feeding = feeding_due(&view.colony, tonight);
    let page = Page {
        frame: Frame::around(view, title, "Round", path).with(notice(site, view, asked)),
        is_morning,
        heading: format!("night of {}", night.spoken()),
        parts: parts(view, tonight, &feeding, path),
        stop: current.map(|stop| shown(view, tonight, stop)),
        rest,
        staying,
        n_left: stops.iter().filter(|s| !s.is_done).count(),
        n_all: stops.len(),
        night: night.evening().to_string(),
        record: store::new_id(),
        second: store::new_id(),
        batch: store::new_id(),
        back: view.link(path),
        locks: [Lock::Seen, Lock::Suspected, Lock::NoneSeen, Lock::NotLooked]
            .map(|lock| (called(lock), lock.word())),
    };
    html(&page)
}

/// An answer as it stands on its button.
const fn called(lock: Lock) -> &'static str {
    match lock {
        Lock::Seen => "Locked",
        Lock::Suspected => "Maybe",
        Lock::NoneSeen => "Not locked",
        Lock::NotLooked => "Didn’t look",
    }
}

fn shown(view: &View, tonight: &Tonight, stop: &Stop) -> Shown {
    let female = tonight.females.iter().find(|f| f.place == stop.female);
    let id = |place: usize| view.colony.animals[place].id.to_string();
    Shown {
        tub: view.tub(stop.female),
        male: view.called(stop.male),
        female: view.called(stop.female),
        male_tub: match stop.from {
            Some(from) if !stop.is_out => {
                format!("{} ({})", view.tub(from), view.colony.code(from))
            }
            _ => view.tub(stop.male),
        },
        male_id: id(stop.male),
        female_id: id(stop.female),
        link: view.animal_link(stop.female),
        strip: female.map_or_else(String::new, |f| strip(view, f, Form::Narrow)),
        size: crate::tonight::size(&tonight.females, stop.female),
        why: crate::tonight::clauses(&stop.why).0,
        is_out: stop.is_out,
        is_done: stop.is_done,
        before: stop.lock.map(|(lock, record)| (record, called(lock))),
    }
}
