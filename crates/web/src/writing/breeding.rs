//! What is seen of a female on her way to laying; who is put in with whom; the clutch.

use axum::response::Response;
use records::facts::{HatchedOut, Laid, Ovulated, Placed, TakenOut};
use records::words::Certainty;
use records::{AnimalId, ClutchId, EggsKept, Fact, Sex, Stay, StayEnd};
use sheets::typed::MOST_EGGS;
use units::{Day, Grams, Night, When};

use super::reading::{by_code, female, sex_of, unanswered, whole};
use super::{mass_in, saved};
use crate::asking::{Fields, Filled};
use crate::failure::Failure;
use crate::site::{Site, View};

/// Ovulated, warmed up, settled, follicles gone back.
pub async fn event(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let female = female(&form, &view)?;
    let when = site.happened(&form)?;
    let ovulated = |certainty| Fact::Ovulated(Ovulated { female, certainty, sire: None });
    let fact = match form.get("what") {
        Some("ovulation seen") => ovulated(Certainty::Seen),
        Some("ovulation suspected") => ovulated(Certainty::Suspected),
        Some("warmed up") => Fact::WarmedUp(female),
        Some("settled") => Fact::Settled(female),
        Some("resorbed") => Fact::Resorbed(female),
        _ => return Err(unanswered("what was seen")),
    };
    site.append(vec![site.draft(id, when, fact)])?;
    Ok(saved(&form, id))
}

/// Put in with another, or taken out again.
pub async fn together(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let when = site.happened(&form)?;
    let (male, female) = pair(&form, &view)?;
    let (when, fact) = match form.get("what") {
        Some("placed") => {
            let night = Night::beginning(form.day("day")?);
            let placed = Placed { male, female, ends: StayEnd::Open };
            (When::Night(night), Fact::Placed(placed))
        }
        Some("taken out") => {
            was_in_before(&view, (male, female), form.day("day")?)?;
            (when, Fact::TakenOut(TakenOut { male, female }))
        }
        _ => return Err(unanswered("whether he was put in or taken out")),
    };
    site.append(vec![site.draft(id, when, fact)])?;
    Ok(saved(&form, id))
}

/// Taken out ends the nights before that day. On the evening he was put in it would end none, and he
/// would still be shown in her tub.
fn was_in_before(
    view: &View,
    (male, female): (AnimalId, AnimalId),
    day: Day,
) -> Result<(), Failure> {
    let place = |id| view.colony.place_of(id);
    let own = |s: &&Stay| Some(s.male) == place(male) && Some(s.female) == place(female);
    let mut nights = view.colony.stays.iter().filter(own).map(|s| s.night.evening());
    let is_same_evening = nights.clone().any(|evening| evening == day);
    if is_same_evening && !nights.any(|evening| evening == day - 1) {
        return Err(Failure::typed(
            "He was put in on that very evening; nothing was written.",
            "Where he was not in at all, withdraw the placement in the history; where the \
             night is over, choose the day after.",
        ));
    }
    Ok(())
}

/// Male and female, from the animal of the page and the other one.
fn pair(form: &Fields, view: &View) -> Result<(AnimalId, AnimalId), Failure> {
    let own = form.animal("animal", view)?;
    let other = match form.get("with") {
        Some(_) => form.animal("with", view)?,
        None => view.colony.animals[by_code(form, "other", view, form.day("day")?)?].id,
    };
    match (sex_of(view, own), sex_of(view, other)) {
        (Some(Sex::Male), Some(Sex::Female)) => Ok((own, other)),
        (Some(Sex::Female), Some(Sex::Male)) => Ok((other, own)),
        _ => Err(Failure::typed(
            "A placement needs a male and a female, both told to be so; nothing was written.",
            "Choose the other one, or tell the sex first.",
        )),
    }
}

/// She laid.
pub async fn laid(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let female = female(&form, &view)?;
    let when = site.happened(&form)?;
    let eggs = whole(&form, ("eggs", "eggs"), 0..=MOST_EGGS)?;
    let slugs = whole(&form, ("slugs", "slugs"), 0..=MOST_EGGS)?;
    if let (Some(eggs), Some(slugs)) = (eggs, slugs)
        && slugs > eggs
    {
        return Err(Failure::typed(
            format!("{slugs} slugs are more than {eggs} eggs; nothing was written."),
            "Count the slugs among the eggs: 7 eggs, 2 of them slugs.",
        ));
    }
    let kept = match form.get("kept") {
        None | Some("not told") => None,
        Some(word) => {
            Some(EggsKept::from_word(word).ok_or_else(|| unanswered("where the eggs are"))?)
        }
    };
    let sire = match form.get("sire") {
        None => None,
        Some(_) => Some(sire(&form, &view)?),
    };
    let mass = clutch_mass(&form, &site)?;
    let laid = Laid { female, sire, clutch: None, eggs, slugs, mass, kept };
    site.append(vec![site.draft(id, when, Fact::Laid(laid))])?;
    Ok(saved(&form, id))
}

/// A clutch hatched.
pub async fn hatched(site: Site, Filled(form): Filled) -> Result<Response, Failure> {
    let view = site.look(None)?;
    let id = form.record("record")?;
    let when = site.happened(&form)?;
    let clutch = ClutchId(form.record("clutch")?);
    let known = view.colony.clutches.iter().find(|c| c.id == clutch);
    let known = known.ok_or_else(|| {
        Failure::missing(
            "The clutch of this form is not in the journal (any more); nothing was written.",
            "Open the page of the female again.",
        )
    })?;
    let hatchlings = whole(&form, ("hatchlings", "hatchlings"), 0..=MOST_EGGS)?;
    if let (Some(n), Some(eggs)) = (hatchlings, known.eggs)
        && n > eggs
    {
        return Err(Failure::typed(
            format!("{n} hatchlings are more than the {eggs} eggs; nothing was written."),
            "Count again, or correct the clutch first.",
        ));
    }
    if known.laid.is_some_and(|laid| form.day("day").is_ok_and(|day| day < laid)) {
        return Err(Failure::typed(
            "That day is before the laying; nothing was written.",
            "Choose the day on which it hatched.",
        ));
    }
    let fact = Fact::HatchedOut(HatchedOut { clutch, hatchlings });
    site.append(vec![site.draft(id, when, fact)])?;
    Ok(saved(&form, id))
}

fn clutch_mass(form: &Fields, site: &Site) -> Result<Option<Grams>, Failure> {
    mass_in(form, "grams", site.you()).map_err(|_| {
        let text: String = form.get("grams").unwrap_or_default().chars().take(20).collect();
        Failure::typed(
            format!("\"{text}\" is no mass of a clutch; nothing was written."),
            "Write the mass of all eggs together without commas, or leave it out.",
        )
    })
}

fn sire(form: &Fields, view: &View) -> Result<AnimalId, Failure> {
    // The sire may have left since.
    let code = form.get("sire").unwrap_or_default();
    let place = match view.colony.bearer(code, None) {
        records::colony::Bearer::One(place) => place,
        _ => by_code(form, "sire", view, form.day("day")?)?,
    };
    let animal = &view.colony.animals[place];
    if animal.sex() == Some(Sex::Female) {
        return Err(Failure::typed(
            format!(
                "{} is told to be a female and sired nothing; nothing was written.",
                view.called(place)
            ),
            "Name the male, or leave him out.",
        ));
    }
    Ok(animal.id)
}
