//! Rows that bring animals in: lists of animals and of hatchlings.
//!
//! A hatchling is an animal from the day it hatches, under its clutch code; "kept as M09" is a
//! re-tag, so the row M09 of a list of animals is the same animal.

use records::colony::Bearer;
use records::facts::{Added, Change, Changed, Left, Looked, Noted, Retagged, SexTold, Weighed};
use records::words::{Code, Sex, Tub};
use records::{AnimalId, Draft, Fact, Source};
use units::{Day, When};

use super::book::{At, Book, Obstacle, Wish};
use super::kept;
use crate::rows::{AnimalRow, HatchlingRow, Retag};
use crate::sheet::ReadRow;

/// First pass: adds the animal itself, so that every other row can find it. Parents follow later.
/// Returns none where the code is known already.
pub fn add_animal(
    book: &mut Book<'_>,
    source: &Source,
    row: &ReadRow,
    data: &AnimalRow,
) -> Result<Option<Draft>, Obstacle> {
    let code = code(&data.code)?;
    match book.colony.bearer(&data.code, data.hatched) {
        Bearer::Nobody => {}
        Bearer::One(place) if was_given_again(book, place, data) => {}
        Bearer::One(_) | Bearer::Several(_) => return Ok(None),
    }
    let added = Added {
        code,
        name: data.name.clone(),
        sex: data.sex,
        hatched: data.hatched,
        genes: data.genes.clone(),
        sire: None,
        dam: None,
        clutch: data.clutch.clone(),
        tub: tub(data.tub.as_deref())?,
    };
    let known_as = added.code.clone();
    Ok(Some(add(book, source, row, (&known_as, added))))
}

/// A code may be given again after its bearer left: a row of an animal that hatched later means
/// the new one, a row of an animal that left before the bearer hatched an old one.
fn was_given_again(book: &Book<'_>, place: usize, data: &AnimalRow) -> bool {
    let animal = &book.colony.animals[place];
    let is_after = |left: Option<Day>, hatched: Option<Day>| matches!((left, hatched), (Some(left), Some(hatched)) if hatched > left);
    is_after(animal.left.last().map(|l| l.day), data.hatched)
        || is_after(data.left.as_ref().and_then(|l| l.day), animal.hatched)
}

/// First pass: its leaving, which tells whether its code was free for the next animal.
pub fn left(book: &Book<'_>, added: Option<&Draft>, data: &AnimalRow) -> Option<Wish> {
    let left = data.left.as_ref()?;
    let known = || book.animal(&data.code, data.hatched).ok();
    let animal = match added {
        Some(draft) => AnimalId(draft.id),
        None => book.colony.animals[known()?].id,
    };
    let fact = Fact::Left(Left { animal, how: left.how, to: left.to.clone() });
    Some(Wish { when: left.day.map_or(When::Undated, When::Day), fact, id: None })
}

/// First pass for a hatchling.
pub fn add_hatchling(
    book: &mut Book<'_>,
    source: &Source,
    row: &ReadRow,
    data: &HatchlingRow,
) -> Result<Option<Draft>, Obstacle> {
    let code = code(&data.code)?;
    match book.colony.bearer(&data.code, data.day) {
        Bearer::Nobody => {}
        Bearer::One(place) => return kept::is_free(book, place, data).map(|()| None),
        Bearer::Several(_) => return Ok(None),
    }
    if let Some(key) = kept::code(data).map(|kept| kept.key())
        && !book.kept.insert(key)
    {
        return Err(kept::twice(data));
    }
    if let Some(place) = kept::already(book, data)? {
        return Ok(kept::join(book, source, place, code, data));
    }
    let mut added = Added::with_code(code);
    added.sex = data.sex;
    added.hatched = data.day;
    added.clutch.clone_from(&data.clutch);
    // The same id as its row in a list of animals would give it, whichever comes first.
    let known_as = kept::code(data).unwrap_or_else(|| added.code.clone());
    Ok(Some(add(book, source, row, (&known_as, added))))
}

fn add(
    book: &mut Book<'_>,
    source: &Source,
    row: &ReadRow,
    (known_as, added): (&Code, Added),
) -> Draft {
    let when = added.hatched.map_or(When::Undated, When::Day);
    let key = format!("animal|{}|{when}", known_as.key());
    let given = row.record_ids.first().copied().filter(|id| !book.ids.contains(id));
    let id = given.unwrap_or_else(|| book.free_id(&key, 1));
    book.add(id, source, when, Fact::Added(added))
}

