//! Tubs, leaving and coming back, sex told, and animals that are new.

use axum::response::{IntoResponse, Redirect, Response};
use records::colony::{Bearer, Presence};
use records::facts::{Added, CameBack, Left, Moved, Noted, SexTold, Weighed};
use records::{AnimalId, BatchId, Code, Fact, Leaving, Sex, Tub};
use units::{Day, When};

use super::reading::{unanswered, words};
use super::{mass_in, saved};
use crate::asking::{Fields, Filled, with_field};
use crate::failure::Failure;
use crate::site::{Site, View};

/// Longest name of an animal, of a buyer, and longest genes, in characters; our choice.
const LONGEST: usize = 200;

/// A new home tub.
pub async fn moved(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let animal = form.animal("animal", &view)?;
    let when = site.happened(&form)?;
    let tub = tub(&form)?.ok_or_else(|| unanswered("which tub it moved to"))?;
    site.append(vec![site.draft(id, when, Fact::Moved(Moved { animal, tub }))])?;
    Ok(saved(&form, id))
}

fn tub(form: &Fields) -> Result<Option<Tub>, Failure> {
    let read = |text| Tub::new(text).map_err(|why| refused(&why.to_string()));
    form.get("tub").map(read).transpose()
}

fn refused(why: &str) -> Failure {
    Failure::of_text(why, "write it anew")
}

/// It left the house; of a death the words become a note beside it.
pub async fn left(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let (id, second) = (form.record("record")?, form.record("second")?);
    let animal = form.animal("animal", &view)?;
    let when = site.happened(&form)?;
    let how = form.get("how").and_then(Leaving::from_word);
    let how = how.ok_or_else(|| unanswered("how it left"))?;
    let said = words(&form, "words", LONGEST)?;
    let (to, note) = if how == Leaving::Died { (None, said) } else { (said, None) };
    let mut drafts = vec![site.draft(id, when, Fact::Left(Left { animal, how, to }))];
    if let Some(text) = note {
        let noted = Fact::Noted(Noted { animal: Some(animal), text });
        drafts.push(site.draft(second, when, noted));
        for draft in &mut drafts {
            draft.batch = Some(BatchId(form.record("batch")?));
        }
    }
    let told = drafts[0].batch.map_or(id, |batch| batch.0);
    site.append(drafts)?;
    Ok(saved(&form, told))
}

/// It is back in the house.
pub async fn came_back(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let animal = form.animal("animal", &view)?;
    let when = site.happened(&form)?;
    site.append(vec![site.draft(id, when, Fact::CameBack(CameBack { animal }))])?;
    Ok(saved(&form, id))
}

/// Its sex is told.
pub async fn sex_told(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let animal = form.animal("animal", &view)?;
    let when = site.happened(&form)?;
    let sex = form.get("sex").and_then(Sex::from_word).ok_or_else(|| unanswered("its sex"))?;
    let how = words(&form, "words", LONGEST)?;
    site.append(vec![site.draft(id, when, Fact::SexTold(SexTold { animal, sex, how }))])?;
    Ok(saved(&form, id))
}

/// An animal that is new in the records, with its first weight.
pub async fn added(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let (id, second) = (form.record("record")?, form.record("second")?);
    let batch = Some(BatchId(form.record("batch")?));
    let when = site.happened(&form)?;
    let added = newcomer(&form, &view, AnimalId(id))?;
    let hatched = added.hatched;
    let mass = mass_in(&form, "grams", site.you())?;
    let begins = hatched.map_or(When::Undated, When::Day);
    let mut drafts = vec![site.draft(id, begins, Fact::Added(added))];
    if let Some(mass) = mass {
        let weighed = Fact::Weighed(Weighed { animal: AnimalId(id), mass });
        drafts.push(site.draft(second, when, weighed));
    }
    for draft in &mut drafts {
        draft.batch = batch;
    }
    site.append(drafts)?;
    let to = site.look(None)?;
    let page = to.colony.place_of(AnimalId(id)).map(|place| to.animal_link(place));
    let page = page.unwrap_or_else(|| "/animals".into());
    let told = batch.map_or(id, |batch| batch.0);
    Ok(Redirect::to(&with_field(&page, "saved", &told.to_string())).into_response())
}

/// The code typed, if no other animal of the house bears it.
pub fn free_code(form: &Fields, view: &View, own: AnimalId) -> Result<Code, Failure> {
    let code = Code::new(form.get("code").unwrap_or_default());
    let code = code.map_err(|why| refused(&why.to_string()))?;
    let here = |p: &usize| view.colony.animals[*p].presence(view.today) != Presence::Gone;
    let bearers = match view.colony.bearer(code.as_str(), None) {
        Bearer::Nobody => vec![],
        Bearer::One(place) => vec![place],
        Bearer::Several(places) => places,
    };
    let is_other = |p: &usize| view.colony.animals[*p].id != own;
    if let Some(place) = bearers.into_iter().filter(here).find(is_other) {
        return Err(Failure::typed(
            format!("{} has that code already; nothing was written.", view.called(place)),
            "Give the new animal another code.",
        ));
    }
    Ok(code)
}

fn newcomer(form: &Fields, view: &View, own: AnimalId) -> Result<Added, Failure> {
    let code = free_code(form, view, own)?;
    let sex = match form.get("sex") {
        None | Some("not told") => None,
        Some(word) => Some(Sex::from_word(word).ok_or_else(|| unanswered("its sex"))?),
    };
    Ok(Added {
        name: words(form, "name", LONGEST)?,
        sex,
        hatched: hatched(form, view)?,
        genes: words(form, "genes", LONGEST)?,
        tub: tub(form)?,
        ..Added::with_code(code)
    })
}

fn hatched(form: &Fields, view: &View) -> Result<Option<Day>, Failure> {
    if form.get("hatched").is_none() {
        return Ok(None);
    }
    let day = form.day("hatched")?;
    if day > view.today {
        return Err(Failure::typed(
            format!("{} is still to come; nothing was written.", day.spoken_with_year()),
            "Write the day it hatched, or leave it out.",
        ));
    }
    Ok(Some(day))
}
