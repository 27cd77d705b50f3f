//! The season: every female as a growth strip, sorted by what happens next.

use answers::{FemaleStanding, Phase, follicles};
use askama::Template;
use axum::response::Response;
use units::{Day, DaySpan, Estimate};

use crate::asking::Asked;
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::notice::notice;
use crate::said::unbroken;
use crate::site::{Site, View};
use crate::strip::{Form, strip};

/// One female.
struct Row {
    name: String,
    genes: String,
    tub: String,
    link: String,
    phase: &'static str,
    next: String,
    narrow: String,
    wide: String,
}

#[derive(Template)]
#[template(path = "season.html")]
struct Page {
    frame: Frame,
    groups: Vec<Group>,
    n_females: usize,
    is_empty: bool,
}

/// Females whose next event falls into one stretch of time.
struct Group {
    what: &'static str,
    anchor: &'static str,
    rows: Vec<Row>,
}

impl Group {
    /// Those without a date ahead are folded: there is nothing to wait for yet.
    fn is_folded(&self) -> bool {
        self.anchor == "undated"
    }
}

/// Name and anchor of each stretch, with the days until it ends.
const STRETCHES: [(&str, &str, i32); 3] =
    [("This week", "week", 7), ("Within a month", "month", 31), ("Later", "later", i32::MAX)];

/// `/season`
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let mut females = follicles(&view.colony, &site.forecasts(&view.colony));
    females.sort_by_key(|f| {
        let next = next(f);
        let date = next.as_ref().map(|next| next.date.median);
        (next.is_none_or(|next| next.is_unlikely), date, phase_order(f.phase))
    });
    let n_females = females.len();
    let groups = groups(&view, &females);
    let title = format!("Season {}", view.colony.season().name());
    let frame = Frame::around(&view, title, "Season", "/season").with(notice(&site, &view, &asked));
    let is_empty = view.colony.animals.is_empty();
    Ok(html(&Page { frame, groups, n_females, is_empty }))
}

/// The females, already in order, by stretches of time; empty ones are left out.
fn groups(view: &View, females: &[FemaleStanding]) -> Vec<Group> {
    let mut all: Vec<Group> = STRETCHES
        .iter()
        .map(|(what, anchor, _)| Group { what, anchor, rows: vec![] })
        .chain([Group { what: "No date ahead", anchor: "undated", rows: vec![] }])
        .collect();
    for female in females {
        let days = next(female).map(|next| next.date.median.days_since(view.day));
        let at = days.and_then(|days| STRETCHES.iter().position(|(.., end)| days <= *end));
        all[at.unwrap_or(STRETCHES.len())].rows.push(row(view, female));
    }
    all.retain(|group| !group.rows.is_empty());
    all
}

const fn phase_order(phase: Phase) -> u8 {
    match phase {
        Phase::Building => 0,
        Phase::Resting => 1,
        Phase::Unchecked => 2,
        Phase::Resorbed => 3,
        Phase::Ovulated | Phase::Shed | Phase::Laid => 4,
    }
}

/// Below this chance of what is next she stands after those of whom it is likelier. Our choice.
const LEAST_CHANCE: f64 = 0.5;

/// What happens next and when.
struct Next {
    what: String,
    date: Estimate<Day>,
    is_unlikely: bool,
}

fn next(female: &FemaleStanding) -> Option<Next> {
    let chain = &female.chain;
    if matches!(female.phase, Phase::Ovulated | Phase::Shed | Phase::Laid) {
        let steps =
            [("pre-lay shed", &chain.shed), ("laying", &chain.laying), ("hatch", &chain.hatch)];
        let found = steps.into_iter().find_map(|(what, date)| Some((what, date.clone()?)));
        return found.map(|(what, date)| Next { what: what.to_owned(), date, is_unlikely: false });
    }
    let a = female.next()?;
    let what = match a.milestone {
        "ovulation" => "ovulation".to_owned(),
        size => format!("{size} mm"),
    };
    let chance = (a.passage.ahead.get() * 100.0).round();
    let sure = if chance >= 95.0 { String::new() } else { format!(" ({chance} % chance)") };
    Some(Next {
        what: format!("{what}{sure}"),
        date: a.date.clone()?,
        is_unlikely: a.passage.ahead.get() < LEAST_CHANCE,
    })
}

/// "22 mm about 16 Feb (9–25 Feb)".
pub fn next_words(female: &FemaleStanding) -> String {
    next(female).map_or_else(String::new, |Next { what, date, .. }| {
        let span = unbroken(&DaySpan::between(date.low, date.high).to_string());
        let span = span.replace('–', "\u{2060}–\u{2060}");
        format!("next: {what} about {} ({span})", unbroken(&date.median.short()))
    })
}

fn row(view: &View, female: &FemaleStanding) -> Row {
    let animal = &view.colony.animals[female.place];
    Row {
        name: view.called(female.place),
        genes: animal.genes.as_ref().map_or_else(String::new, |(genes, _)| genes.clone()),
        tub: view.tub(female.place),
        link: view.animal_link(female.place),
        phase: female.said(),
        next: next_words(female),
        narrow: strip(view, female, Form::Narrow),
        wide: strip(view, female, Form::Wide),
    }
}
