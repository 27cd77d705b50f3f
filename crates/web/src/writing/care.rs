//! Sheds, quarantine and treatment, notes.

use axum::response::Response;
use records::facts::{Noted, Shed, Treated};
use records::{Fact, Sex, ShedKind};

use super::reading::{sex_of, unanswered, words};
use super::saved;
use crate::asking::Filled;
use crate::failure::Failure;
use crate::site::Site;

/// Longest note, in characters; our choice.
const LONGEST_NOTE: usize = 2000;
/// Longest reason of a treatment, in characters; our choice.
const LONGEST_REASON: usize = 200;

/// A shed, or the blue before it.
pub async fn shed(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let animal = form.animal("animal", &view)?;
    let when = site.happened(&form)?;
    let fact = match form.get("what") {
        Some("in blue") => Fact::InBlue(animal),
        Some(word) => {
            let kind = ShedKind::from_word(word).ok_or_else(|| unanswered("which shed it was"))?;
            if kind == ShedKind::PreLay && sex_of(&view, animal) == Some(Sex::Male) {
                return Err(Failure::typed(
                    "A male has no pre-lay shed; nothing was written.",
                    "Press Ordinary, or correct the sex first.",
                ));
            }
            Fact::Shed(Shed { animal, kind })
        }
        None => return Err(unanswered("which shed it was")),
    };
    site.append(vec![site.draft(id, when, fact)])?;
    Ok(saved(&form, id))
}

/// Quarantine or treatment begins or ends.
pub async fn apart(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let animal = form.animal("animal", &view)?;
    let when = site.happened(&form)?;
    let what = words(&form, "words", LONGEST_REASON)?;
    let spell = |begins| Treated { animal, begins, what: what.clone() };
    let fact = match form.get("what") {
        Some("quarantine begins") => Fact::Quarantine(spell(true)),
        Some("quarantine ends") => Fact::Quarantine(spell(false)),
        Some("treatment begins") => Fact::Treatment(spell(true)),
        Some("treatment ends") => Fact::Treatment(spell(false)),
        _ => return Err(unanswered("what begins or ends")),
    };
    site.append(vec![site.draft(id, when, fact)])?;
    Ok(saved(&form, id))
}

/// Free words about an animal.
pub async fn noted(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let animal = form.animal("animal", &view)?;
    let when = site.happened(&form)?;
    let text = words(&form, "text", LONGEST_NOTE)?.ok_or_else(|| unanswered("what to note"))?;
    let fact = Fact::Noted(Noted { animal: Some(animal), text });
    site.append(vec![site.draft(id, when, fact)])?;
    Ok(saved(&form, id))
}
