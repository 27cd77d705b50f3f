//! All animals, in rack order.

use askama::Template;
use axum::response::{IntoResponse, Redirect, Response};
use records::colony::{Bearer, Presence};
use records::{RecordId, Sex};

use crate::asking::Asked;
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::notice::notice;
use crate::rack;
use crate::said::unbroken;
use crate::site::{Site, View};
use crate::tonight::tub;

/// One animal.
struct Row {
    code: String,
    name: String,
    link: String,
    tub: String,
    sex: &'static str,
    genes: String,
    weight: String,
    /// Whether records about its genes cannot all be true.
    clashes: bool,
}

#[derive(Template)]
#[template(path = "animals.html")]
struct Page {
    frame: Frame,
    here: Vec<Row>,
    loose: Vec<Row>,
    gone: Vec<Row>,
    is_empty: bool,
    find: String,
    on: String,
    day: String,
    new_ids: (RecordId, RecordId, RecordId),
}

/// `/animals`
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let find = asked.get("find").unwrap_or_default().to_lowercase();
    if let Bearer::One(place) = view.colony.bearer(&find, None) {
        return Ok(Redirect::to(&view.animal_link(place)).into_response());
    }
    let mut places: Vec<usize> = (0..view.colony.animals.len()).collect();
    places.retain(|p| view.colony.animals[*p].presence(view.day) != Presence::NotYet);
    places.retain(|p| find.is_empty() || words(&view, *p).contains(&find));
    places.sort_by_key(|p| (rack::order(tub(&view, *p)), rack::order(Some(view.colony.code(*p)))));
    let is_here = |p: &usize| view.colony.animals[*p].presence(view.day) == Presence::InHouse;
    let (here, gone): (Vec<usize>, Vec<usize>) = places.into_iter().partition(is_here);
    let has_tub = |p: &usize| tub(&view, *p).is_some();
    let (racked, loose): (Vec<usize>, Vec<usize>) = here.into_iter().partition(has_tub);
    let in_clash = site.in_clash(&view.colony);
    let rows = |places: Vec<usize>| {
        places.into_iter().map(|p| row(&view, p, in_clash.contains(&p))).collect()
    };
    let frame =
        Frame::around(&view, "Animals", "Animals", "/animals").with(notice(&site, &view, &asked));
    let page = Page {
        is_empty: view.colony.animals.is_empty(),
        find,
        on: view.on.map_or_else(String::new, |on| on.to_string()),
        frame,
        day: view.day.to_string(),
        new_ids: (store::new_id(), store::new_id(), store::new_id()),
        here: rows(racked),
        loose: rows(loose),
        gone: rows(gone),
    };
    Ok(html(&page))
}

/// What can be looked for, in small letters.
fn words(view: &View, place: usize) -> String {
    let animal = &view.colony.animals[place];
    let genes = animal.genes.as_ref().map_or("", |(genes, _)| genes);
    let tub = tub(view, place).unwrap_or_default();
    format!("{} {tub} {genes}", view.called(place)).to_lowercase()
}

fn row(view: &View, place: usize, clashes: bool) -> Row {
    let animal = &view.colony.animals[place];
    Row {
        clashes,
        code: view.colony.code(place).to_owned(),
        name: animal.name.clone().unwrap_or_default(),
        link: view.animal_link(place),
        tub: view.tub(place),
        sex: sex(animal.sex()),
        genes: animal.genes.as_ref().map_or_else(String::new, |(genes, _)| genes.clone()),
        weight: animal
            .last_weight()
            .map_or_else(String::new, |w| unbroken(&view.you.measures.mass(w.what))),
    }
}

/// The word for a sex that may not be told.
pub const fn sex(sex: Option<Sex>) -> &'static str {
    match sex {
        Some(sex) => sex.word(),
        None => "sex not told",
    }
}
