//! Rows of weights, feedings, checks, nights and plans.

use records::facts::{Checked, Fed, LockLooked, Noted, Placed, Planned, Reading, Weighed};
use records::words::{Code, PlannedMale, StayEnd};
use records::{AnimalId, Fact, Place};
use units::{Day, When};

use super::book::{Book, Obstacle, Wish};
use crate::rows::{
    CheckRow, FeedingRow, Found, NightRow, PlanMale, PlanRow, TemperatureRow, WeightRow,
};
use crate::sheet::ReadRow;

fn id(book: &Book<'_>, code: &str, day: Option<Day>) -> Result<AnimalId, Obstacle> {
    book.animal(code, day).map(|place| book.colony.animals[place].id)
}

/// The fact of the row with its exported id, and a note for every column nobody knows.
fn with_notes(row: &ReadRow, animal: AnimalId, when: When, fact: Fact) -> Vec<Wish> {
    let mut wishes = vec![Wish { when, fact, id: row.record_ids.first().copied() }];
    wishes.extend(row.notes.iter().map(|text| Wish {
        when,
        fact: Fact::Noted(Noted { animal: Some(animal), text: text.clone() }),
        id: None,
    }));
    wishes
}

pub fn weight(book: &Book<'_>, row: &ReadRow, data: &WeightRow) -> Result<Vec<Wish>, Obstacle> {
    let animal = id(book, &data.code, data.day)?;
    let day = data.day.unwrap_or(book.options.today);
    let fact = Fact::Weighed(Weighed { animal, mass: data.grams });
    Ok(with_notes(row, animal, When::Day(day), fact))
}

pub fn feeding(book: &Book<'_>, row: &ReadRow, data: &FeedingRow) -> Result<Vec<Wish>, Obstacle> {
    let animal = id(book, &data.code, Some(data.day))?;
    let prey = data.prey.clone().unwrap_or_else(|| "prey not told".to_owned());
    let fact = Fact::Fed(Fed { animal, prey, count: data.count, meal: data.meal });
    Ok(with_notes(row, animal, When::Day(data.day), fact))
}

pub fn check(book: &Book<'_>, row: &ReadRow, data: &CheckRow) -> Result<Vec<Wish>, Obstacle> {
    let female = id(book, &data.code, Some(data.day))?;
    let found = match &data.found {
        Found::Scan(sizes) => records::Found::Scan(sizes.clone()),
        Found::Felt { word, .. } => records::Found::Felt(word.clone()),
        Found::NothingFelt => records::Found::NothingFelt,
    };
    let fact = Fact::Checked(Checked { female, found });
    Ok(with_notes(row, female, When::Day(data.day), fact))
}

/// A placement that evening, and what was seen the morning after. An empty lock cell of the last
/// evening in the sheets says nothing yet: the morning has not come.
pub fn night(
    book: &Book<'_>,
    row: &ReadRow,
    data: &NightRow,
    newest: Option<Day>,
) -> Result<Vec<Wish>, Obstacle> {
    let evening = data.night.evening();
    let male = id(book, &data.male, Some(evening))?;
    let female = id(book, &data.female, Some(evening))?;
    let placed = Fact::Placed(Placed { male, female, ends: StayEnd::NextNoon });
    let mut wishes = with_notes(row, female, When::Night(data.night), placed);
    let morning_has_come = !data.empty_lock || newest.is_none_or(|newest| evening < newest);
    if let (Some(lock), true) = (data.lock, morning_has_come) {
        let fact = Fact::LockLooked(LockLooked { male, female, night: data.night, lock });
        let id = row.record_ids.get(1).copied();
        wishes.push(Wish { when: When::Day(data.night.morning()), fact, id });
    }
    Ok(wishes)
}

/// A temperature belongs to a place, not to an animal; so do its notes.
pub fn temperature(
    book: &Book<'_>,
    row: &ReadRow,
    data: &TemperatureRow,
) -> Result<Vec<Wish>, Obstacle> {
    let place = Place::new(&data.place)
        .map_err(|e| Obstacle { value: data.place.clone(), why: format!("{e}.") })?;
    let TemperatureRow { kind, celsius, humidity, .. } = *data;
    let when = data.time.map_or(When::Day(data.day), |time| time.on(data.day, book.zone));
    let fact = Fact::Reading(Reading { place, kind, celsius, humidity });
    let mut wishes = vec![Wish { when, fact, id: row.record_ids.first().copied() }];
    wishes.extend(row.notes.iter().map(|text| Wish {
        when,
        fact: Fact::Noted(Noted { animal: None, text: text.clone() }),
        id: None,
    }));
    Ok(wishes)
}

pub fn plan(book: &Book<'_>, row: &ReadRow, data: &PlanRow) -> Result<Vec<Wish>, Obstacle> {
    let female = id(book, &data.female, data.day)?;
    let male = match &data.male {
        PlanMale::Code(code) => PlannedMale::Animal(id(book, code, data.day)?),
        PlanMale::Carrying(gene) => PlannedMale::Carrying(gene.clone()),
        PlanMale::Either(text) => match id(book, text, data.day) {
            Ok(male) => PlannedMale::Animal(male),
            Err(obstacle)
                if Code::new(text)
                    .is_ok_and(|c| c.as_str().contains(|c: char| c.is_ascii_digit())) =>
            {
                return Err(obstacle);
            }
            Err(_) => PlannedMale::Carrying(text.clone()),
        },
    };
    let fact = Fact::Planned(Planned { female, male, choice: data.choice, weight: data.weight });
    let day = data.day.unwrap_or(book.options.today);
    Ok(with_notes(row, female, When::Day(day), fact))
}
