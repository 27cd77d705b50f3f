//! The track record: how often earlier forecasts held, as a picture and in sentences.

mod draw;
mod kept;

use std::time::Duration;

use answers::track::record::{Both, KindRecord, Track};
use answers::track::{Kind, Widening, said};
use askama::Template;
use axum::response::Response;

use crate::asking::Asked;
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::site::{Site, View};
use crate::worked_out::Standing;
use draw::Form;
pub(crate) use kept::Tracking;

/// How long the page waits for the record before it says that it is being worked out.
const PATIENCE: Duration = Duration::from_millis(400);

#[derive(Template)]
#[template(path = "track.html")]
struct Page {
    frame: Frame,
    is_empty: bool,
    standing: &'static str,
    again: String,
    held: [String; 2],
    errors: [String; 2],
    is_widened: bool,
    kinds: Vec<KindShown>,
    coming: Option<String>,
}

/// One kind: its sentences, and its figures by how far ahead.
struct KindShown {
    name: String,
    said: String,
    widened: Option<String>,
    /// Of how many nothing is known, and of how many not all.
    unsure: Vec<String>,
    is_widened: bool,
    rows: Vec<Row>,
}

/// One line of the table of a kind.
struct Row {
    horizon: String,
    scored: usize,
    cycles: String,
    shares: [String; 3],
    widened: String,
    error: String,
}

/// GET /track
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let frame = Frame::around(&view, "Track record", "Season", "/track");
    let again = view.link("/track");
    let is_empty = view.colony.animals.is_empty();
    let mut page = Page {
        frame,
        is_empty,
        standing: "known",
        again,
        held: Default::default(),
        errors: Default::default(),
        is_widened: false,
        kinds: Vec::new(),
        coming: None,
    };
    match site.tracking().standing(&view.colony, PATIENCE) {
        Standing::UnderWay => page.standing = "under way",
        Standing::Failed => page.standing = "failed",
        Standing::Known(track) if track.kinds.is_empty() => page.standing = "nothing yet",
        Standing::Known(track) => {
            page.held = [Form::Narrow, Form::Wide].map(|form| draw::held(&track, form));
            page.errors = [Form::Narrow, Form::Wide].map(|form| draw::errors(&track, form));
            page.is_widened = track.kinds.iter().any(|record| is_widened(&record.all));
            page.kinds = track.kinds.iter().map(|record| shown(&track, record)).collect();
            page.coming = track.coming.as_ref().map(|coming| whole(&said::coming(coming)));
        }
    }
    Ok(html(&page))
}

/// What pages with dates say of them: which are widened, and where the whole record is.
#[derive(Template)]
#[template(path = "track_fragment.html")]
pub(crate) struct Fragment {
    widened: Vec<String>,
    link: String,
}

impl Fragment {
    /// For dates that are widened so.
    pub fn of(view: &View, widening: &Widening) -> Self {
        Self::of_kinds(view, widening, Kind::ALL.as_ref())
    }

    /// For dates of some kinds.
    pub fn of_kinds(view: &View, widening: &Widening, kinds: &[Kind]) -> Self {
        let widened = kinds.iter().filter_map(|kind| said::widened(widening, *kind));
        Self { widened: widened.collect(), link: view.link("/track") }
    }
}

fn shown(track: &Track, record: &KindRecord) -> KindShown {
    let mut rows: Vec<Row> = record
        .horizons
        .iter()
        .map(|(h, both)| row(h.days().to_owned(), record.kind, both))
        .collect();
    if rows.len() != 1 {
        rows.push(row("all".to_owned(), record.kind, &record.all));
    }
    KindShown {
        name: named(record.kind),
        said: whole(&said::kind(record)),
        widened: said::widened(&track.widening, record.kind).map(|said| whole(&said)),
        unsure: said::unscored(record)
            .into_iter()
            .chain(said::unsure(record))
            .map(|said| whole(&said))
            .collect(),
        is_widened: record.horizons.iter().any(|(_, both)| is_widened(both))
            || is_widened(&record.all),
        rows,
    }
}

/// "Passing 12 mm": the heading of a kind.
fn named(kind: Kind) -> String {
    let word = said::of(kind);
    let mut letters = word.chars();
    let first = letters.next().map(char::to_uppercase);
    whole(&first.into_iter().flatten().chain(letters).collect::<String>())
}

fn is_widened(both: &Both) -> bool {
    (both.widened[1].share - both.raw.held[1].share).abs() > 5e-4
}

/// Without a break between a number and what it counts.
fn whole(text: &str) -> String {
    text.replace(" %", "\u{a0}%").replace(" mm", "\u{a0}mm")
}

fn row(horizon: String, kind: Kind, both: &Both) -> Row {
    let raw = &both.raw;
    let share = |i: usize| said::percent(raw.held[i].share);
    let eighty = &raw.held[1];
    let error = raw.error.map_or_else(
        || "–".to_owned(),
        |error| match kind.unit() {
            "days" => format!("{error:.0}"),
            _ => format!("{error:.1}"),
        },
    );
    let range = said::range(eighty.low, eighty.high);
    Row {
        horizon,
        scored: said::scored(raw),
        cycles: said::cycles(raw.sources),
        shares: [share(0), format!("{} ({range})", share(1)), share(2)],
        widened: if is_widened(both) {
            said::percent(both.widened[1].share)
        } else {
            "–".to_owned()
        },
        error,
    }
}