fn code(text: &str) -> Result<Code, Obstacle> {
    Code::new(text).map_err(|e| Obstacle { value: text.to_owned(), why: e.to_string() })
}

fn tub(text: Option<&str>) -> Result<Option<Tub>, Obstacle> {
    let read = |t| Tub::new(t).map_err(|e| Obstacle { value: t.to_owned(), why: e.to_string() });
    text.map(read).transpose()
}

/// The re-tag that a kept hatchling or a note asks for, so that the new code is found too.
pub fn retag(book: &Book<'_>, data: &AnimalRow) -> Vec<Wish> {
    let Bearer::One(place) = book.colony.bearer(&data.code, data.hatched) else { return vec![] };
    let (new, day) = match &data.retag {
        Some(Retag::Became { code, day }) => (code, *day),
        _ => return vec![],
    };
    retagged(book, place, new, day)
}

/// "kept as M09".
pub fn kept(book: &Book<'_>, data: &HatchlingRow) -> Vec<Wish> {
    let Some(kept) = kept::code(data) else { return vec![] };
    let Bearer::One(place) = book.colony.bearer(&data.code, data.day) else { return vec![] };
    let retagged = kept::retagged(book, place, kept);
    retagged.into_iter().map(|fact| Wish { when: When::Undated, fact, id: None }).collect()
}

fn retagged(book: &Book<'_>, place: usize, new: &str, day: Option<Day>) -> Vec<Wish> {
    let animal = &book.colony.animals[place];
    let Ok(code) = Code::new(new) else { return vec![] };
    if animal.codes.iter().any(|s| s.code.key() == code.key()) {
        return vec![];
    }
    let when = day.map_or(When::Undated, When::Day);
    vec![Wish { when, fact: Fact::Retagged(Retagged { animal: animal.id, code }), id: None }]
}

/// Second pass of an animal's row: what it says beyond the animal's existence.
pub fn rest_of_animal(
    book: &Book<'_>,
    row: &ReadRow,
    data: &AnimalRow,
    is_new: bool,
) -> Result<Vec<Wish>, Obstacle> {
    let place = book.animal(&data.code, data.hatched)?;
    let id = book.colony.animals[place].id;
    let mut wishes = Vec::new();
    if !is_new {
        wishes.extend(told_again(book, place, data)?);
    }
    wishes.extend(parents(book, place, data.sire.as_deref(), data.dam.as_deref(), data.hatched)?);
    if let (Some(mass), Some(day)) = (data.grams, data.weighed) {
        wishes.push(Wish::on(day, Fact::Weighed(Weighed { animal: id, mass })));
    }
    let notes = data.notes.iter().chain(&row.notes);
    wishes.extend(notes.map(|text| noted(id, When::Undated, text)));
    Ok(wishes)
}

/// What a row says of an animal that is known already: news is taken, a contradiction is held.
fn told_again(book: &Book<'_>, place: usize, data: &AnimalRow) -> Result<Vec<Wish>, Obstacle> {
    let animal = &book.colony.animals[place];
    let id = animal.id;
    let mut wishes = Vec::new();
    let mut change = |change| {
        let fact = Fact::Changed(Changed { animal: id, change });
        wishes.push(Wish { when: When::Undated, fact, id: None });
    };
    if news("name", animal.name.as_deref(), data.name.as_deref())? {
        change(Change::Name(data.name.clone().unwrap_or_default()));
    }
    if news("genes", animal.genes.as_ref().map(|g| g.0.as_str()), data.genes.as_deref())? {
        change(Change::Genes(data.genes.clone().unwrap_or_default()));
    }
    let day = |d: Option<Day>| d.map(|d| d.to_string());
    if news("hatch date", day(animal.hatched).as_deref(), day(data.hatched).as_deref())?
        && let Some(hatched) = data.hatched
    {
        change(Change::Hatched(hatched));
    }
    let sex = |s: Option<Sex>| s.map(Sex::word);
    if news("sex", sex(animal.sex()), sex(data.sex))?
        && let Some(sex) = data.sex
    {
        let fact = Fact::SexTold(SexTold { animal: id, sex, how: None });
        wishes.push(Wish { when: When::Undated, fact, id: None });
    }
    let now = animal.tubs.last().map(|t| t.what.as_str());
    if news("tub", now, data.tub.as_deref())?
        && let Some(tub) = tub(data.tub.as_deref())?
    {
        let fact = Fact::Moved(records::facts::Moved { animal: id, tub });
        wishes.push(Wish { when: When::Undated, fact, id: None });
    }
    Ok(wishes)
}

