//! Feeding: who is due and what to thaw, then one rack at a time.

use answers::feeding_due::{FeedingDue, MealShown, Refusal, Thaw, feeding_due};
use askama::Template;
use axum::response::Response;
use records::RecordId;

use super::parts::{Part, parts};
use crate::asking::{Asked, Fields, with_field};
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::notice::notice;
use crate::rack;
use crate::site::{Site, View};
use crate::tonight::tub;

/// One animal of a rack.
pub struct Row {
    id: String,
    record: RecordId,
    tub: String,
    name: String,
    link: String,
    prey: String,
    count: u16,
    why: String,
    /// Said in words beside the name: in company, quarantine, treatment, refusals.
    marks: Vec<String>,
    /// Offered food on this very day.
    is_fed: bool,
}

/// One rack.
pub struct Rack {
    name: String,
    link: String,
    due: Vec<Row>,
    /// To be placed tonight: fed after.
    after: Vec<Row>,
    wait: Vec<Row>,
    later: Vec<Row>,
    thaw: String,
    /// The whole rack is fed, not only those due.
    is_whole: bool,
}

#[derive(Template)]
#[template(path = "feeding.html")]
struct Overview {
    frame: Frame,
    parts: Vec<Part>,
    n_due: usize,
    n_racks: usize,
    thaw: Vec<(u32, String)>,
    n_after: usize,
    thaw_after: Vec<(u32, String)>,
    day: String,
    racks: Vec<Rack>,
    begin: Option<(String, String)>,
    look_into: Vec<Row>,
    next: Option<String>,
    tomorrow: Option<(usize, String)>,
    n_unrecorded: usize,
    /// Feeders for four weeks: prey, eaten, interval, week by week, offered.
    feeders: Vec<Feeders>,
    feeders_until: String,
    /// The same for young of which no meal is written.
    young: Vec<Feeders>,
}

/// Feeders of one kind and size.
struct Feeders {
    prey: String,
    eaten: String,
    between: String,
    weeks: Vec<String>,
    offered: u32,
}

#[derive(Template)]
#[template(path = "feeding_rack.html")]
struct OneRack {
    frame: Frame,
    parts: Vec<Part>,
    rack: Rack,
    overview: String,
    whole: String,
    back: String,
    day: String,
    batch: RecordId,
    preys: Vec<String>,
}

/// Animals without a tub stand together at the end of the walk.
const NO_TUB: &str = "without a tub";
/// Tubs that are nothing but numbers.
const NO_NAME: &str = "without a name";

/// `/round/feeding`: the counts, or with `?rack=` or after a rack was saved, one rack.
pub async fn page(site: Site, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let tonight = site.tonight(&view);
    let feeding = feeding_due(&view.colony, &tonight);
    let parts = parts(&view, &tonight, &feeding, "/round/feeding");
    let mut racks = racks(&view, &feeding);
    if let Some(at) = wanted(&racks, &asked) {
        if asked.get("whole").is_some() {
            racks[at].take_all();
        }
        return Ok(one_rack(&site, &view, &asked, (parts, racks.swap_remove(at), &feeding)));
    }
    let feeders = answers::feeders_needed(&view.colony, (&tonight, &feeding), WEEKS);
    let begin = racks.iter().find(|r| !r.due.is_empty());
    let page = Overview {
        frame: Frame::around(&view, "Feeding", "Round", "/round/feeding")
            .with(notice(&site, &view, &asked)),
        parts,
        n_due: feeding.due.len(),
        n_racks: racks.iter().filter(|r| !r.due.is_empty()).count(),
        thaw: counts(&feeding.thaw),
        n_after: feeding.after.len(),
        thaw_after: counts(&feeding.thaw_after),
        day: view.day.spoken_with_year(),
        begin: begin.map(|r| (r.name.clone(), r.link.clone())),
        look_into: feeding.look_into().map(|m| row(&view, m)).collect(),
        tomorrow: tomorrow(&view, &feeding),
        next: feeding.later.iter().map(|m| m.due_on).min().map(|day| day.spoken()),
        n_unrecorded: feeding.unrecorded.len(),
        feeders: feeders.sizes.iter().map(of_size).collect(),
        feeders_until: (view.day + 7 * i32::try_from(WEEKS).unwrap_or(4) - 1).spoken(),
        young: feeders.young.iter().map(of_size).collect(),
        racks,
    };
    Ok(html(&page))
}

/// Weeks for which feeders are counted.
const WEEKS: u32 = 4;

fn of_size(size: &answers::feeders_needed::FeedersOf) -> Feeders {
    Feeders {
        prey: size.prey.clone(),
        eaten: format!("{:.0}", size.all.expected),
        between: format!("{}–{}", size.all.low, size.all.high),
        weeks: size.weeks.iter().map(|w| format!("{:.0}", w.expected)).collect(),
        offered: size.all.offered,
    }
}

fn counts(thaw: &[Thaw]) -> Vec<(u32, String)> {
    thaw.iter().map(|t| (t.count, t.prey.clone())).collect()
}

/// How many more are due on the next day, for whom prey is taken out of the freezer today.
fn tomorrow(view: &View, feeding: &FeedingDue) -> Option<(usize, String)> {
    let next = view.day + 1;
    let n = feeding.later.iter().filter(|m| m.due_on == next).count();
    (n > 0).then(|| (n, format!("/round/feeding?on={next}")))
}

