//! Rows of clutches: ovulation, shed, laying and hatching, each on its own day.

use records::facts::{HatchedOut, Laid, Noted, Ovulated, Shed};
use records::words::{Certainty, ShedKind};
use records::{ClutchId, Fact};
use units::When;

use super::book::{Book, Obstacle, Wish};
use super::key::exact;
use crate::rows::ClutchRow;
use crate::sheet::ReadRow;

pub fn clutch(book: &Book<'_>, row: &ReadRow, data: &ClutchRow) -> Result<Vec<Wish>, Obstacle> {
    let first = data.ovulation.or(data.prelay_shed).or(data.laid).or(data.hatched_on);
    let female = book.animal(&data.female, first)?;
    let female = book.colony.animals[female].id;
    let sire = data.male.as_deref().map(|code| book.animal(code, first)).transpose()?;
    let sire = sire.map(|place| book.colony.animals[place].id);
    let mut ids = row.record_ids.iter().copied();
    let mut wishes = Vec::new();
    if let Some(day) = data.ovulation {
        let fact = Fact::Ovulated(Ovulated { female, certainty: Certainty::Seen, sire });
        wishes.push(Wish { when: When::Day(day), fact, id: ids.next() });
    }
    if let Some(day) = data.prelay_shed {
        let fact = Fact::Shed(Shed { animal: female, kind: ShedKind::PreLay });
        wishes.push(Wish { when: When::Day(day), fact, id: ids.next() });
    }
    let is_laid = data.laid.is_some()
        || data.eggs.is_some()
        || data.slugs.is_some()
        || data.hatched_on.is_some()
        || data.mass.is_some();
    if is_laid {
        laying(
            book,
            data,
            Fact::Laid(Laid {
                female,
                sire,
                clutch: data.clutch_code.clone(),
                eggs: data.eggs,
                slugs: data.slugs,
                mass: data.mass,
                kept: data.kept,
            }),
            &mut ids,
            &mut wishes,
        );
    }
    let when = first.map_or(When::Undated, When::Day);
    wishes.extend(row.notes.iter().map(|text| Wish {
        when,
        fact: Fact::Noted(Noted { animal: Some(female), text: text.clone() }),
        id: None,
    }));
    Ok(wishes)
}

fn laying(
    book: &Book<'_>,
    data: &ClutchRow,
    laid: Fact,
    ids: &mut impl Iterator<Item = records::RecordId>,
    wishes: &mut Vec<Wish>,
) {
    let when = data.laid.map_or(When::Undated, When::Day);
    let key = exact(&laid, when);
    let known = book
        .lives
        .iter()
        .find(|l| matches!(l.fact, Fact::Laid(_)) && exact(&l.fact, l.when) == key);
    let id = known.map(|l| l.id).or_else(|| ids.next()).unwrap_or_else(|| book.free_id(&key, 1));
    wishes.push(Wish { when, fact: laid, id: Some(id) });
    if data.hatched_on.is_some() || data.hatchlings.is_some() {
        let fact =
            Fact::HatchedOut(HatchedOut { clutch: ClutchId(id), hatchlings: data.hatchlings });
        let when = data.hatched_on.map_or(When::Undated, When::Day);
        wishes.push(Wish { when, fact, id: ids.next() });
    }
}
