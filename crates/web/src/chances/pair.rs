//! One female and one male: every look their young can have.

use answers::pair_chances::{LookShown, PairChances, pair_chances};
use answers::suitors::kin;
use answers::{PairPlanned, Wanted};
use askama::Template;
use axum::response::Response;
use records::RecordId;
use sheets::catalogue_file::builtin;

use super::asked::{Asks, Parent, Query, Wish};
use super::egg::{Piece, Size, egg};
use super::{PlanLine, plan_line, plans, words};
use crate::frame::{Frame, html};
use crate::notice::Notice;
use crate::site::{Site, View};

/// Looks reckoned at most: what a keeper will read; our choice.
const MOST: usize = 200;
/// Looks with a mark and a piece of their own.
const MARKED: usize = 24;

/// One look.
struct Line {
    mark: String,
    look: String,
    combo: Option<String>,
    hets: String,
    percent: String,
    one_in: String,
    /// Share of what hatches, where not everything does.
    hatched: Option<String>,
    /// What becomes of its eggs, where not all hatch.
    lost: Option<String>,
    fits: Option<String>,
}

/// What the wish comes to.
struct Wished {
    says: (String, Option<String>),
    per_egg: String,
    one_in: String,
}

/// What is reckoned of the pair.
struct Shown {
    eggs: Vec<(&'static str, String)>,
    lines: Vec<Line>,
    more: Vec<Line>,
    rest: Option<String>,
    wish: Option<Wished>,
    cautions: Vec<String>,
    clutch: String,
    hatching: Option<String>,
}

#[derive(Template)]
#[template(path = "chances_pair.html")]
struct Page {
    frame: Frame,
    her: (String, Option<String>, String),
    him: (String, Option<String>, String),
    back: String,
    query: Query,
    on: String,
    her_asks: Vec<Asks>,
    him_asks: Vec<Asks>,
    wish_asks: Vec<Asks>,
    problem: Option<String>,
    shown: Option<Shown>,
    planned: Vec<PlanLine>,
    replaces: Option<RecordId>,
    ids: Option<(String, String)>,
    record: RecordId,
    batch: RecordId,
    second: RecordId,
    day: String,
}

pub fn page(
    site: &Site,
    view: &View,
    query: &Query,
    (her, him): (&Parent, &Parent),
    notice: Option<Notice>,
) -> Response {
    let wish = Wish::of(query, view);
    let eggs = query.eggs();
    let mut problem = eggs.as_ref().err().cloned();
    let eggs = eggs.unwrap_or_default();
    let mut shown = None;
    if her.asks.is_empty() && him.asks.is_empty() {
        let labels = (&him.reading.label, &her.reading.label);
        match pair_chances(builtin(), labels, wish.target(), eggs, MOST) {
            Ok(answer) => shown = Some(show(&answer, query, eggs)),
            Err(why) => problem = Some(format!("Not reckoned: {why}.")),
        }
    }
    if let (Some(shown), Some(her), Some(him)) = (&mut shown, her.place, him.place) {
        shown.cautions.extend(kin(&view.colony, her, him).map(|kin| format!("he is {kin}")));
    }
    let meant = |p: &&PairPlanned| {
        Some(p.female) == her.place && him.place.is_some_and(|him| p.wanted == Wanted::Male(him))
    };
    let plans = plans(site, view);
    let planned: Vec<PlanLine> = plans.iter().filter(meant).map(|p| plan_line(view, p)).collect();
    let id = |parent: &Parent| Some(view.colony.animals[parent.place?].id.to_string());
    let about = |p: &Parent, whose| (p.name.clone(), p.link.clone(), p.rests_on(whose));
    let title = format!("A clutch of {} by {}", her.name, him.name);
    let page = Page {
        frame: Frame::around(view, title, "Chances", &query.path()).with(notice),
        her: about(her, "hers"),
        him: about(him, "his"),
        back: Query { him: None, ..query.clone() }.link(view),
        query: query.clone(),
        on: view.on.map_or_else(String::new, |on| on.to_string()),
        her_asks: her.asks.clone(),
        him_asks: him.asks.clone(),
        wish_asks: wish.asks().into_iter().cloned().collect(),
        problem,
        shown,
        replaces: planned.iter().find_map(|p| p.record),
        planned,
        ids: id(her).zip(id(him)),
        record: store::new_id(),
        batch: store::new_id(),
        second: store::new_id(),
        day: view.day.to_string(),
    };
    html(&page)
}

fn show(answer: &PairChances, query: &Query, eggs: Option<usize>) -> Shown {
    let is_thinned = answer.hatching < 1.0 - 1e-12;
    let mut lines: Vec<Line> =
        answer.looks.iter().enumerate().map(|(i, o)| line(i, o, answer, is_thinned)).collect();
    let more = lines.split_off(lines.len().min(MARKED));
    let laid = pieces(answer, false);
    let mut drawn = vec![("One fertile egg, as laid", egg(Size::Large, "laid", "As laid", &laid))];
    if is_thinned && answer.hatching > 0.0 {
        let hatched = pieces(answer, true);
        drawn.push(("One that hatches", egg(Size::Large, "hatched", "That hatches", &hatched)));
    } else if !is_thinned {
        drawn[0].0 = "One fertile egg";
    }
    Shown {
        eggs: drawn,
        lines,
        more,
        rest: (answer.rest > 1e-12).then(|| words::percent(answer.rest)),
        wish: answer.wish.zip(query.wish.as_ref()).map(|(w, text)| Wished {
            says: words::wished(w.at_least_one, text, &words::clutch(eggs)),
            per_egg: words::percent(w.per_egg),
            one_in: words::one_in(w.per_egg),
        }),
        cautions: answer.cautions.iter().map(words::caution).collect(),
        clutch: words::clutch(eggs),
        hatching: is_thinned.then(|| words::percent(answer.hatching)),
    }
}

/// A letter for each of the likeliest looks.
fn mark(i: usize) -> String {
    let letter = u8::try_from(i).ok().filter(|i| usize::from(*i) < MARKED);
    letter.map_or_else(String::new, |i| char::from(b'a' + i).to_string())
}

fn line(i: usize, o: &LookShown, answer: &PairChances, is_thinned: bool) -> Line {
    let hatched = o.chance * o.hatching / answer.hatching;
    Line {
        mark: mark(i),
        look: words::look(o),
        combo: o.combo.clone(),
        hets: words::hets(o),
        percent: words::percent(o.chance),
        one_in: words::one_in(o.chance),
        hatched: (is_thinned && answer.hatching > 0.0).then(|| words::percent(hatched)),
        lost: (o.hatching < 1.0 - 1e-12).then(|| match o.hatching {
            h if h <= 0.0 => "none is known to hatch".to_owned(),
            h => format!("{} of them are known to hatch", words::percent(h)),
        }),
        fits: o.fits.filter(|f| *f > 0.0).map(|f| {
            if f > o.hatching - 1e-12 {
                "fits the wish".to_owned()
            } else {
                format!("{} of those that hatch fit the wish", words::percent(f / o.hatching))
            }
        }),
    }
}

fn pieces(answer: &PairChances, hatched: bool) -> Vec<Piece> {
    let marked = answer.looks.iter().take(MARKED).enumerate();
    let mut pieces: Vec<Piece> = marked
        .map(|(i, o)| {
            let mut piece = words::piece(o);
            piece.mark = mark(i);
            if hatched {
                piece.share = o.chance * o.hatching / answer.hatching;
                piece.lost = 0.0;
                piece.fits = o.fits.filter(|_| o.hatching > 0.0).map(|f| f / o.hatching);
                piece.words = format!("{} {}", words::look(o), words::percent(piece.share));
            }
            piece
        })
        .collect();
    pieces.retain(|p| p.share > 0.0);
    let left = 1.0 - pieces.iter().map(|p| p.share).sum::<f64>();
    if left > 1e-9 {
        let words = format!("all other looks {}", words::percent(left));
        pieces.push(Piece { words, mark: "…".into(), share: left, lost: 0.0, fits: None });
    }
    pieces
}
