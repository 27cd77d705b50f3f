//! Rows of facts that have no sheet of their own, as our own export writes them.

use records::facts::{
    CameBack, Change, Changed, Left, LockLooked, Looked, Moved, Noted, Ovulated, Placed, Planned,
    Set, SexTold, Shed, TakenOut, Treated,
};
use records::words::{
    Certainty, Choice, Leaving, Lock, PlannedMale, Sex, ShedKind, StayEnd, Tub,
};
use records::{AnimalId, Fact};
use units::{Day, Night, When};

use super::book::{Book, Obstacle, Wish};
use crate::rows::FactRow;
use crate::sheet::ReadRow;

/// Reads one such row back.
pub fn fact(book: &Book<'_>, row: &ReadRow, data: &FactRow) -> Result<Vec<Wish>, Obstacle> {
    let fact = read(book, data)?;
    Ok(vec![Wish { when: data.when, fact, id: row.record_ids.first().copied() }])
}

fn read(book: &Book<'_>, data: &FactRow) -> Result<Fact, Obstacle> {
    let day = data.when.day(book.zone);
    let animal = || who(book, data.animal.as_deref(), day);
    let other = || who(book, data.other.as_deref(), day);
    let value = data.value.as_deref().unwrap_or("");
    let bad = || Obstacle {
        value: value.to_owned(),
        why: format!("\"{value}\" is no value for \"{}\". Correct it.", data.fact),
    };
    let note = data.note.clone();
    Ok(match data.fact.as_str() {
        "changed" => {
            let change = match value.split_once(": ") {
                Some(("name", text)) => Change::Name(text.to_owned()),
                Some(("genes", text)) => Change::Genes(text.to_owned()),
                Some(("hatch date", text)) => Change::Hatched(text.parse().map_err(|_| bad())?),
                Some(("sire", _)) => Change::Sire(other()?),
                Some(("dam", _)) => Change::Dam(other()?),
                _ => return Err(bad()),
            };
            Fact::Changed(Changed { animal: animal()?, change })
        }
        "sex told" => {
            let sex = Sex::from_word(value).ok_or_else(bad)?;
            Fact::SexTold(SexTold { animal: animal()?, sex, how: note })
        }
        "moved" => Fact::Moved(Moved { animal: animal()?, tub: Tub::new(value).map_err(|_| bad())? }),
        "left" => {
            let how = Leaving::from_word(value).ok_or_else(bad)?;
            Fact::Left(Left { animal: animal()?, how, to: note })
        }
        "came back" => Fact::CameBack(CameBack { animal: animal()? }),
        "shed" => {
            let kind = ShedKind::from_word(value).ok_or_else(bad)?;
            Fact::Shed(Shed { animal: animal()?, kind })
        }
        "in blue" => Fact::InBlue(animal()?),
        "quarantine" | "treatment" => {
            let begins = match value {
                "begins" => true,
                "ends" => false,
                _ => return Err(bad()),
            };
            let treated = Treated { animal: animal()?, begins, what: note };
            if data.fact == "quarantine" {
                Fact::Quarantine(treated)
            } else {
                Fact::Treatment(treated)
            }
        }
        "placed" => {
            let ends = StayEnd::from_word(value).ok_or_else(bad)?;
            Fact::Placed(Placed { female: animal()?, male: other()?, ends })
        }
        "taken out" => Fact::TakenOut(TakenOut { female: animal()?, male: other()? }),
        "lock" => {
            let lock = Lock::from_word(value).ok_or_else(bad)?;
            let night = note.as_deref().unwrap_or("").parse::<Day>().map_err(|_| bad())?;
            let night = Night::beginning(night);
            Fact::LockLooked(LockLooked { female: animal()?, male: other()?, night, lock })
        }
        "warmed up" => Fact::WarmedUp(animal()?),
        "settled" => Fact::Settled(animal()?),
        "resorbed" => Fact::Resorbed(animal()?),
        "ovulated" => {
            let certainty = Certainty::from_word(value).ok_or_else(bad)?;
            let sire = data.other.is_some().then(other).transpose()?;
            Fact::Ovulated(Ovulated { female: animal()?, certainty, sire })
        }
        "look" => Fact::Looked(Looked { animal: animal()?, look: value.to_owned() }),
        "planned pair" => {
            let (choice, weight) = value.split_once(' ').ok_or_else(bad)?;
            let choice = Choice::from_word(choice).ok_or_else(bad)?;
            let weight = weight.parse().map_err(|_| bad())?;
            let male = match (&data.other, note) {
                (Some(_), _) => PlannedMale::Animal(other()?),
                (None, Some(gene)) => PlannedMale::Carrying(gene),
                (None, None) => return Err(bad()),
            };
            Fact::Planned(Planned { female: animal()?, male, choice, weight })
        }
        "note" => {
            let animal = data.animal.is_some().then(animal).transpose()?;
            Fact::Noted(Noted { animal, text: note.unwrap_or_default() })
        }
        "setting" => {
            let (name, value) = value.split_once('=').ok_or_else(bad)?;
            Fact::Set(Set { name: name.trim().to_owned(), value: value.trim().to_owned() })
        }
        _ => return Err(Obstacle {
            value: data.fact.clone(),
            why: format!("\"{}\" is no kind of fact that is read from a sheet. Correct it.", data.fact),
        }),
    })
}

fn who(book: &Book<'_>, code: Option<&str>, day: Option<Day>) -> Result<AnimalId, Obstacle> {
    let code = code.ok_or_else(|| Obstacle {
        value: String::new(),
        why: "The row names no animal. Write its code.".to_owned(),
    })?;
    book.animal(code, day).map(|place| book.colony.animals[place].id)
}

/// The days this kind of row speaks of.
pub fn day(when: When) -> Option<Day> {
    match when {
        When::Day(day) => Some(day),
        When::Night(night) => Some(night.evening()),
        When::Instant(_) | When::Undated => None,
    }
}