/// Whether a cell says something not yet known. Capitals and blanks make no difference.
fn news(what: &str, known: Option<&str>, told: Option<&str>) -> Result<bool, Obstacle> {
    let plain = |t: &str| t.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    match (known, told) {
        (_, None) => Ok(false),
        (None, Some(_)) => Ok(true),
        (Some(known), Some(told)) if plain(known) == plain(told) => Ok(false),
        (Some(known), Some(told)) => Err(Obstacle {
            value: told.to_owned(),
            why: format!(
                "The records have another {what} under this code: {known} there, {told} here. Say \
                 which one is right, or give one of two animals another code."
            ),
        }),
    }
}

fn parents(
    book: &Book<'_>,
    place: usize,
    sire: Option<&str>,
    dam: Option<&str>,
    hatched: Option<Day>,
) -> Result<Vec<Wish>, Obstacle> {
    let animal = &book.colony.animals[place];
    let mut wishes = Vec::new();
    for (told, known, is_sire) in [(sire, animal.sire, true), (dam, animal.dam, false)] {
        let Some(told) = told else { continue };
        let parent = book.animal(told, hatched)?;
        if known == Some(parent) {
            continue;
        }
        if let Some(known) = known {
            let known = book.colony.code(known);
            let word = if is_sire { "sire" } else { "dam" };
            let why = format!(
                "The records have {known} as the {word}, this row {told}. Say which is right."
            );
            return Err(Obstacle { value: told.to_owned(), why });
        }
        let parent: AnimalId = book.colony.animals[parent].id;
        let change = if is_sire { Change::Sire(parent) } else { Change::Dam(parent) };
        let fact = Fact::Changed(Changed { animal: animal.id, change });
        wishes.push(Wish { when: When::Undated, fact, id: None });
    }
    Ok(wishes)
}

fn noted(animal: AnimalId, when: When, text: &str) -> Wish {
    let fact = Fact::Noted(Noted { animal: Some(animal), text: text.to_owned() });
    Wish { when, fact, id: None }
}

/// Second pass of a hatchling's row.
pub fn rest_of_hatchling(
    book: &Book<'_>,
    row: &ReadRow,
    data: &HatchlingRow,
) -> Result<Vec<Wish>, Obstacle> {
    let place = book.animal(&data.code, data.day)?;
    let animal = &book.colony.animals[place];
    let mut wishes = parents(book, place, data.sire.as_deref(), data.dam.as_deref(), data.day)?;
    let when = data.day.or(animal.hatched).map_or(When::Undated, When::Day);
    if let Some(look) = &data.look {
        let fact = Fact::Looked(Looked { animal: animal.id, look: look.clone() });
        wishes.push(Wish { when, fact, id: None });
    }
    if let Some(mass) = data.grams {
        let fact = Fact::Weighed(Weighed { animal: animal.id, mass });
        wishes.push(Wish { when, fact, id: None });
    }
    let sex = |s: Option<Sex>| s.map(Sex::word);
    if news("sex", sex(animal.sex()), sex(data.sex))?
        && let Some(sex) = data.sex
    {
        let fact = Fact::SexTold(SexTold { animal: animal.id, sex, how: None });
        wishes.push(Wish { when: When::Undated, fact, id: None });
    }
    wishes.extend(row.notes.iter().map(|text| noted(animal.id, when, text)));
    Ok(wishes)
}

/// Last pass: a weight without a day is dated the day of import, and dropped where it repeats the
/// newest dated one.
pub fn undated_weight(
    book: &mut Book<'_>,
    at: At,
    source: &Source,
    data: &AnimalRow,
) -> Option<Draft> {
    let mass = data.grams.filter(|_| data.weighed.is_none())?;
    let place = book.animal(&data.code, data.hatched).ok()?;
    let animal = &book.colony.animals[place];
    if animal.last_weight().is_some_and(|w| w.what == mass) {
        return None;
    }
    let fact = Fact::Weighed(Weighed { animal: animal.id, mass });
    book.take(at, source, vec![Wish::on(book.options.today, fact)]).drafts.pop()
}
