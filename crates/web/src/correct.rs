//! Correcting one record: the same kind of fact, told again. The earlier text stays in the journal.

use askama::Template;
use axum::response::Response;
use records::facts::{Checked, Corrected, LockLooked, Weighed};
use records::{Fact, Found, Live, Lock, RecordId};
use units::When;

use crate::asking::{Asked, Fields, Filled, Named};
use crate::failure::Failure;
use crate::frame::{Frame, html};
use crate::history::told;
use crate::site::{Site, View};
use crate::writing::{found, mass, meals, saved, warmth};

#[derive(Template)]
#[template(path = "correct.html")]
struct Page {
    frame: Frame,
    said: String,
    form: Asks,
    day: String,
    target: RecordId,
    record: RecordId,
    back: String,
}

/// What the form asks for.
enum Asks {
    Grams(String),
    Follicles { mm: String, word: String },
    Lock,
    Meal { prey: String, count: u16 },
    Heat { place: String, degrees: String, humidity: String, time: String },
    Day,
}

/// Whether a record of this kind can be told again; the others are withdrawn and written anew.
pub const fn can_be_told_again(fact: &Fact) -> bool {
    matches!(
        fact,
        Fact::Weighed(_) | Fact::Checked(_) | Fact::LockLooked(_) | Fact::Fed(_) | Fact::Reading(_)
    ) || only_its_day(fact)
}

/// Of these the day alone is told again; a slip in anything else is withdrawn and written anew.
const fn only_its_day(fact: &Fact) -> bool {
    matches!(
        fact,
        Fact::Shed(_)
            | Fact::InBlue(_)
            | Fact::Ovulated(_)
            | Fact::WarmedUp(_)
            | Fact::Settled(_)
            | Fact::Resorbed(_)
            | Fact::Laid(_)
            | Fact::Moved(_)
            | Fact::Left(_)
            | Fact::CameBack(_)
            | Fact::Quarantine(_)
            | Fact::Treatment(_)
            | Fact::Tested(_)
            | Fact::Incubated(_)
    )
}

fn standing(view: &View, id: RecordId) -> Result<&Live, Failure> {
    let live = view.colony.record(id).filter(|live| can_be_told_again(&live.fact));
    live.ok_or_else(|| {
        Failure::missing(
            "There is no such record, or it cannot be told again.",
            "Open the animal’s page; withdraw the record there and write it anew.",
        )
    })
}

/// `/correct/{record}`
pub async fn page(site: Site, Named(id): Named, Asked(asked): Asked) -> Result<Response, Failure> {
    let view = site.look(asked.on()?)?;
    let id = id.parse().unwrap_or(RecordId::from_bytes([0; 16]));
    let live = standing(&view, id)?;
    let form = asks(&site, &view, live);
    let about = live.fact.animals(live.id).last().and_then(|id| view.colony.place_of(*id));
    let page = Page {
        frame: Frame::around(&view, "Correct a record", "Animals", &format!("/correct/{id}")),
        said: told(&view, &live.fact),
        form,
        day: live.when.day(site.zone()).map_or_else(String::new, |day| day.to_string()),
        target: live.id,
        record: store::new_id(),
        back: match asked.get("back") {
            Some(_) => asked.back().to_owned(),
            None if matches!(live.fact, Fact::Reading(_)) => view.link("/eggs"),
            None => about.map_or_else(|| "/animals".into(), |place| view.animal_link(place)),
        },
    };
    Ok(html(&page))
}

/// What the form begins with: the record as it stands.
fn asks(site: &Site, view: &View, live: &Live) -> Asks {
    let measures = view.you.measures;
    match &live.fact {
        Fact::Weighed(f) => Asks::Grams(measures.mass_in_field(f.mass)),
        Fact::Checked(f) => {
            let sizes = |sizes: &[units::Millimetres]| {
                sizes.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
            };
            let (mm, word) = match &f.found {
                Found::Scan(mm) => (sizes(mm), String::new()),
                Found::Felt(word) => (String::new(), word.clone()),
                Found::NothingFelt => (String::new(), String::new()),
            };
            Asks::Follicles { mm, word }
        }
        Fact::Fed(f) => Asks::Meal { prey: f.prey.clone(), count: f.count },
        Fact::LockLooked(_) => Asks::Lock,
        Fact::Reading(f) => Asks::Heat {
            place: f.place.to_string(),
            degrees: measures.heat_in_field(f.celsius),
            humidity: f.humidity.map_or_else(String::new, |humidity| humidity.to_string()),
            time: time(site, live.when),
        },
        _ => Asks::Day,
    }
}

/// The time on the clock of the room, where the record has one.
fn time(site: &Site, when: When) -> String {
    match when {
        When::Instant(at) => site.zone().clock(at).chars().take(5).collect(),
        _ => String::new(),
    }
}

/// When a temperature was read; where neither day nor time was changed, to the second it was.
fn moment(site: &Site, form: &Fields, live: &Live) -> Result<When, Failure> {
    let told = (form.get("day").unwrap_or_default(), form.get("time").unwrap_or_default());
    let day = live.when.day(site.zone()).map_or_else(String::new, |day| day.to_string());
    if told == (day.as_str(), time(site, live.when).as_str()) {
        return Ok(live.when);
    }
    warmth::moment(site, form)
}

/// The form of that page.
pub async fn corrected(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let id = form.record("record")?;
    let target = form.record("target")?;
    let day = form.day("day")?;
    let view = site.look(Some(day.max(site.look(None)?.day)))?;
    let live = standing(&view, target)?;
    let (when, fact) = match &live.fact {
        Fact::Weighed(f) => {
            let mass = mass(&form, site.you())?;
            (site.happened(&form)?, Fact::Weighed(Weighed { animal: f.animal, mass }))
        }
        Fact::Checked(f) => {
            let found = found(&form, &view)?;
            (site.happened(&form)?, Fact::Checked(Checked { female: f.female, found }))
        }
        Fact::LockLooked(f) => {
            let lock = form.get("lock").and_then(Lock::from_word).ok_or_else(|| {
                Failure::typed(
                    "Nothing was answered to \"Lock?\"; nothing was written.",
                    "Press Locked, Maybe, Not locked or Didn’t look.",
                )
            })?;
            (live.when, Fact::LockLooked(LockLooked { lock, ..f.clone() }))
        }
        Fact::Reading(_) => {
            let reading = warmth::reading(&site, &view, &form)?;
            (moment(&site, &form, live)?, Fact::Reading(reading))
        }
        Fact::Fed(f) => (site.happened(&form)?, meals::told(&form, f.animal)?),
        other => (site.happened(&form)?, other.clone()),
    };
    let fact = Fact::Corrected(Corrected { record: target, when, fact: Box::new(fact) });
    site.append(vec![site.draft(id, When::Undated, fact)])?;
    Ok(saved(&form, id))
}
