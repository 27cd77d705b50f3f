//! Who may come in: the machine itself, and phones that entered the key.

use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;

use askama::Template;
use axum::Router;
use axum::extract::{ConnectInfo, Request, State};
use axum::http::{Extensions, HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;

use super::{Entered, Phones};
use crate::asking::{Asked, Filled, with_field};
use crate::calendar::is_calendar;
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::site::Site;
use crate::you::page::{known, name};
use crate::you::{LONGEST_NAME, You, cookie};

/// The cookie in which a phone keeps its token.
const COOKIE: &str = "phone";
/// What is open to everybody, beside calendars: their address is the secret.
const OPEN: [&str; 3] = ["/key", "/style.css", "/theme.css"];

/// The door: shut where there are phones to tell apart, open where only this machine can come.
#[derive(Clone)]
pub struct Door {
    phones: Option<Arc<Phones>>,
    site: Site,
}

#[derive(Template)]
#[template(path = "key.html")]
struct Page {
    frame: Frame,
    /// What was wrong with the key just entered.
    wrong: String,
    longest: usize,
    back: String,
}

impl Door {
    /// Around those pages.
    pub fn new(site: &Site, phones: Option<Phones>) -> Self {
        Self { phones: phones.map(Arc::new), site: site.clone() }
    }

    fn lets_in(&self, request: &Request) -> bool {
        let Some(phones) = &self.phones else { return true };
        let path = request.uri().path();
        let is_read = request.method() == Method::GET || request.method() == Method::HEAD;
        OPEN.contains(&path)
            || (is_read && is_calendar(path))
            || is_this_machine(request.extensions(), request.headers())
            || cookie(request.headers(), COOKIE).is_some_and(|token| phones.knows(token))
    }

    /// The page on which the key is entered.
    pub fn page(self) -> Router {
        Router::new().route("/key", get(ask).post(enter)).with_state(self)
    }
}

/// Lets in whom it knows; others are sent to enter the key.
pub async fn guard(State(door): State<Door>, request: Request, next: Next) -> Response {
    if door.lets_in(&request) {
        return next.run(request).await;
    }
    if request.method() == Method::GET || request.method() == Method::HEAD {
        let asked = request.uri().path_and_query().map_or("/", |path| path.as_str());
        return Redirect::to(&with_field("/key", "back", asked)).into_response();
    }
    Failure::unknown_phone().into_response()
}

fn peer(extensions: &Extensions) -> Option<IpAddr> {
    extensions.get::<ConnectInfo<SocketAddr>>().map(|peer| peer.0.ip().to_canonical())
}

/// A request from the machine itself. One that a program on this machine passes on for somebody
/// else says so, and is not.
fn is_this_machine(extensions: &Extensions, headers: &HeaderMap) -> bool {
    let is_passed_on = ["forwarded", "x-forwarded-for", "x-real-ip", "via"]
        .into_iter()
        .any(|name| headers.contains_key(name));
    peer(extensions).is_some_and(|ip| ip.is_loopback()) && !is_passed_on
}

/// `/key`
async fn ask(State(door): State<Door>, Asked(asked): Asked, headers: HeaderMap) -> Response {
    if door.phones.is_none() {
        return Redirect::to(asked.back()).into_response();
    }
    asking(You::of(&headers), asked.back(), String::new())
}

fn asking(you: You, back: &str, wrong: String) -> Response {
    let frame = Frame::outside("The key of this room", you);
    html(&Page { frame, wrong, longest: LONGEST_NAME, back: back.to_owned() })
}

/// The page again, saying what was wrong.
fn again(status: StatusCode, you: You, back: &str, wrong: &str) -> Response {
    let mut page = asking(you, back, wrong.to_owned());
    *page.status_mut() = status;
    page
}

/// The form of that page.
async fn enter(
    State(door): State<Door>,
    extensions: Extensions,
    headers: HeaderMap,
    Filled(form): Filled,
) -> Result<Response, Failure> {
    let Some(phones) = &door.phones else { return Ok(Redirect::to(form.back()).into_response()) };
    let you = You { name: name(&form)?, measures: You::of(&headers).measures };
    let typed = form.get("key").unwrap_or_default();
    let today = door.site.zone().day_of(store::now());
    let entered = phones.enter(typed, peer(&extensions), &you.name, today);
    match entered.map_err(|why| Failure::unkept(&why))? {
        Entered::Wrong => {
            let wrong = "This is not the key. Compare it letter by letter.";
            Ok(again(StatusCode::FORBIDDEN, you, form.back(), wrong))
        }
        Entered::Wait(wait) => {
            let seconds = wait.as_secs() + 1;
            let wrong =
                format!("Too many wrong keys: this one was not looked at. Wait {seconds} seconds.");
            let mut page = again(StatusCode::TOO_MANY_REQUESTS, you, form.back(), &wrong);
            page.headers_mut().insert(header::RETRY_AFTER, HeaderValue::from(seconds));
            Ok(page)
        }
        Entered::Known(token) => {
            let mut response = known(&you, form.back());
            let kept = format!(
                "{COOKIE}={}; Path=/; Max-Age=31536000; HttpOnly; SameSite=Strict",
                token.as_str()
            );
            if let Ok(kept) = HeaderValue::from_str(&kept) {
                response.headers_mut().append(header::SET_COOKIE, kept);
            }
            Ok(response)
        }
    }
}
