//! Tonight: the walk from tub to tub.

use answers::FemaleStanding;
use answers::tonight::{MoveShown, Tonight};
use askama::Template;
use axum::extract::State;
use axum::response::Response;

use crate::asking::Asked;
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::notice::notice;
use crate::rack;
use crate::site::{Site, View};
use crate::strip::{Form, strip};

/// One line of the walk.
pub struct Step {
    /// His tub.
    pub from: String,
    /// Her tub.
    pub to: String,
    /// Him.
    pub male: String,
    /// Her.
    pub female: String,
    /// Her page.
    pub link: String,
    /// Her strip, small.
    pub strip: String,
    /// Why.
    pub why: String,
}

/// A female that stays alone.
struct Alone {
    tub: String,
    name: String,
    link: String,
    strip: String,
    why: String,
}

/// Something due.
struct Due {
    what: &'static str,
    tub: String,
    name: String,
    link: String,
    by: String,
    is_late: bool,
    why: String,
}

#[derive(Template)]
#[template(path = "tonight.html")]
struct Page {
    frame: Frame,
    summary: String,
    is_empty: bool,
    moves: Vec<Step>,
    done: Vec<Step>,
    in_need: Vec<Alone>,
    others: Vec<Alone>,
    due: Vec<Due>,
    round: String,
}

/// `/`
pub async fn page(State(site): State<Site>, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let tonight = site.tonight(&view);
    let title = format!("Night of {}", view.night().spoken());
    let frame = Frame::around(&view, title, "Tonight", "/").with(notice(&site, &view, &asked));
    let done: Vec<Step> = steps(&view, &tonight, tonight.done.iter().chain(&tonight.left_alone));
    let moves = steps(&view, &tonight, tonight.moves.iter());
    let (in_need, others): (Vec<_>, Vec<_>) = tonight.left_out.iter().partition(|l| l.in_need);
    let alone = |all: Vec<&answers::LeftOutShown>| {
        let mut all: Vec<_> = all
            .into_iter()
            .map(|l| (rack::order(tub(&view, l.female)), alone(&view, &tonight, l)))
            .collect();
        all.sort_by(|a, b| a.0.cmp(&b.0));
        all.into_iter().map(|(_, alone)| alone).collect::<Vec<_>>()
    };
    let in_need = alone(in_need);
    let page = Page {
        summary: summary(&moves, &done, &in_need, tonight.due.len()),
        is_empty: view.colony.animals.is_empty(),
        frame,
        moves,
        done,
        in_need,
        others: alone(others),
        due: due(&view, &tonight),
        round: view.link("/round/evening"),
    };
    Ok(html(&page))
}

fn summary(moves: &[Step], done: &[Step], in_need: &[Alone], due: usize) -> String {
    let count = |n: usize, one: &str, many: &str| match n {
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    };
    let mut said = vec![count(moves.len(), "move in rack order", "moves in rack order")];
    if !done.is_empty() {
        said.push(count(done.len(), "pair together already", "pairs together already"));
    }
    said.push(count(
        in_need.len(),
        "female in need without a male",
        "females in need without a male",
    ));
    said.push(format!("{due} due"));
    said.join(" · ")
}

pub fn tub(view: &View, place: usize) -> Option<&str> {
    view.colony.animals[place].tub_on(view.day).map(records::Tub::as_str)
}

fn small_strip(view: &View, females: &[FemaleStanding], place: usize) -> String {
    let female = females.iter().find(|f| f.place == place);
    female.map_or_else(String::new, |female| strip(view, female, Form::Small))
}

/// Moves as lines of the walk, in rack order of the males.
pub fn steps<'a>(
    view: &View,
    tonight: &Tonight,
    moves: impl Iterator<Item = &'a MoveShown>,
) -> Vec<Step> {
    let mut moves: Vec<&MoveShown> = moves.collect();
    moves.sort_by_key(|m| (rack::order(tub(view, m.male)), rack::order(tub(view, m.female))));
    moves
        .into_iter()
        .map(|m| Step {
            from: view.tub(m.male),
            to: view.tub(m.female),
            male: view.called(m.male),
            female: view.called(m.female),
            link: view.animal_link(m.female),
            strip: small_strip(view, &tonight.females, m.female),
            why: m.reason.clone(),
        })
        .collect()
}

fn alone(view: &View, tonight: &Tonight, left: &answers::LeftOutShown) -> Alone {
    Alone {
        tub: view.tub(left.female),
        name: view.called(left.female),
        link: view.animal_link(left.female),
        strip: small_strip(view, &tonight.females, left.female),
        why: left.reason.clone(),
    }
}

fn due(view: &View, tonight: &Tonight) -> Vec<Due> {
    let line = |d: &answers::tonight::DueShown| Due {
        what: d.what,
        tub: view.tub(d.animal),
        name: view.called(d.animal),
        link: view.animal_link(d.animal),
        by: d.by.short(),
        is_late: d.by < view.day,
        why: d.reason.clone(),
    };
    tonight.due.iter().map(line).collect()
}
