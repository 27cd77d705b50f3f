//! Rows of facts that have no sheet of their own, as our own export writes them.

use records::facts::{
    CameBack, Change, Changed, Left, LockLooked, Looked, Moved, Noted, Ovulated, Placed, Planned,
    Set, SexTold, Shed, TakenOut, Treated,
};
use records::words::{Certainty, Choice, Leaving, Lock, PlannedMale, Sex, ShedKind, StayEnd, Tub};
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

/// One row, with the few things every kind asks of it.
struct Said<'r, 'b> {
    book: &'b Book<'r>,
    data: &'b FactRow,
    day: Option<Day>,
}

fn read(book: &Book<'_>, data: &FactRow) -> Result<Fact, Obstacle> {
    let said = Said { book, data, day: data.when.day(book.zone) };
    if let Some(fact) = said.identity()? {
        return Ok(fact);
    }
    if let Some(fact) = said.care()? {
        return Ok(fact);
    }
    said.breeding()?.ok_or_else(|| Obstacle {
        value: data.fact.clone(),
        why: format!("\"{}\" is no kind of fact that is read from a sheet. Correct it.", data.fact),
    })
}

impl Said<'_, '_> {
    fn animal(&self) -> Result<AnimalId, Obstacle> {
        who(self.book, self.data.animal.as_deref(), self.day)
    }

    fn other(&self) -> Result<AnimalId, Obstacle> {
        who(self.book, self.data.other.as_deref(), self.day)
    }

    fn value(&self) -> &str {
        self.data.value.as_deref().unwrap_or("")
    }

    fn bad(&self) -> Obstacle {
        let value = self.value();
        Obstacle {
            value: value.to_owned(),
            why: format!("\"{value}\" is no value for \"{}\". Correct it.", self.data.fact),
        }
    }

    fn identity(&self) -> Result<Option<Fact>, Obstacle> {
        let (value, bad, note) = (self.value(), || self.bad(), self.data.note.clone());
        Ok(Some(match self.data.fact.as_str() {
            "changed" => {
                let change = match value.split_once(": ") {
                    Some(("name", text)) => Change::Name(text.to_owned()),
                    Some(("genes", text)) => Change::Genes(text.to_owned()),
                    Some(("hatch date", text)) => Change::Hatched(text.parse().map_err(|_| bad())?),
                    Some(("sire", _)) => Change::Sire(self.other()?),
                    Some(("dam", _)) => Change::Dam(self.other()?),
                    _ => return Err(bad()),
                };
                Fact::Changed(Changed { animal: self.animal()?, change })
            }
            "sex told" => {
                let sex = Sex::from_word(value).ok_or_else(bad)?;
                Fact::SexTold(SexTold { animal: self.animal()?, sex, how: note })
            }
            "moved" => {
                let tub = Tub::new(value).map_err(|_| bad())?;
                Fact::Moved(Moved { animal: self.animal()?, tub })
            }
            "left" => {
                let how = Leaving::from_word(value).ok_or_else(bad)?;
                Fact::Left(Left { animal: self.animal()?, how, to: note })
            }
            "came back" => Fact::CameBack(CameBack { animal: self.animal()? }),
            "look" => Fact::Looked(Looked { animal: self.animal()?, look: value.to_owned() }),
            "note" => {
                let animal = self.data.animal.is_some().then(|| self.animal()).transpose()?;
                Fact::Noted(Noted { animal, text: note.unwrap_or_default() })
            }
            "setting" => {
                let (name, value) = value.split_once('=').ok_or_else(bad)?;
                Fact::Set(Set { name: name.trim().to_owned(), value: value.trim().to_owned() })
            }
            _ => return Ok(None),
        }))
    }

    fn care(&self) -> Result<Option<Fact>, Obstacle> {
        let (value, bad) = (self.value(), || self.bad());
        Ok(Some(match self.data.fact.as_str() {
            "shed" => {
                let kind = ShedKind::from_word(value).ok_or_else(bad)?;
                Fact::Shed(Shed { animal: self.animal()?, kind })
            }
            "in blue" => Fact::InBlue(self.animal()?),
            kind @ ("quarantine" | "treatment") => {
                let begins = match value {
                    "begins" => true,
                    "ends" => false,
                    _ => return Err(bad()),
                };
                let what = self.data.note.clone();
                let treated = Treated { animal: self.animal()?, begins, what };
                if kind == "quarantine" {
                    Fact::Quarantine(treated)
                } else {
                    Fact::Treatment(treated)
                }
            }
            "warmed up" => Fact::WarmedUp(self.animal()?),
            "settled" => Fact::Settled(self.animal()?),
            _ => return Ok(None),
        }))
    }

    fn breeding(&self) -> Result<Option<Fact>, Obstacle> {
        let (value, bad) = (self.value(), || self.bad());
        Ok(Some(match self.data.fact.as_str() {
            "placed" => {
                let ends = StayEnd::from_word(value).ok_or_else(bad)?;
                Fact::Placed(Placed { female: self.animal()?, male: self.other()?, ends })
            }
            "taken out" => Fact::TakenOut(TakenOut { female: self.animal()?, male: self.other()? }),
            "lock" => {
                let lock = Lock::from_word(value).ok_or_else(bad)?;
                let night = self.data.note.as_deref().unwrap_or("").parse().map_err(|_| bad())?;
                let night = Night::beginning(night);
                let (female, male) = (self.animal()?, self.other()?);
                Fact::LockLooked(LockLooked { male, female, night, lock })
            }
            "resorbed" => Fact::Resorbed(self.animal()?),
            "ovulated" => {
                let certainty = Certainty::from_word(value).ok_or_else(bad)?;
                let sire = self.data.other.is_some().then(|| self.other()).transpose()?;
                Fact::Ovulated(Ovulated { female: self.animal()?, certainty, sire })
            }
            "planned pair" => {
                let (choice, weight) = value.split_once(' ').ok_or_else(bad)?;
                let choice = Choice::from_word(choice).ok_or_else(bad)?;
                let weight = weight.parse().map_err(|_| bad())?;
                let male = match (&self.data.other, &self.data.note) {
                    (Some(_), _) => PlannedMale::Animal(self.other()?),
                    (None, Some(gene)) => PlannedMale::Carrying(gene.clone()),
                    (None, None) => return Err(bad()),
                };
                Fact::Planned(Planned { female: self.animal()?, male, choice, weight })
            }
            _ => return Ok(None),
        }))
    }
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