impl Rack {
    /// Everybody is fed along, whatever their day; not those that were offered food already.
    fn take_all(&mut self) {
        let (fed, more) = std::mem::take(&mut self.later).into_iter().partition(|r| r.is_fed);
        self.later = fed;
        self.due.extend::<Vec<Row>>(more);
        self.due.sort_by_key(|r| (rack::order(Some(&r.tub)), rack::order(Some(&r.name))));
        self.thaw = thaw(&self.due);
        self.is_whole = true;
    }

    /// Those that could be fed along.
    fn n_more(&self) -> usize {
        self.later.iter().filter(|r| !r.is_fed).count()
    }
}

/// The rack asked for; after one that was saved the next on the walk where somebody is due.
fn wanted(racks: &[Rack], asked: &Fields) -> Option<usize> {
    let named = |name: &str| racks.iter().position(|r| r.name == name);
    if let Some(name) = asked.get("rack") {
        return named(name);
    }
    let after = named(asked.get("after_rack")?)?;
    let is_open = |at: &usize| !racks[*at].due.is_empty();
    (after + 1..racks.len()).find(is_open)
}

fn one_rack(
    site: &Site,
    view: &View,
    asked: &Fields,
    (parts, rack, feeding): (Vec<Part>, Rack, &FeedingDue),
) -> Response {
    let overview = view.link("/round/feeding");
    let path = match asked.get("rack") {
        Some(name) => with_field("/round/feeding", "rack", name),
        None => "/round/feeding".into(),
    };
    let page = OneRack {
        frame: Frame::around(view, format!("Feeding {}", rack.name), "Round", &path)
            .with(notice(site, view, asked)),
        parts,
        whole: with_field(&rack.link, "whole", "1"),
        rack,
        back: overview.clone(),
        overview,
        day: view.day.to_string(),
        batch: store::new_id(),
        preys: preys(feeding),
    };
    html(&page)
}

/// Prey that anybody gets, to choose from.
fn preys(feeding: &FeedingDue) -> Vec<String> {
    let all = feeding.due.iter().chain(&feeding.after).chain(&feeding.wait).chain(&feeding.later);
    let mut preys: Vec<String> = all.map(|m| m.prey.name.clone()).collect();
    preys.sort_by_key(|prey| answers::feeding_due::key(prey));
    preys.dedup_by_key(|prey| answers::feeding_due::key(prey));
    preys
}

/// All racks in the order of a walk, each with its animals in that order.
fn racks(view: &View, feeding: &FeedingDue) -> Vec<Rack> {
    let kinds = [&feeding.due, &feeding.after, &feeding.wait, &feeding.later];
    let mut all: Vec<(usize, &MealShown)> = Vec::new();
    for (kind, meals) in kinds.into_iter().enumerate() {
        all.extend(meals.iter().map(|meal| (kind, meal)));
    }
    let order = |text: Option<&str>| rack::order(text);
    all.sort_by_key(|(_, m)| (order(tub(view, m.place)), order(Some(view.colony.code(m.place)))));
    let mut racks: Vec<Rack> = Vec::new();
    for (kind, meal) in all {
        let name = match tub(view, meal.place).map(rack::rack) {
            None => NO_TUB,
            Some("") => NO_NAME,
            Some(name) => name,
        };
        let at = racks.iter().position(|r| r.name.eq_ignore_ascii_case(name));
        let at = at.unwrap_or_else(|| {
            let link = view.link(&with_field("/round/feeding", "rack", name));
            let (name, thaw) = (name.to_owned(), String::new());
            let (due, after, wait, later) = (vec![], vec![], vec![], vec![]);
            racks.push(Rack { name, link, due, after, wait, later, thaw, is_whole: false });
            racks.len() - 1
        });
        let rack = &mut racks[at];
        let rows = [&mut rack.due, &mut rack.after, &mut rack.wait, &mut rack.later];
        if let Some(rows) = rows.into_iter().nth(kind) {
            rows.push(row(view, meal));
        }
    }
    for rack in &mut racks {
        rack.thaw = thaw(&rack.due);
    }
    racks
}

/// "2 medium rat, 1 small rat".
fn thaw(rows: &[Row]) -> String {
    let mut counts: std::collections::BTreeMap<String, (u32, &str)> = Default::default();
    for row in rows {
        let line = counts.entry(answers::feeding_due::key(&row.prey)).or_insert((0, &row.prey));
        line.0 += u32::from(row.count);
    }
    let said: Vec<String> = counts.values().map(|(n, prey)| format!("{n} × {prey}")).collect();
    said.join(", ")
}

fn row(view: &View, meal: &MealShown) -> Row {
    let mut marks: Vec<String> = Vec::new();
    marks.extend(meal.together.iter().map(|p| format!("with {} tonight", view.called(*p))));
    if meal.together.is_empty() {
        let to_place = meal.to_place_with.iter();
        marks.extend(to_place.map(|p| format!("to be placed with {} tonight", view.called(*p))));
    }
    if meal.quarantine {
        marks.push("quarantine: feed last".into());
    }
    if meal.treatment {
        marks.push("under treatment".into());
    }
    if meal.refused_in_row > 0 {
        let what = match meal.refusal {
            Refusal::Ordinary => ", ordinary now",
            Refusal::LookInto => ", look into it",
            Refusal::Watch | Refusal::None => "",
        };
        marks.push(format!("refused {}×{what}", meal.refused_in_row));
    }
    Row {
        id: view.colony.animals[meal.place].id.to_string(),
        record: store::new_id(),
        tub: view.tub(meal.place),
        name: view.called(meal.place),
        link: view.animal_link(meal.place),
        prey: meal.prey.name.clone(),
        count: meal.prey.count,
        why: meal.reason.clone(),
        marks,
        is_fed: meal.last_offered.is_some_and(|(day, _)| day == view.day),
    }
}
