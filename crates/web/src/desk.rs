//! The desk: what contradicts itself, and rows that wait for an answer.

use askama::Template;
use axum::response::Response;
use records::doubts::doubts;

use crate::asking::Asked;
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::history::{told, written_by};
use crate::notice::notice;
use crate::site::{Site, View};

/// Records that cannot all be true.
struct DoubtShown {
    kind: &'static str,
    day: String,
    what: String,
    todo: &'static str,
    records: Vec<RecordShown>,
}

/// One of the records of a doubt, with the page on which it can be corrected or withdrawn.
struct RecordShown {
    said: String,
    source: String,
    link: Option<String>,
}

/// A row that waits.
struct HeldShown {
    source: String,
    column: String,
    value: String,
    why: String,
    cells: Vec<(String, String)>,
}

#[derive(Template)]
#[template(path = "desk.html")]
struct Page {
    frame: Frame,
    doubts: Vec<DoubtShown>,
    held: Vec<HeldShown>,
}

/// `/desk`
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let found = doubts(&view.colony);
    let shown = found.into_iter().rev().map(|doubt| DoubtShown {
        kind: doubt.kind.word(),
        day: doubt.day.map_or_else(String::new, |day| day.to_string()),
        what: doubt.what,
        todo: doubt.remedy,
        records: doubt.records.iter().filter_map(|id| record(&view, *id)).collect(),
    });
    let page = Page {
        frame: Frame::around(&view, "Desk", "Desk", "/desk").with(notice(&site, &view, &asked)),
        doubts: shown.collect(),
        held: held(&view),
    };
    Ok(html(&page))
}

fn source(view: &View, id: records::RecordId) -> String {
    let live = view.colony.record(id);
    live.map_or_else(String::new, |live| written_by(&live.who, live.source.as_ref()))
}

fn record(view: &View, id: records::RecordId) -> Option<RecordShown> {
    let live = view.colony.record(id)?;
    let animal = live.fact.animals(live.id).into_iter().find_map(|id| view.colony.place_of(id));
    Some(RecordShown {
        said: told(view, &live.fact),
        source: source(view, id),
        link: animal.map(|place| view.animal_link(place)),
    })
}

fn held(view: &View) -> Vec<HeldShown> {
    let shown = view.colony.held.iter().map(|(id, held)| HeldShown {
        source: source(view, *id),
        column: held.column.clone(),
        value: held.value.clone(),
        why: held.why.clone(),
        cells: held.headings.iter().cloned().zip(held.cells.iter().cloned()).collect(),
    });
    shown.collect()
}
