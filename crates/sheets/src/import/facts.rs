//! Rows of facts that have no sheet of their own, as our own export writes them.

use records::facts::{
    Borrowed, CameBack, Change, Changed, Checked, Fed, HatchedOut, Incubated, Left, LockLooked,
    Looked, Moved, Noted, Ovulated, Placed, Planned, Reading, Retagged, Set, SexTold, Shed,
    TakenOut, Tested, Treated, Weighed,
};
use records::words::{
    Certainty, Choice, Code, LabFound, Leaving, Lock, Meal, Place, PlannedMale, ReadingKind, Sex,
    ShedKind, StayEnd, Tub,
};
use records::{AnimalId, ClutchId, Fact, Found, Live};
use units::{Celsius, Day, Grams, Millimetres, Night, Probability, When};

use super::book::{Book, Obstacle, Wish};
use crate::rows::FactRow;
use crate::sheet::ReadRow;

/// The word of a re-tag, which comes before rows that name its code.
pub const RETAGGED: &str = "re-tagged";

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
            RETAGGED => {
                let code = Code::new(value).map_err(|_| bad())?;
                Fact::Retagged(Retagged { animal: self.animal()?, code })
            }
            "borrowed" => {
                let (due, share) = value.split_once(' ').unwrap_or((value, ""));
                let due = (due != "-").then(|| due.parse().map_err(|_| bad())).transpose()?;
                let share = (!share.is_empty()).then(|| share.to_owned());
                let owner = note.unwrap_or_default();
                Fact::Borrowed(Borrowed { animal: self.animal()?, owner, due, share })
            }
            "came back" => Fact::CameBack(CameBack { animal: self.animal()? }),
            "look" => Fact::Looked(Looked { animal: self.animal()?, look: value.to_owned() }),
            "lab result" => {
                let (found, rest) = value.split_once(": ").ok_or_else(bad)?;
                let found = LabFound::from_word(found).ok_or_else(bad)?;
                let (gene, error) = match rest.rsplit_once("; wrong ") {
                    Some((gene, error)) => (gene, Some(error_rate(error).ok_or_else(bad)?)),
                    None => (rest, None),
                };
                let (animal, gene) = (self.animal()?, gene.to_owned());
                Fact::Tested(Tested { animal, gene, found, lab: note, error })
            }
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
            "weighed" => {
                let mass = number(value).and_then(|n| Grams::new(n).ok()).ok_or_else(bad)?;
                Fact::Weighed(Weighed { animal: self.animal()?, mass })
            }
            "fed" => {
                let (count, meal) = value.split_once(' ').ok_or_else(bad)?;
                let count = count.parse().ok().filter(|n| *n > 0).ok_or_else(bad)?;
                let meal = Meal::from_word(meal).ok_or_else(bad)?;
                let prey = self.data.note.clone().unwrap_or_default();
                Fact::Fed(Fed { animal: self.animal()?, prey, count, meal })
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

    /// The clutch that the animal of the row laid on that day.
    fn clutch(&self, laid: Option<Day>) -> Option<ClutchId> {
        let code = self.data.animal.as_deref()?;
        let place = self.book.animal(code, laid.or(self.day)).ok()?;
        let female = self.book.colony.animals[place].id;
        let is_it = |live: &&Live| {
            matches!(&live.fact, Fact::Laid(f) if f.female == female)
                && live.when.day(self.book.zone) == laid
        };
        self.book.lives.iter().find(is_it).map(|live| ClutchId(live.id))
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
            "follicle check" => {
                let found = match value.split_once(' ').ok_or_else(bad)? {
                    ("scan", sizes) => {
                        let size = |text| number(text).and_then(|n| Millimetres::new(n).ok());
                        let sizes: Option<Vec<_>> = sizes.split(" x ").map(size).collect();
                        Found::Scan(sizes.ok_or_else(bad)?)
                    }
                    ("felt", word) => Found::Felt(word.to_owned()),
                    ("nothing", _) => Found::NothingFelt,
                    _ => return Err(bad()),
                };
                Fact::Checked(Checked { female: self.animal()?, found })
            }
            "hatched" => {
                let hatchlings = match value {
                    "-" => None,
                    number => Some(number.parse().map_err(|_| bad())?),
                };
                let laid = self.data.note.as_deref().and_then(|text| text.parse().ok());
                let clutch = self.clutch(laid).ok_or_else(bad)?;
                Fact::HatchedOut(HatchedOut { clutch, hatchlings })
            }
            "incubated" => {
                let laid = self.data.note.as_deref().and_then(|text| text.parse().ok());
                let clutch = self.clutch(laid).ok_or_else(bad)?;
                Fact::Incubated(Incubated { clutch, place: Place::new(value).map_err(|_| bad())? })
            }
            "reading" => {
                let (kind, rest) = value.split_once(' ').ok_or_else(bad)?;
                let kind = ReadingKind::from_word(kind).ok_or_else(bad)?;
                let (celsius, humidity) = match rest.split_once("; humidity ") {
                    Some((celsius, humidity)) => {
                        let humidity = humidity.parse().ok().filter(|h| *h <= 100);
                        (celsius, Some(humidity.ok_or_else(bad)?))
                    }
                    None => (rest, None),
                };
                let celsius = number(celsius).and_then(|n| Celsius::new(n).ok());
                let place = Place::new(self.data.note.as_deref().unwrap_or(""));
                let (celsius, place) = (celsius.ok_or_else(bad)?, place.map_err(|_| bad())?);
                Fact::Reading(Reading { place, kind, celsius, humidity })
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

fn error_rate(text: &str) -> Option<Probability> {
    number(text).filter(|e| *e < 0.5).and_then(|e| Probability::new(e).ok())
}

fn number(text: &str) -> Option<f64> {
    text.trim().parse().ok()
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
