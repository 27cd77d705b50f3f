//! What stands around every page.

use askama::Template;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use units::Day;

use crate::keys;
use crate::notice::Notice;
use crate::site::View;
use crate::you::You;

/// Days without a record after which a page says so.
const STALE_DAYS: i32 = 60;

/// What stands around a page.
pub struct Frame {
    /// Its title.
    pub title: String,
    /// Which entry of the navigation it belongs to.
    pub here: &'static str,
    /// The entries: name and address.
    pub nav: Vec<(&'static str, String)>,
    /// The page's own address, to come back to.
    pub path: String,
    /// The day asked for, where one was: as said aloud, and the page as of now.
    pub asked: Option<String>,
    /// The newest record is old: its day, and this page on its evening.
    pub stale: Option<(String, String)>,
    /// What was just written.
    pub notice: Option<Notice>,
    /// Whether something is being worked out by which dates may change.
    pub is_working: bool,
    /// Who looks.
    pub you: You,
    /// The page on which they say so, and back.
    pub you_link: String,
    /// The page of settings as of the same day.
    pub settings_link: String,
    /// Where the room is made up: where it stands.
    pub made_up: Option<MadeUp>,
}

/// The day a made-up room stands on, and the page to come back to after a step.
pub struct MadeUp {
    /// As a form carries it.
    pub day: String,
    /// As said aloud.
    pub spoken: String,
    /// The page, as of the day the room stands on.
    pub back: String,
}

impl Frame {
    /// Around a page that looks at the journal. `path` without its day.
    pub fn around(view: &View, title: impl Into<String>, here: &'static str, path: &str) -> Self {
        let stale = view.newest.filter(|newest| view.day.days_since(*newest) > STALE_DAYS);
        let on_newest = |day| crate::asking::with_field(path, "on", &format!("{day}"));
        Self {
            title: title.into(),
            here,
            nav: nav(|to| view.link(to)),
            path: view.link(path),
            asked: view.on.map(Day::spoken_with_year),
            stale: stale.map(|day| (day.spoken_with_year(), on_newest(day))),
            notice: None,
            is_working: view.working.is_under_way(),
            you: view.you.clone(),
            you_link: crate::asking::with_field("/you", "back", &view.link(path)),
            settings_link: view.link("/settings"),
            made_up: view.is_made_up.then(|| MadeUp {
                day: view.today.to_string(),
                spoken: format!("{} {}", view.today.spoken_with_weekday(), view.today.year()),
                back: path.to_owned(),
            }),
        }
    }

    /// Around a page that knows nothing of the journal.
    pub fn bare(title: &str) -> Self {
        Self {
            title: title.into(),
            here: "",
            nav: nav(str::to_owned),
            path: "/".into(),
            asked: None,
            stale: None,
            notice: None,
            is_working: false,
            you: You::default(),
            you_link: "/you".into(),
            settings_link: "/settings".into(),
            made_up: None,
        }
    }

    /// Around the page before the door: it leads nowhere yet.
    pub fn outside(title: &str, you: You) -> Self {
        Self { nav: Vec::new(), you, ..Self::bare(title) }
    }

    /// The letter that leads to each page, and its name.
    pub fn letters(&self) -> Vec<(char, &'static str)> {
        let letters = keys::letters(self.nav.iter().map(|entry| entry.0));
        letters.into_iter().zip(self.nav.iter().map(|entry| entry.0)).collect()
    }

    /// The letter that leads to one page.
    pub fn letter(&self, name: &str) -> String {
        let found = self.letters().into_iter().find(|(_, of)| *of == name);
        found.map_or_else(String::new, |(letter, _)| letter.to_string())
    }

    /// The same, saying what was just written.
    pub fn with(mut self, notice: Option<Notice>) -> Self {
        self.notice = notice;
        self
    }
}

fn nav(link: impl Fn(&str) -> String) -> Vec<(&'static str, String)> {
    let pages = [
        ("Tonight", "/"),
        ("Round", "/round"),
        ("Season", "/season"),
        ("Chances", "/chances"),
        ("Eggs", "/eggs"),
        ("Animals", "/animals"),
        ("Desk", "/desk"),
        ("Learned", "/learned"),
        ("Import", "/import"),
    ];
    pages.into_iter().map(|(name, to)| (name, link(to))).collect()
}

/// The page as a response. It changes with every record, so nothing may keep it.
pub fn html(page: &impl Template) -> Response {
    let Ok(body) = page.render() else {
        return (StatusCode::INTERNAL_SERVER_ERROR, "The page could not be written.")
            .into_response();
    };
    let headers = [
        (header::CONTENT_TYPE, HeaderValue::from_static("text/html; charset=utf-8")),
        (header::CACHE_CONTROL, HeaderValue::from_static("no-store")),
    ];
    (headers, body).into_response()
}
