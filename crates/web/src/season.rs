//! The season: every female as a growth strip, sorted and sifted by what happens next.

mod sift;

use answers::follicles::HOLDS_DAYS;
use answers::{Coming, FemaleStanding, Phase, Step, coming, follicles};
use askama::Template;
use axum::response::Response;
use units::DaySpan;

use crate::asking::Asked;
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::notice::notice;
use crate::said::unbroken;
use crate::site::{Site, View};
use crate::strip::{Form, strip};
use crate::track::Fragment;
use sift::{Choice, Order, Sift};

/// One female.
struct Row {
    name: String,
    genes: String,
    tub: String,
    link: String,
    phase: &'static str,
    next: String,
    /// Her eggs that wait to hatch.
    eggs: Vec<(String, String)>,
    narrow: String,
    wide: String,
}

#[derive(Template)]
#[template(path = "season.html")]
struct Page {
    frame: Frame,
    groups: Vec<Group>,
    n_females: usize,
    n_shown: usize,
    is_empty: bool,
    steps: Vec<(Choice, String)>,
    phases: Vec<Choice>,
    orders: Vec<(&'static str, &'static str, bool)>,
    sift: Sift,
    /// The page without any sifting, where there is some.
    all: Option<String>,
    /// That nobody was looked at for long, and where checks are written.
    unlooked: Option<(String, String)>,
    /// In one line what is shown and in which order.
    said: String,
    on: String,
    /// How earlier forecasts held, and which dates are widened for it.
    held: Fragment,
}

/// Females whose next event falls into one stretch of time; all of them in any other order.
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

/// One female and what is next for her.
struct Candidate {
    standing: FemaleStanding,
    next: Option<Coming>,
    /// What can be looked for, in small letters.
    words: String,
}

impl Candidate {
    fn step(&self) -> Option<Step> {
        self.next.as_ref().map(|next| next.step)
    }
}

/// `/season`
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let sift = Sift::asked(&asked)?;
    let forecasts = site.forecasts(&view.colony);
    let mut all: Vec<Candidate> = follicles(&view.colony, &forecasts)
        .into_iter()
        .map(|standing| candidate(&view, standing))
        .collect();
    let n_females = all.len();
    let unlooked = unlooked(&view, &all).map(|said| (said, view.link("/round/checks")));
    let (steps, phases) = (sift.steps(&view, &all), sift.phases(&all));
    all.retain(|female| sift.takes(female));
    sift.order.sort(&view, &mut all);
    let n_shown = all.len();
    let title = format!("Season {}", view.colony.season().name());
    let frame =
        Frame::around(&view, title, "Season", &sift.path()).with(notice(&site, &view, &asked));
    Ok(html(&Page {
        frame,
        groups: groups(&view, &sift, &all),
        n_females,
        n_shown,
        unlooked,
        is_empty: view.colony.animals.is_empty(),
        steps,
        phases,
        orders: sift.orders(),
        all: sift.is_on().then(|| view.link("/season")),
        said: sift.said(),
        sift,
        on: view.on.map_or_else(String::new, |on| on.to_string()),
        held: Fragment::of(&view, &forecasts.widening),
    }))
}

fn candidate(view: &View, standing: FemaleStanding) -> Candidate {
    let animal = &view.colony.animals[standing.place];
    let genes = animal.genes.as_ref().map_or("", |(genes, _)| genes);
    let (name, tub) = (view.called(standing.place), view.tub(standing.place));
    let words = format!("{name} {tub} {genes}").to_lowercase();
    let is_known = standing.checked_too_long_ago().is_none();
    let next = coming(&standing).into_iter().find(|_| is_known);
    Candidate { next, standing, words }
}

