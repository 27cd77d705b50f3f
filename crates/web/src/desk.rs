//! The desk: what contradicts itself, and rows that wait for an answer.

mod forms;
mod genes;
mod right;
mod waiting;

use askama::Template;
use axum::response::Response;
use records::RecordId;
use records::doubts::doubts;

use crate::asking::{Asked, with_field};
use crate::correct::can_be_told_again;
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::history::{told, written_by};
use crate::notice::notice;
use crate::site::{Site, View};
use genes::{GeneDoubtShown, ParentShown};
pub use right::right;
use waiting::QuestionShown;
pub use waiting::{answered, left_out};

/// Records that cannot all be true.
struct DoubtShown {
    kind: &'static str,
    day: String,
    what: String,
    todo: &'static str,
    records: Vec<RecordShown>,
    /// Forms that put it right: what each says, and where it is.
    correct: Vec<(String, String)>,
    /// The batch in which all of them are said to be right, where they can be.
    right: Option<RecordId>,
}

/// One of the records of a doubt, with the page on which it can be corrected or withdrawn.
struct RecordShown {
    said: String,
    source: String,
    /// The animal it is about.
    link: Option<String>,
    /// Where it can be told again.
    correct: Option<String>,
    id: RecordId,
    /// A fresh id for its withdrawal.
    withdraw: RecordId,
}

#[derive(Template)]
#[template(path = "desk.html")]
struct Page {
    frame: Frame,
    doubts: Vec<DoubtShown>,
    gene_doubts: Vec<GeneDoubtShown>,
    /// Parents that genes speak against or that are left out.
    parent_doubts: Vec<ParentShown>,
    questions: Vec<QuestionShown>,
    n_questions: usize,
    n_held: usize,
    /// Clutches that wait to hatch, and those of which it is not written where the eggs lie.
    eggs: (usize, usize),
    eggs_link: String,
}

/// `/desk`
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let found = doubts(&view.colony);
    let (questions, n_questions) = waiting::shown(&view);
    let shown = found.into_iter().rev().map(|doubt| DoubtShown {
        correct: forms::forms(&view, &doubt),
        kind: doubt.kind.word(),
        day: doubt.day.map_or_else(String::new, |day| day.to_string()),
        what: doubt.what,
        todo: doubt.remedy,
        right: (doubt.kind.may_all_be_right() && doubt.records.len() > 1).then(store::new_id),
        records: doubt.records.iter().filter_map(|id| record(&view, *id)).collect(),
    });
    let page = Page {
        frame: Frame::around(&view, "Desk", "Desk", "/desk").with(notice(&site, &view, &asked)),
        doubts: shown.collect(),
        gene_doubts: genes::shown(&site, &view),
        parent_doubts: genes::of_parents(&site, &view),
        questions,
        n_questions,
        n_held: view.colony.held.len(),
        eggs: crate::eggs::waiting(&view),
        eggs_link: view.link("/eggs"),
    };
    Ok(html(&page))
}

fn source(view: &View, id: RecordId) -> String {
    let live = view.colony.record(id);
    live.map_or_else(String::new, |live| written_by(&live.who, live.source.as_ref()))
}

fn record(view: &View, id: RecordId) -> Option<RecordShown> {
    let live = view.colony.record(id)?;
    let animal = live.fact.animals(live.id).into_iter().find_map(|id| view.colony.place_of(id));
    Some(RecordShown {
        said: told(view, &live.fact),
        source: source(view, id),
        link: animal.map(|place| view.animal_link(place)),
        correct: can_be_told_again(&live.fact)
            .then(|| with_field(&view.link(&format!("/correct/{id}")), "back", "/desk")),
        id,
        withdraw: store::new_id(),
    })
}
