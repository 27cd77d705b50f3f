//! The forms: what is written down, checked and appended. Here those of the round, and undo; one
//! file per family of facts below.

pub mod breeding;
pub mod care;
pub mod identity;
pub mod lab;
pub mod meals;
pub mod morning;
pub mod reading;
pub mod warmth;
pub mod whereabouts;

use axum::response::{IntoResponse, Redirect, Response};
use records::facts::{Checked, Placed, Retracted, Target, Weighed};
use records::{BatchId, Fact, Found, RecordId, StayEnd};
use sheets::typed;
use units::{Grams, Night, When};

use crate::asking::{Fields, Filled, with_field};
use crate::failure::Failure;
use crate::site::{Site, View};
use crate::you::{MassUnit, You, mass_typed};
use reading::female;

/// Back to where the form came from, saying what was written.
pub fn saved(form: &Fields, id: RecordId) -> Response {
    let to = with_field(form.back(), "saved", &id.to_string());
    let to = match form.get("after").and_then(|text| text.parse::<RecordId>().ok()) {
        Some(after) => with_field(&to, "after", &after.to_string()),
        None => to,
    };
    Redirect::to(&to).into_response()
}

/// A male was put in.
pub async fn placed(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let (male, female) = (form.animal("male", &view)?, form.animal("female", &view)?);
    let night = Night::beginning(form.day("night")?);
    let fact = Fact::Placed(Placed { male, female, ends: StayEnd::Open });
    site.append(vec![site.draft(id, When::Night(night), fact)])?;
    Ok(saved(&form, id))
}

/// Follicles were checked.
pub async fn checked(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let female = female(&form, &view)?;
    let when = site.happened(&form)?;
    let fact = Fact::Checked(Checked { female, found: found(&form, &view)? });
    site.append(vec![site.draft(id, when, fact)])?;
    Ok(saved(&form, id))
}

/// What a check found. A word that counts as nothing in the forecast is asked about.
pub fn found(form: &Fields, view: &View) -> Result<Found, Failure> {
    match (form.get("felt"), form.get("how")) {
        (Some(word), _) => felt(word, view),
        (None, Some("nothing")) => Ok(Found::NothingFelt),
        (None, Some("felt")) => felt(form.get("word").unwrap_or_default(), view),
        (None, Some("scan")) => scan(form.get("mm").unwrap_or_default()),
        _ => Err(Failure::typed(
            "Nothing says how she was checked; nothing was written.",
            "Press scan, felt or nothing felt.",
        )),
    }
}

fn felt(word: &str, view: &View) -> Result<Found, Failure> {
    if word.is_empty() || word.chars().count() > typed::LONGEST_WORD {
        return Err(Failure::typed(
            "No word (or one too long) says what was felt; nothing was written.",
            "Write one word, such as marble.",
        ));
    }
    let own = view.colony.setting("felt_words");
    answers::felt::told(word, own).ok_or_else(|| {
        Failure::typed(
            format!(
                "\"{word}\" is no word for felt follicles that is known here; nothing was written."
            ),
            format!(
                "Write {}, or a size in mm; to use a word of your own, write it first in \
                 the settings under felt_words, such as {}.",
                answers::felt::offered(own),
                answers::felt::EXAMPLE
            ),
        )
    })
}

fn scan(text: &str) -> Result<Found, Failure> {
    typed::sizes(text).map(Found::Scan).ok_or_else(|| {
        Failure::typed(
            format!("\"{text}\" is no size of follicles; nothing was written."),
            "Write millimetres from 1 to 60, several with a blank between: 22.5 21.",
        )
    })
}

/// An animal was weighed.
pub async fn weighed(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let animal = form.animal("animal", &view)?;
    let when = site.happened(&form)?;
    let mass = mass(&form, site.you())?;
    site.append(vec![site.draft(id, when, Fact::Weighed(Weighed { animal, mass }))])?;
    Ok(saved(&form, id))
}

/// The mass in the field `grams`, in the unit that the form was shown in.
pub fn mass(form: &Fields, you: &You) -> Result<Grams, Failure> {
    let unit = form.get("unit").and_then(MassUnit::from_word).unwrap_or(you.measures.mass);
    mass_typed(form.get("grams").unwrap_or_default(), unit)
}

/// A mass that may be left out.
pub fn mass_in(form: &Fields, name: &str, you: &You) -> Result<Option<Grams>, Failure> {
    let unit = form.get("unit").and_then(MassUnit::from_word).unwrap_or(you.measures.mass);
    form.get(name).map(|text| mass_typed(text, unit)).transpose()
}

/// A record, a batch or an earlier withdrawal is withdrawn.
pub async fn undo(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let id = form.record("record")?;
    let target = form.record("target")?;
    let (drafts, _) = site.written(target);
    if drafts.is_empty() {
        return Err(Failure::missing(
            "There is no such record; nothing was withdrawn.",
            "Open the animal’s page and withdraw it from its history.",
        ));
    }
    let what = match form.get("kind") {
        Some("batch") => Target::Batch(BatchId(target)),
        _ => Target::Record(target),
    };
    let fact = Fact::Retracted(Retracted { what, why: String::new() });
    let draft = site.draft(id, When::Undated, fact);
    let again = site.with_store(|store| records::journal::came_again(store.records(), &draft));
    if let Some(file) = again {
        return Err(Failure::typed(
            format!(
                "What this would bring back was imported again since ({file}); nothing was written."
            ),
            "Open Import and undo the later import first.",
        ));
    }
    site.append(vec![draft])?;
    // Taking a withdrawal back shows the record again; there is nothing more to put back.
    let is_withdrawal = matches!(drafts[0].fact, Fact::Retracted(_));
    let to = if is_withdrawal {
        form.back().to_owned()
    } else {
        with_field(form.back(), "undone", &id.to_string())
    };
    Ok(Redirect::to(&to).into_response())
}
