//! What an animal looks like, and who its parents are.

use axum::response::Response;
use records::colony::Bearer;
use records::facts::{Change, Changed, Looked};
use records::{AnimalId, BatchId, Draft, Fact, RecordId, Sex};
use sheets::catalogue_file::builtin;
use sheets::shorthand;
use units::When;

use super::reading::{by_code, unanswered, words};
use super::saved;
use crate::asking::{Fields, Filled};
use crate::failure::Failure;
use crate::site::{Site, View};

/// Longest look, in characters; our choice.
const LONGEST: usize = 200;

/// What it shows. Words that leave a question are asked about.
pub async fn looked(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let animal = form.animal("animal", &view)?;
    let when = site.happened(&form)?;
    let look = words(&form, "look", LONGEST)?.ok_or_else(|| unanswered("what it looks like"))?;
    if let Some(question) = shorthand::read(&look, builtin()).questions.first() {
        return Err(Failure::typed(
            format!("The look leaves a question, so nothing was written: {}", question.sentence()),
            "Write the words the catalogue knows.",
        ));
    }
    site.append(vec![site.draft(id, when, Fact::Looked(Looked { animal, look }))])?;
    Ok(saved(&form, id))
}

/// Who its sire or its dam is; where so chosen, of all young of its clutch as one batch.
pub async fn parent(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let day = form.day("day")?;
    let view = site.look(Some(day))?;
    let id = form.record("record")?;
    let animal = form.animal("animal", &view)?;
    let sex = match form.get("which") {
        Some("sire") => Sex::Male,
        Some("dam") => Sex::Female,
        _ => return Err(unanswered("whether the sire or the dam is meant")),
    };
    let parent = named(&form, &view, (animal, sex))?;
    let mut drafts = vec![told(&site, (id, animal), (parent, sex))];
    for (id, animal) in beside(&form, &view)? {
        drafts.push(told(&site, (id, animal), (parent, sex)));
    }
    if drafts.len() == 1 {
        site.append(drafts)?;
        return Ok(saved(&form, id));
    }
    let batch = form.record("batch")?;
    for draft in &mut drafts {
        draft.batch = Some(BatchId(batch));
    }
    site.append(drafts)?;
    Ok(saved(&form, batch))
}

fn told(site: &Site, (id, animal): (RecordId, AnimalId), (parent, sex): (AnimalId, Sex)) -> Draft {
    let change = match sex {
        Sex::Male => Change::Sire(parent),
        Sex::Female => Change::Dam(parent),
    };
    // Parents are held from the beginning, whenever they were told.
    site.draft(id, When::Undated, Fact::Changed(Changed { animal, change }))
}

/// The others of its clutch, each with the id of its record.
fn beside(form: &Fields, view: &View) -> Result<Vec<(RecordId, AnimalId)>, Failure> {
    if form.get("clutch").is_none() {
        return Ok(vec![]);
    }
    let one = |pair: &str| -> Option<(RecordId, AnimalId)> {
        let (record, animal) = pair.split_once(' ')?;
        let animal = AnimalId(animal.parse().ok()?);
        view.colony.place_of(animal)?;
        Some((record.parse().ok()?, animal))
    };
    form.all("beside")
        .map(|pair| one(pair).ok_or_else(|| unanswered("whose parent it is")))
        .collect()
}

/// The parent that was named; it may have left since.
fn named(form: &Fields, view: &View, (of, sex): (AnimalId, Sex)) -> Result<AnimalId, Failure> {
    let code = form.get("parent").ok_or_else(|| unanswered("who it is"))?;
    let place = match view.colony.bearer(code, None) {
        Bearer::One(place) => place,
        _ => by_code(form, "parent", view, view.day)?,
    };
    let parent = &view.colony.animals[place];
    let refused = |why: String| {
        Failure::typed(
            format!("{why}; nothing was written."),
            "Name another, or correct what is told of it first.",
        )
    };
    if parent.id == of {
        return Err(refused("No animal is its own parent".to_owned()));
    }
    if parent.sex().is_some_and(|told| told != sex) {
        let (is, whose) = match sex {
            Sex::Male => ("a female", "sire"),
            Sex::Female => ("a male", "dam"),
        };
        return Err(refused(format!(
            "{} is told to be {is} and is no {whose}",
            view.called(place)
        )));
    }
    Ok(parent.id)
}