/// The females, already in order, by stretches of time where that is their order; empty ones are
/// left out.
fn groups(view: &View, sift: &Sift, females: &[Candidate]) -> Vec<Group> {
    if sift.order != Order::Date {
        let rows: Vec<Row> = females.iter().map(|female| row(view, female)).collect();
        let one = Group { what: "", anchor: "all", rows };
        return if one.rows.is_empty() { vec![] } else { vec![one] };
    }
    let mut all: Vec<Group> = STRETCHES
        .iter()
        .map(|(what, anchor, _)| Group { what, anchor, rows: vec![] })
        .chain([Group { what: "No date ahead", anchor: "undated", rows: vec![] }])
        .collect();
    for female in females {
        let days = female.next.as_ref().map(|next| next.date.median.days_since(view.day));
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

/// "next: 22 mm (62 % chance) about 16 Feb (9–25 Feb)"; of a female that nobody looked at for long,
/// that nothing says so any more.
pub fn next_words(view: &View, female: &FemaleStanding) -> String {
    if let Some((day, days)) = female.checked_too_long_ago() {
        return format!(
            "last checked {}, {}: too long to say what is next; check her",
            crate::said::dated(day),
            unbroken(&format!("{days} days ago"))
        );
    }
    let next = coming(female).into_iter().next();
    if let (None, Phase::Unchecked) = (&next, female.phase) {
        let checks = &view.colony.animals[female.place].checks;
        let last = checks.iter().rfind(|check| check.day <= view.day);
        return last.map_or_else(String::new, |check| {
            format!("last checked {}, before this cycle", crate::said::dated(check.day))
        });
    }
    next.map_or_else(String::new, |next| format!("next: {}", said(&next)))
}

/// What is the matter where nobody of these females was looked at for long, and most of them should
/// have been: the last check of any of them, and what to do.
fn unlooked(view: &View, females: &[Candidate]) -> Option<String> {
    let wants_a_look = |female: &&Candidate| {
        female.standing.phase == Phase::Unchecked
            || female.standing.checked_too_long_ago().is_some()
    };
    let n = females.iter().filter(wants_a_look).count();
    if 2 * n <= females.len() {
        return None;
    }
    let days = |female: &Candidate| {
        let checks = &view.colony.animals[female.standing.place].checks;
        checks.iter().map(|check| check.day).rfind(|day| *day <= view.day)
    };
    let Some(last) = females.iter().filter_map(days).max() else {
        return Some(
            "No follicle check is written: nothing says where they stand. Look at them, by scan or \
             by hand, and dates follow."
                .to_owned(),
        );
    };
    let ago = view.day.days_since(last);
    (ago > HOLDS_DAYS).then(|| {
        format!(
            "The last follicle check is of {}, {ago} days ago: nothing says any more where most of \
             them stand. Check them, and dates follow.",
            last.spoken_with_year()
        )
    })
}

/// "22 mm (62 % chance) about 16 Feb (9–25 Feb)".
fn said(coming: &Coming) -> String {
    let Coming { step, date, chance, .. } = coming;
    let chance = chance.map(|chance| (chance.get() * 100.0).round()).filter(|p| *p < 95.0);
    let sure = chance.map_or_else(String::new, |chance| format!(" ({chance} % chance)"));
    let span = unbroken(&DaySpan::between(date.low, date.high).to_string());
    let span = span.replace('–', "\u{2060}–\u{2060}");
    format!("{}{sure} about {} ({span})", step.said(), unbroken(&date.median.short()))
}

fn row(view: &View, female: &Candidate) -> Row {
    let standing = &female.standing;
    let animal = &view.colony.animals[standing.place];
    Row {
        name: view.called(standing.place),
        genes: animal.genes.as_ref().map_or_else(String::new, |(genes, _)| genes.clone()),
        tub: view.tub(standing.place),
        link: view.animal_link(standing.place),
        phase: standing.said(),
        next: next_words(view, standing),
        eggs: crate::eggs::links(view, standing.place),
        narrow: strip(view, standing, Form::Narrow),
        wide: strip(view, standing, Form::Wide),
    }
}
