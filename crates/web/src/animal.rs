//! One animal: her strip, weights and meals, forms, history.

mod forms;
mod genes;

use answers::follicles;
use askama::Template;
use axum::response::Response;
use records::colony::{Bearer, Presence};
use records::{AnimalId, Live, RecordId, Sex};
use units::When;

use crate::asking::{Asked, Named};
use crate::chances::{PlanLine, house_link, plans_of};
use crate::chart::chart;
use crate::correct::can_be_told_again;
use crate::failure::Failure;
use crate::family::Chart;
use crate::frame::{Frame, html};
use crate::history::{told, written_by};
use crate::notice::notice;
use crate::said::{dated, unbroken};
use crate::season::next_words;
use crate::site::{Site, View};
use crate::strip::{Form, size_tonight, strip};
use forms::Forms;
use genes::Genes;

/// A line of the history.
struct Line {
    when: String,
    what: String,
    from: String,
    id: RecordId,
    withdraw: RecordId,
    correct: Option<String>,
}

/// A parent or young: name and page.
type Kin = (String, String);

#[derive(Template)]
#[template(path = "animal.html")]
struct Page {
    frame: Frame,
    id: String,
    about: Vec<(&'static str, String)>,
    kin: Vec<(&'static str, Kin)>,
    genes: Genes,
    hatchlings: Vec<(String, String)>,
    family: Chart,
    is_female: bool,
    planned: Vec<PlanLine>,
    chances: String,
    standing: String,
    narrow: String,
    wide: String,
    chart_narrow: String,
    chart_wide: String,
    history: Vec<Line>,
    withdrawn: Vec<Line>,
    day: String,
    forms: Forms,
}

/// Lines of history shown at once; older ones are folded away with a link.
const SHOWN: usize = 60;

/// `/animal/{code}`
pub async fn page(
    site: Site,
    Named(code): Named,
    Asked(asked): Asked,
) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let place = find(&view, &code)?;
    let animal = &view.colony.animals[place];
    let females = follicles(&view.colony, &site.forecasts(&view.colony));
    let female = females.iter().find(|f| f.place == place);
    let draw = |form| female.map_or_else(String::new, |f| strip(&view, f, form));
    let path = format!("/animal/{}", crate::asking::in_address(&code));
    let n_shown = if asked.get("all").is_some() { usize::MAX } else { SHOWN };
    let page = Page {
        frame: Frame::around(&view, view.called(place), "Animals", &path)
            .with(notice(&site, &view, &asked)),
        id: animal.id.to_string(),
        about: about(&view, place),
        kin: kin(&view, place),
        genes: Genes::of(&site, &view, place),
        hatchlings: [crate::eggs::links(&view, place), crate::hatchlings::links(&view, place)]
            .concat(),
        family: Chart::of(&view, place),
        is_female: animal.sex() == Some(Sex::Female),
        planned: plans_of(&site, &view, place),
        chances: house_link(&view, place),
        standing: female.map_or_else(String::new, |f| {
            let said = [Some(f.said().to_owned()), size_tonight(f), Some(next_words(&view, f))];
            let said: Vec<String> = said.into_iter().flatten().filter(|s| !s.is_empty()).collect();
            said.join(" · ")
        }),
        narrow: draw(Form::Narrow),
        wide: draw(Form::Wide),
        chart_narrow: chart(&view, place, false),
        chart_wide: chart(&view, place, true),
        history: history(&site, &view, place, n_shown),
        withdrawn: withdrawn(&site, &view, animal.id),
        day: view.day.to_string(),
        forms: Forms::of(&view, place, asked.get("write")),
    };
    Ok(html(&page))
}

pub fn find(view: &View, code: &str) -> Result<usize, Failure> {
    match view.colony.bearer(code, None) {
        Bearer::One(place) => return Ok(place),
        Bearer::Several(places) => {
            if let Some(first) = places.first() {
                return Ok(*first);
            }
        }
        Bearer::Nobody => {}
    }
    let by_id = code.parse().ok().and_then(|id| view.colony.place_of(AnimalId(id)));
    by_id.ok_or_else(|| {
        Failure::missing(
            format!("No animal is called \"{code}\" on {}.", view.day.spoken()),
            "Look in the list of animals; an animal added later is not known on an earlier day.",
        )
    })
}

/// "with F34 Privet in R4-04 since 12 Feb": whose tub he is in; or who is in hers.
fn company(view: &View, place: usize) -> Option<String> {
    let (other, since) = view.company(place)?;
    let is_in = |male: usize| view.colony.animals[male].sex() == Some(Sex::Male);
    let tub = view.colony.animals[other].tub_on(view.day).filter(|_| is_in(place));
    let tub = tub.map_or_else(String::new, |tub| format!(" in {}", tub.as_str()));
    let since = unbroken(&since.short());
    Some(format!("with {}{tub} since {since}", view.called(other)))
}

fn about(view: &View, place: usize) -> Vec<(&'static str, String)> {
    let animal = &view.colony.animals[place];
    let weight = animal.last_weight().map(|w| {
        let day = dated(w.day);
        format!("{}, {day}", unbroken(&view.you.measures.mass(w.what)))
    });
    let again = answers::repeat_laying(&view.colony).into_iter().find(|r| r.place == place);
    let lays_again = again.map(|r| {
        let chance = &r.chance;
        let group = if r.ate_more { r.years.more } else { r.years.less };
        let like = match group.females {
            0 => "none like her on record yet".to_owned(),
            n => format!("{} of {n} like her did", group.laid),
        };
        format!(
            "{} ({} to {}); {} feeders since she laid, {like}",
            chance.median, chance.low, chance.high, r.eaten
        )
    });
    let tub = animal.tub_on(view.day).map(|t| t.as_str().to_owned());
    let left = animal.left.last().filter(|_| animal.presence(view.day) == Presence::Gone);
    let all = [
        ("Tub", tub),
        ("Now", company(view, place)),
        ("Sex", Some(crate::animals::sex(animal.sex()).to_owned())),
        ("Hatched", animal.hatched.map(dated)),
        ("Genes", animal.genes.as_ref().map(|(genes, _)| genes.clone())),
        ("Look", animal.look.as_ref().map(|(look, _)| look.clone())),
        ("Weight", weight),
        ("Weight over half a year", answers::weight_going(&view.colony, place).map(|w| w.said())),
        ("Lays this season, by food", lays_again),
        ("Left", left.map(|l| format!("{} on {}", l.what.how, l.day))),
    ];
    all.into_iter().filter_map(|(what, value)| Some((what, value?))).collect()
}

fn kin(view: &View, place: usize) -> Vec<(&'static str, Kin)> {
    let animal = &view.colony.animals[place];
    [("Sire", animal.sire), ("Dam", animal.dam)]
        .into_iter()
        .filter_map(|(what, at)| {
            let at = at?;
            Some((what, (view.called(at), view.animal_link(at))))
        })
        .collect()
}

/// When it happened, as exact as it was written, by the room's clock.
pub fn when(site: &Site, when: When) -> String {
    match when {
        When::Undated => "undated".into(),
        When::Night(night) => format!("night of {}", dated(night.evening())),
        When::Day(day) => dated(day),
        When::Instant(at) => {
            let zone = site.zone();
            format!("{}, {}", dated(zone.day_of(at)), zone.clock(at))
        }
    }
}

/// Who wrote it, and who told it again.
fn history_source(site: &Site, live: &Live) -> String {
    let first = written_by(&live.who, live.source.as_ref());
    let correction = live.corrected_by.map(|id| site.written(id).0);
    let again = correction.and_then(|drafts| drafts.into_iter().next());
    let again = again.filter(|draft| !draft.who.is_empty()).map(|draft| {
        let is_same = draft.batch.is_some_and(|batch| live.confirmed.contains(&batch));
        let did = if is_same { "said to be right" } else { "corrected" };
        format!("{did} by {}", draft.who)
    });
    [Some(first), again]
        .into_iter()
        .flatten()
        .filter(|s| !s.is_empty())
        .collect::<Vec<_>>()
        .join(" · ")
}

fn line(site: &Site, view: &View, live: &Live) -> Line {
    Line {
        when: when(site, live.when),
        what: told(view, &live.fact),
        from: history_source(site, live),
        id: live.id,
        withdraw: store::new_id(),
        correct: can_be_told_again(&live.fact).then(|| view.link(&format!("/correct/{}", live.id))),
    }
}

fn history(site: &Site, view: &View, place: usize, most: usize) -> Vec<Line> {
    let mut ids = view.colony.animals[place].history.clone();
    ids.extend(hatchings(view, place));
    let mut lives: Vec<&Live> = ids.iter().filter_map(|id| view.colony.record(*id)).collect();
    // Stable: what happened on one day keeps the order of the journal.
    lives.sort_by_key(|live| live.when.day(site.zone()));
    lives.into_iter().rev().take(most).map(|l| line(site, view, l)).collect()
}

/// A hatching is told of a clutch; it belongs into the history of the one that laid it.
fn hatchings(view: &View, place: usize) -> Vec<RecordId> {
    let laid = &view.colony.animals[place].laid;
    let clutches = laid.iter().map(|l| &view.colony.clutches[l.what]);
    clutches.filter_map(|c| c.hatched.as_ref().map(|h| h.record)).collect()
}

fn withdrawn(site: &Site, view: &View, animal: AnimalId) -> Vec<Line> {
    let all = site.withdrawn();
    let of_it = all.iter().filter(|(draft, _)| draft.fact.animals(draft.id).contains(&animal));
    of_it
        .map(|(draft, retraction)| Line {
            when: when(site, draft.when),
            what: told(view, &draft.fact),
            from: written_by(&draft.who, draft.source.as_ref()),
            id: *retraction,
            withdraw: store::new_id(),
            correct: None,
        })
        .collect()
}
