//! The page on which addresses of calendars are made and taken back.

use askama::Template;
use axum::http::{HeaderMap, header};
use axum::response::{IntoResponse, Redirect, Response};

use super::book::{Book, MOST};
use super::events;
use crate::asking::{Asked, Filled};
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::phones::secret::Token;
use crate::said::dated;
use crate::site::Site;
use crate::you::{LONGEST_NAME, person};

#[derive(Template)]
#[template(path = "calendar.html")]
struct Page {
    frame: Frame,
    longest: usize,
    n_events: usize,
    /// Host, path and name of the address just made, shown this once.
    made: Option<Made>,
    /// Name, day and mark of each.
    addresses: Vec<(String, String, String)>,
}

struct Made {
    host: String,
    path: String,
    name: String,
    /// Whether only this machine can open it.
    is_only_here: bool,
}

/// `/calendar`
pub async fn page(site: Site, Asked(_): Asked) -> Result<Response, Failure> {
    shown(&site, None)
}

fn shown(site: &Site, made: Option<Made>) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let book = Book::open(site)?;
    let address = |a: &super::book::Address| (a.name.clone(), dated(a.since), a.mark());
    Ok(html(&Page {
        frame: Frame::around(&view, "Calendar", "Season", "/calendar"),
        longest: LONGEST_NAME,
        n_events: events(site, &view).len(),
        made,
        addresses: book.all().iter().map(address).collect(),
    }))
}

/// An address is made and shown, this once.
pub async fn make(
    site: Site,
    headers: HeaderMap,
    Filled(form): Filled,
) -> Result<Response, Failure> {
    let name = person(form.get("name").unwrap_or_default()).ok_or_else(|| {
        Failure::typed(
            format!("This is no name that can be kept, or it is longer than {LONGEST_NAME} signs."),
            "Write a short one, such as Anna’s phone.",
        )
    })?;
    let secret = Token::new().ok_or_else(|| {
        Failure::typed(
            "This system gives no random numbers, and an address that can be guessed is no secret.",
            "Try again in a minute.",
        )
    })?;
    let today = site.zone().day_of(site.now());
    let is_added = Book::change(&site, |book| {
        let is_room = book.all().len() < MOST;
        if is_room {
            book.add(&secret, today, &name);
        }
        is_room
    })?;
    if !is_added {
        return Err(Failure::typed(
            format!("There are {MOST} addresses already; no more was made."),
            "Take back those that nobody uses.",
        ));
    }
    let host = headers.get(header::HOST).and_then(|host| host.to_str().ok()).unwrap_or_default();
    let is_only_here = ["localhost", "127.", "[::1]"].iter().any(|own| host.starts_with(own));
    let path = format!("/calendar/{}.ics", secret.as_str());
    shown(&site, Some(Made { host: host.to_owned(), path, name, is_only_here }))
}

/// An address is taken back: from now on it leads nowhere.
pub async fn away(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let mark = form.get("which").unwrap_or_default();
    Book::change(&site, |book| book.remove(mark))?;
    Ok(Redirect::to("/calendar").into_response())
}
