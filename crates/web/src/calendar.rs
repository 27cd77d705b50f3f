//! The season as a calendar that phones subscribe to, at an address that is its own secret.
//!
//! Calendar programs send no cookie and cannot enter a key. So the address holds 256 random bits, is
//! shown once, kept as a hash, and can be taken back. It reads and never writes.

mod book;
mod ics;
mod page;
mod text;

use answers::due_list::due_from;
use answers::{CalendarEvent, feeding_due};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use units::Instant;

use crate::asking::Named;
use crate::failure::Failure;
use crate::phones::secret::{hash, hex};
use crate::site::{Site, View};
use book::Book;

pub use page::{away, make, page};
pub use text::{text, uid};

/// Days ahead for which checks are listed; what is expected is listed however far ahead.
pub const CHECK_DAYS: u32 = 28;

/// Whether a path is that of a calendar, so that the door lets it through to be looked up.
pub fn is_calendar(path: &str) -> bool {
    path.strip_prefix("/calendar/").is_some_and(|rest| rest.ends_with(".ics"))
}

/// `/calendar/{secret}.ics`
pub async fn feed(site: Site, Named(name): Named, headers: HeaderMap) -> Result<Response, Failure> {
    let book = Book::open(&site)?;
    if !name.strip_suffix(".ics").is_some_and(|secret| book.knows(secret)) {
        return Err(Failure::missing(
            "There is no such calendar (any more).",
            "Make a new address on the page Calendar, and subscribe to that.",
        ));
    }
    let view = site.look(None)?;
    let body = text(&events(&site, &view), this_hour(site.now()));
    let mark = format!("W/\"{}\"", &hex(&hash(body.as_bytes()))[..32]);
    let headers_out = [
        (header::CONTENT_TYPE, "text/calendar; charset=utf-8"),
        (header::CONTENT_DISPOSITION, "inline; filename=\"season.ics\""),
        (header::CACHE_CONTROL, "private, no-cache"),
    ];
    let is_known = headers.get(header::IF_NONE_MATCH).is_some_and(|known| *known == *mark);
    let mut response = if is_known {
        StatusCode::NOT_MODIFIED.into_response()
    } else {
        (headers_out, body).into_response()
    };
    if let Ok(mark) = HeaderValue::from_str(&mark) {
        response.headers_mut().insert(header::ETAG, mark);
    }
    Ok(response)
}

/// Everything for the calendar of a room as it stands.
fn events(site: &Site, view: &View) -> Vec<CalendarEvent> {
    let tonight = site.tonight(view);
    let feeding = feeding_due(&view.colony, &tonight);
    let mass = |mass| view.you.measures.mass(mass);
    let due = due_from(&view.colony, (&tonight, &feeding), &mass, CHECK_DAYS);
    answers::calendar(&view.colony, &tonight.females, &due)
}

/// The beginning of the hour: asked twice within it, a calendar says the same.
fn this_hour(now: Instant) -> Instant {
    Instant::from_seconds(now.seconds().div_euclid(3600) * 3600)
}
