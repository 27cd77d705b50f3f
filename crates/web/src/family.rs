//! The family of an animal: a chart of threads, the same in words, and a page of its own.

mod draw;
mod layout;
mod said;

use answers::family::{Family, MOST_GENERATIONS, Parents};
use answers::{ColonyKin, FamilyAsked};
use askama::Template;
use axum::response::Response;
use units::Probability;

use crate::asking::{Asked, Fields, Named, with_field};
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::notice::notice;
use crate::said::unbroken;
use crate::site::{Site, View};
use draw::Form;
use said::Part;

/// Generations drawn on the animal's own page, and young drawn one by one there.
const ON_ITS_PAGE: FamilyAsked = FamilyAsked { up: 3, down: 1, most_young: 12 };
/// Rows beyond which young are counted even where all are asked for: a page must stay a page.
const MOST_ROWS: usize = 600;

/// What is shown of a family, wherever it is shown.
#[derive(Template)]
#[template(path = "family_chart.html")]
pub struct Chart {
    narrow: String,
    wide: String,
    is_alone: bool,
    both_sides: Vec<String>,
    /// Its inbreeding, where there is any.
    inbreeding: Option<String>,
    circle: Vec<String>,
    sentences: Vec<Vec<Part>>,
    /// Links to more or less of it.
    more: Vec<(String, String)>,
}

impl Chart {
    /// For the animal's own page.
    pub fn of(view: &View, place: usize) -> Self {
        Self::asked(view, place, ON_ITS_PAGE, false)
    }

    fn asked(view: &View, place: usize, asked: FamilyAsked, is_page: bool) -> Self {
        let family = answers::family(&view.colony, place, &asked);
        let all = link(view, place, FamilyAsked { most_young: MOST_ROWS, ..asked });
        let is_alone = family.couples.is_empty();
        let draw = |form| {
            if is_alone { String::new() } else { draw::draw(view, &family, form, &all) }
        };
        Self {
            narrow: draw(Form::Narrow),
            wide: draw(Form::Wide),
            is_alone,
            both_sides: said::both_sides(view, &family),
            inbreeding: inbreeding(view, place),
            circle: family.circle.iter().map(|place| view.called(*place)).collect(),
            sentences: said::sentences(view, &family),
            more: more(view, place, &family, asked, is_page),
        }
    }
}

/// By all written ancestors, also those that are not drawn.
fn inbreeding(view: &View, place: usize) -> Option<String> {
    let inbred = ColonyKin::of(&view.colony).inbreeding(place);
    (inbred > 0.0).then(|| unbroken(&Probability::clamped(inbred).to_a_tenth()))
}

#[derive(Template)]
#[template(path = "family.html")]
struct Page {
    frame: Frame,
    name: String,
    animal: String,
    chart: Chart,
}

/// `/animal/{code}/family`
pub async fn page(
    site: Site,
    Named(code): Named,
    Asked(fields): Asked,
) -> Result<Response, Failure> {
    let view = site.look(fields.on()?)?;
    let place = crate::animal::find(&view, &code)?;
    let asked = read(&fields)?;
    let name = view.called(place);
    let path = address(&view, place, asked);
    let page = Page {
        frame: Frame::around(&view, format!("Family of {name}"), "Animals", &path)
            .with(notice(&site, &view, &fields)),
        animal: view.animal_link(place),
        chart: Chart::asked(&view, place, asked, true),
        name,
    };
    Ok(html(&page))
}

fn read(fields: &Fields) -> Result<FamilyAsked, Failure> {
    let number = |name: &str, usual: usize| match fields.get(name) {
        None => Ok(usual),
        Some(text) => {
            let n = text.parse().ok().filter(|n| *n <= MOST_GENERATIONS);
            n.ok_or_else(|| {
                Failure::typed(
                    format!("\"{text}\" is no number of generations that can be drawn."),
                    format!("Write {name}=0 to {name}={MOST_GENERATIONS}."),
                )
            })
        }
    };
    let draws_all = fields.get("young") == Some("all");
    Ok(FamilyAsked {
        up: number("up", 4)?,
        down: number("down", 1)?,
        most_young: if draws_all { MOST_ROWS } else { ON_ITS_PAGE.most_young },
    })
}

/// The page without its day.
fn address(view: &View, place: usize, asked: FamilyAsked) -> String {
    let animal = view.animal_name(place);
    let page = format!("/animal/{animal}/family?up={}&down={}", asked.up, asked.down);
    if asked.most_young > ON_ITS_PAGE.most_young { with_field(&page, "young", "all") } else { page }
}

fn link(view: &View, place: usize, asked: FamilyAsked) -> String {
    view.link(&address(view, place, asked))
}

fn more(
    view: &View,
    place: usize,
    family: &Family,
    asked: FamilyAsked,
    is_page: bool,
) -> Vec<(String, String)> {
    let mut more = Vec::new();
    let mut add = |said: String, asked| more.push((said, link(view, place, asked)));
    let ends = family.members.iter().filter(|m| m.parents == Parents::NotDrawn);
    let goes_on = ends.into_iter().any(said::is_ancestor);
    if goes_on && asked.up < MOST_GENERATIONS {
        add("One generation further back".into(), FamilyAsked { up: asked.up + 1, ..asked });
    }
    if is_page && asked.up > 1 {
        add("One generation fewer back".into(), FamilyAsked { up: asked.up - 1, ..asked });
    }
    if family.n_young > asked.most_young && asked.most_young < MOST_ROWS {
        let said = format!("All {} young one by one", family.n_young);
        add(said, FamilyAsked { most_young: MOST_ROWS, ..asked });
    } else if is_page && asked.most_young >= MOST_ROWS {
        let asked = FamilyAsked { most_young: ON_ITS_PAGE.most_young, ..asked };
        add("Young counted by clutch".into(), asked);
    }
    if is_page && family.n_young > 0 && asked.down < MOST_GENERATIONS {
        add("Young of the young too".into(), FamilyAsked { down: asked.down + 1, ..asked });
    }
    if !is_page && !family.couples.is_empty() {
        add("A page of its own".into(), FamilyAsked { up: 4, ..asked });
    }
    more
}
