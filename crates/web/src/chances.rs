//! Chances of a planned pair. It begins with her: which males could she go with, and what would a
//! clutch by each of them bring?

mod asked;
mod clutch;
mod egg;
mod house;
mod kin;
mod mix;
mod nest;
mod order;
mod pair;
pub mod planning;
mod words;

use answers::planned_pairs::{PairPlanned, Wanted};
use askama::Template;
use axum::response::Response;
use records::colony::Presence;
use records::words::Choice;
use records::{RecordId, Sex};

use crate::asking::Asked;
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::notice::notice;
use crate::rack;
use crate::site::{Site, View};
use crate::tonight::tub;
use asked::{Parent, Query};

/// A planned pair as a phrase, with what withdraws it.
pub struct PlanLine {
    /// "first choice M02 Burdock".
    pub said: String,
    /// The page of its chances; none for a plan that names genes.
    pub link: Option<String>,
    /// The record that plans it, where it was written down.
    pub record: Option<RecordId>,
    /// A fresh id for its withdrawal.
    pub withdrawal: RecordId,
}

/// A female of the house.
struct Her {
    tub: String,
    name: String,
    genes: String,
    link: String,
    planned: Vec<PlanLine>,
}

#[derive(Template)]
#[template(path = "chances.html")]
struct Page {
    frame: Frame,
    season: String,
    is_empty: bool,
    problem: Option<String>,
    on: String,
    n_planned: usize,
    females: Vec<Her>,
    others: Vec<Her>,
}

/// `/chances`
pub async fn page(site: Site, Asked(fields): Asked) -> Result<Response, Failure> {
    let view = site.look(fields.on()?)?;
    let query = Query::of(&fields)?;
    let notice = notice(&site, &view, &fields);
    let Some(text) = &query.her else { return Ok(choose(&site, &view, notice, None)) };
    let again = |her| Query { her: Some(her), ..query.clone() }.link(&view);
    let her = Parent::of_text(&view, text, &again);
    if let Some(problem) = her.wrong_sex(&view, Sex::Female) {
        return Ok(choose(&site, &view, notice, Some(problem)));
    }
    let Some(text) = &query.him else { return Ok(house::page(&site, &view, &query, &her, notice)) };
    let again = |him| query.with_him(him).link(&view);
    let him = Parent::of_text(&view, text, &again);
    if let Some(problem) = him.wrong_sex(&view, Sex::Male) {
        return Ok(choose(&site, &view, notice, Some(problem)));
    }
    Ok(pair::page(&site, &view, &query, (&her, &him), notice))
}

/// The planned pairs of the season.
pub fn plans(site: &Site, view: &View) -> Vec<PairPlanned> {
    let carrying = site.carrying(&view.colony);
    answers::planned_pairs(&view.colony, &|animal, wanted| carrying.chance(animal, wanted))
}

/// "first choice", with its weight where that is not the ordinary one.
pub fn choice(plan: &PairPlanned) -> String {
    if plan.is_ruled_out() {
        return "ruled out".to_owned();
    }
    let choice = match plan.choice {
        Choice::First => "first choice",
        Choice::Second => "second choice",
    };
    if (plan.weight - 1.0).abs() < 1e-9 {
        choice.to_owned()
    } else {
        format!("{choice}, weight {}", plan.weight)
    }
}

/// The planned pairs of an animal of either sex, for its own page.
pub fn plans_of(site: &Site, view: &View, place: usize) -> Vec<PlanLine> {
    let plans = plans(site, view);
    let hers = plans.iter().filter(|p| p.female == place).map(|p| plan_line(view, p));
    let his = plans.iter().filter(|p| p.wanted == Wanted::Male(place)).map(|p| {
        let line = plan_line(view, p);
        let him = format!("{}:", view.called(place));
        PlanLine {
            said: line.said.replacen(&him, &format!("{}:", view.called(p.female)), 1),
            ..line
        }
    });
    hers.chain(his).collect()
}

/// The line of a plan, seen from her.
pub fn plan_line(view: &View, plan: &PairPlanned) -> PlanLine {
    let (him, link) = match &plan.wanted {
        Wanted::Male(male) => {
            let query = Query {
                her: Some(code_or_id(view, plan.female)),
                him: Some(code_or_id(view, *male)),
                ..Query::default()
            };
            (view.called(*male), Some(query.link(view)))
        }
        Wanted::Carrying(genes) => (format!("any male with {genes}"), None),
    };
    let since = if plan.is_written {
        String::new()
    } else {
        format!(", by their night of {}", plan.since.short())
    };
    PlanLine {
        said: format!("{him}: {}{since}", choice(plan)),
        link,
        record: plan.is_written.then_some(plan.record),
        withdrawal: store::new_id(),
    }
}

fn choose(
    site: &Site,
    view: &View,
    notice: Option<crate::notice::Notice>,
    problem: Option<String>,
) -> Response {
    let plans = plans(site, view);
    let is_hers = |place: &usize| {
        let animal = &view.colony.animals[*place];
        animal.sex() == Some(Sex::Female) && animal.presence(view.day) == Presence::InHouse
    };
    let mut places: Vec<usize> = (0..view.colony.animals.len()).filter(is_hers).collect();
    places.sort_by_key(|p| (rack::order(tub(view, *p)), rack::order(Some(view.colony.code(*p)))));
    let rules = answers::settings::rules(&view.colony);
    let breeds = |place: &usize| {
        let mass = view.colony.animals[*place].last_weight().map(|w| w.what);
        let is_large = rules.female_at_least.is_none_or(|least| mass.is_some_and(|m| m >= least));
        is_large || plans.iter().any(|p| p.female == *place)
    };
    let (females, others): (Vec<usize>, Vec<usize>) = places.into_iter().partition(breeds);
    let her = |place: usize| Her {
        tub: view.tub(place),
        name: view.called(place),
        genes: sheets::told::told(&view.colony.animals[place])
            .unwrap_or("genes not written")
            .into(),
        link: house_link(view, place),
        planned: plans.iter().filter(|p| p.female == place).map(|p| plan_line(view, p)).collect(),
    };
    let page = Page {
        frame: Frame::around(view, "Chances", "Chances", "/chances").with(notice),
        season: view.colony.season().name(),
        is_empty: view.colony.animals.is_empty(),
        problem,
        on: view.on.map_or_else(String::new, |on| on.to_string()),
        n_planned: plans.iter().filter(|p| !p.is_ruled_out()).count(),
        females: females.into_iter().map(her).collect(),
        others: others.into_iter().map(her).collect(),
    };
    html(&page)
}

/// The page of all males beside this female.
pub fn house_link(view: &View, place: usize) -> String {
    Query { her: Some(code_or_id(view, place)), ..Query::default() }.link(view)
}

/// The code of an animal, or its id where the code is not its alone.
fn code_or_id(view: &View, place: usize) -> String {
    let code = view.colony.code(place);
    match view.colony.bearer(code, Some(view.day)) {
        records::colony::Bearer::One(bearer) if bearer == place => code.to_owned(),
        _ => view.colony.animals[place].id.to_string(),
    }
}
