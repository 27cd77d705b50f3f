//! Which animal a kept hatchling is: "kept as M09" and the row M09 of a list of animals are one
//! animal, whichever of the two sheets comes first.
//!
//! Decided by what is written only: the code it was kept as, and the hatch date. Where these do not
//! decide it, the row of the hatchling is one question.

use records::facts::{Added, Retagged};
use records::words::{Code, Leaving};
use records::{Draft, Fact, Source};
use units::{Day, When};

use super::book::{Book, Obstacle};
use crate::rows::HatchlingRow;

/// The code a hatchling was kept as, where it is another than its own.
pub fn code(data: &HatchlingRow) -> Option<Code> {
    let kept = Code::new(data.kept.as_ref()?.code.as_deref()?).ok()?;
    (kept.key() != data.code.trim().to_lowercase()).then_some(kept)
}

/// The animal of the records that the kept hatchling of this row is; none where the records know
/// nobody it could be.
pub fn already(book: &Book<'_>, data: &HatchlingRow) -> Result<Option<usize>, Obstacle> {
    let Some(kept) = code(data) else { return Ok(None) };
    let bearers: Vec<usize> = bearers(book, &kept, data.day).collect();
    let [place] = *bearers.as_slice() else {
        let several = || undecided(&kept, "Two animals bear that code already.");
        return if bearers.is_empty() { Ok(None) } else { Err(several()) };
    };
    let animal = &book.colony.animals[place];
    if animal.clutch.is_some() && animal.clutch != data.clutch {
        return Err(undecided(&kept, "The records have a hatchling of another clutch under it."));
    }
    if animal.codes.len() > 1 {
        let other = animal.codes[0].code.as_str();
        return Err(undecided(&kept, &format!("The records have {other} kept under it.")));
    }
    match (animal.hatched, data.day) {
        (known, told) if known == told => Ok(Some(place)),
        (None, Some(day)) if !lived_before(book, place, day) => Ok(Some(place)),
        (known, _) => {
            let known = known.map_or_else(|| "no hatch date".to_owned(), |d| d.to_string());
            Err(undecided(&kept, &format!("The records have {known} for {kept}.")))
        }
    }
}

/// Whether the code a known hatchling is kept as is free for it.
pub fn is_free(book: &Book<'_>, place: usize, data: &HatchlingRow) -> Result<(), Obstacle> {
    let Some(kept) = code(data) else { return Ok(()) };
    if bearers(book, &kept, data.day).all(|other| other == place) {
        return Ok(());
    }
    let own = book.colony.code(place);
    Err(undecided(&kept, &format!("The records have both {own} and {kept}, as two animals.")))
}

/// Those who bear the code still, or left with it and hatched on that very day.
fn bearers<'b>(
    book: &'b Book<'_>,
    code: &Code,
    hatched: Option<Day>,
) -> impl Iterator<Item = usize> + 'b {
    let key = code.key();
    book.colony.ever_bore(&key).iter().copied().filter(move |place| {
        let animal = &book.colony.animals[*place];
        let bears = animal.codes.last().is_some_and(|span| span.code.key() == key);
        let is_gone = animal.left.last().is_some_and(|left| {
            left.what.how != Leaving::Lent
                && animal.returned.last().is_none_or(|back| back.day < left.day)
        });
        bears && (!is_gone || (hatched.is_some() && animal.hatched == hatched))
    })
}

fn lived_before(book: &Book<'_>, place: usize, day: Day) -> bool {
    let records = book.colony.animals[place].history.iter();
    let mut days = records.filter_map(|id| book.colony.record(*id)?.when.day(book.zone));
    days.any(|on| on < day)
}

fn undecided(kept: &Code, what: &str) -> Obstacle {
    Obstacle {
        value: kept.as_str().to_owned(),
        why: format!(
            "This hatchling was kept as {kept}, but whether it is the {kept} of the records cannot \
             be told. {what} Correct the hatch date or the code of one of them and import the sheet \
             again, or leave this row out."
        ),
    }
}

/// Two hatchlings of one import are kept as the same animal.
pub fn twice(data: &HatchlingRow) -> Obstacle {
    let kept = code(data).map_or_else(String::new, |kept| kept.as_str().to_owned());
    let why = format!(
        "Two hatchlings were kept as {kept}. Give one of them another code in its row, then import \
         the sheet again."
    );
    Obstacle { value: kept, why }
}

/// Makes the animal of the records the hatchling: it bore the hatchling's code first, and the code
/// it was kept as since.
pub fn join(
    book: &mut Book<'_>,
    source: &Source,
    place: usize,
    code: Code,
    data: &HatchlingRow,
) -> Option<Draft> {
    let animal = &book.colony.animals[place];
    let id = animal.id;
    let Fact::Added(added) = &book.colony.record(animal.added())?.fact else { return None };
    let added = Added {
        code,
        hatched: added.hatched.or(data.day),
        clutch: added.clutch.clone().or_else(|| data.clutch.clone()),
        ..added.clone()
    };
    let when = added.hatched.map_or(When::Undated, When::Day);
    Some(book.correct(source, id.0, when, Fact::Added(added)))
}

/// The re-tag that says what the hatchling was kept as.
pub fn retagged(book: &Book<'_>, place: usize, kept: Code) -> Option<Fact> {
    let animal = &book.colony.animals[place];
    let has = animal.codes.iter().any(|span| span.code.key() == kept.key());
    (!has).then_some(Fact::Retagged(Retagged { animal: animal.id, code: kept }))
}
