//! What several forms ask for, read with a sentence for each mistake.

use records::colony::{Bearer, Presence};
use records::{AnimalId, Sex};
use units::Day;

use crate::asking::Fields;
use crate::failure::Failure;
use crate::site::View;

/// A form sent without its answer.
pub fn unanswered(what: &str) -> Failure {
    Failure::typed(format!("Nothing says {what}; nothing was written."), "Answer it.")
}

/// Sex as told.
pub fn sex_of(view: &View, animal: AnimalId) -> Option<Sex> {
    view.colony.place_of(animal).and_then(|place| view.colony.animals[place].sex())
}

/// A female that must be there.
pub fn female(form: &Fields, view: &View) -> Result<AnimalId, Failure> {
    let animal = form.animal("animal", view)?;
    if sex_of(view, animal) != Some(Sex::Male) {
        return Ok(animal);
    }
    Err(Failure::typed(
        "That is written of a female, and this animal is told to be a male; nothing was written.",
        "Open the right animal’s page, or correct the sex first.",
    ))
}

/// Free words of at most so many characters; none where nothing was typed.
pub fn words(form: &Fields, name: &str, most: usize) -> Result<Option<String>, Failure> {
    let Some(text) = form.get(name) else { return Ok(None) };
    let text = text.replace("\r\n", "\n");
    let is_strange = |c: char| c.is_control() && c != '\n' && c != '\t';
    if text.chars().count() > most || text.chars().any(is_strange) {
        return Err(Failure::typed(
            format!(
                "The words are longer than {most} characters, or cannot be printed; nothing was written."
            ),
            "Write them shorter.",
        ));
    }
    Ok(Some(text))
}

/// A whole number in that range; none where nothing was typed.
pub fn whole(
    form: &Fields,
    (name, what): (&str, &str),
    possible: std::ops::RangeInclusive<u16>,
) -> Result<Option<u16>, Failure> {
    let Some(text) = form.get(name) else { return Ok(None) };
    let number: Option<u16> = text.parse().ok().filter(|n| possible.contains(n));
    number.map(Some).ok_or_else(|| {
        let text: String = text.chars().take(20).collect();
        let (least, most) = (possible.start(), possible.end());
        Failure::typed(
            format!("\"{text}\" is no number of {what}; nothing was written."),
            format!("Write a whole number from {least} to {most}."),
        )
    })
}

/// The animal that bears the code in that field on that day, and is in the house then.
pub fn by_code(form: &Fields, name: &str, view: &View, day: Day) -> Result<usize, Failure> {
    let code = form.get(name).ok_or_else(|| unanswered("which animal is meant"))?;
    // A list offers code and name; the code is its first word unless that names nobody.
    let bearer = match view.colony.bearer(code, Some(day)) {
        Bearer::Nobody => {
            let first = code.split_whitespace().next().unwrap_or_default();
            view.colony.bearer(first, Some(day))
        }
        found => found,
    };
    let shown: String = code.chars().take(64).collect();
    match bearer {
        Bearer::One(place) if view.colony.animals[place].presence(day) == Presence::InHouse => {
            Ok(place)
        }
        Bearer::One(place) => Err(Failure::typed(
            format!(
                "{} is not in the house on {}; nothing was written.",
                view.called(place),
                day.spoken()
            ),
            "Choose another animal or another day.",
        )),
        Bearer::Several(_) => Err(Failure::typed(
            format!(
                "Several animals are called \"{shown}\" on {}; nothing was written.",
                day.spoken()
            ),
            "Open the page of the one you mean and write it there.",
        )),
        Bearer::Nobody => Err(Failure::typed(
            format!("No animal is called \"{shown}\" on {}; nothing was written.", day.spoken()),
            "Write the code as it stands on the tub.",
        )),
    }
}
