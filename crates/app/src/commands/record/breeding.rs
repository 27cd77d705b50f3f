//! Facts of the breeding season.

use records::facts::{HatchedOut, Laid, LockLooked, Ovulated, Placed, Planned, TakenOut};
use records::words::{Certainty, Choice, EggsKept, Lock, StayEnd};
use records::{ClutchId, Fact, PlannedMale};
use sheets::typed::{Typed, number};
use units::{Night, When, Zone};

use super::reading::Reading;
use crate::refusal::Refusal;

impl Reading<'_> {
    /// None where the words tell of something else.
    pub fn breeding(&self) -> Result<Option<Fact>, Refusal> {
        Ok(Some(match self.args.fact.as_str() {
            "placed" => {
                let (male, female) = self.pair()?;
                Fact::Placed(Placed { male, female, ends: StayEnd::Open })
            }
            "taken-out" => {
                let (male, female) = self.pair()?;
                Fact::TakenOut(TakenOut { male, female })
            }
            "planned" => self.planned()?,
            "warmed-up" => Fact::WarmedUp(self.animal(0)?),
            "settled" => Fact::Settled(self.animal(0)?),
            "resorbed" => Fact::Resorbed(self.animal(0)?),
            "ovulated" => {
                let certainty = self
                    .word(1)
                    .map_or(Some(Certainty::Seen), Certainty::from_word)
                    .ok_or_else(|| self.usage())?;
                Fact::Ovulated(Ovulated { female: self.animal(0)?, certainty, sire: None })
            }
            "laid" => {
                let (eggs, slugs) = (self.count(1)?, self.count(2)?);
                if let (Some(eggs), Some(slugs)) = (eggs, slugs)
                    && slugs > eggs
                {
                    return Err(Refusal::new(
                        format!("{slugs} slugs are more than {eggs} eggs."),
                        "FACT",
                        format!(
                            "Count the slugs among the eggs: {slugs} eggs, {eggs} of them slugs."
                        ),
                    ));
                }
                let kept = match self.word(3) {
                    None => None,
                    Some("incubator") => Some(EggsKept::Incubator),
                    Some("with-her") => Some(EggsKept::WithHer),
                    Some(_) => return Err(self.usage()),
                };
                let female = self.animal(0)?;
                Fact::Laid(Laid { female, sire: None, clutch: None, eggs, slugs, mass: None, kept })
            }
            "hatched" => {
                let hatchlings = self.count(1)?;
                let clutch = self.clutch()?;
                self.can_have_hatched(clutch, hatchlings)?;
                Fact::HatchedOut(HatchedOut { clutch, hatchlings })
            }
            _ => return Ok(None),
        }))
    }

    /// A male by his code, or what he must carry: several words, or one that is no code.
    fn planned(&self) -> Result<Fact, Refusal> {
        let female = self.animal(0)?;
        let told = self.value()?;
        let is_code = !told.contains(char::is_whitespace);
        let male = match self.animal(1) {
            Ok(male) => PlannedMale::Animal(male),
            Err(unknown) if is_code && told.chars().any(|c| c.is_ascii_digit()) => {
                return Err(unknown);
            }
            Err(_) => PlannedMale::Carrying(told.to_owned()),
        };
        let choice = self
            .word(2)
            .map_or(Some(Choice::First), Choice::from_word)
            .ok_or_else(|| self.usage())?;
        let weight = match self.word(3).map(|text| number(text, "x", 0.0..=100.0)) {
            None => 1.0,
            Some(Typed::Number(weight)) => weight,
            Some(_) => return Err(self.usage()),
        };
        Ok(Fact::Planned(Planned { female, male, choice, weight }))
    }

    /// A clutch by its code, else the last one of a female.
    pub fn clutch(&self) -> Result<ClutchId, Refusal> {
        let named = self.word(0).ok_or_else(|| self.usage())?;
        let by_code = |c: &&records::Clutch| {
            c.code.as_deref().is_some_and(|code| code.eq_ignore_ascii_case(named))
        };
        if let Some(clutch) = self.colony.clutches.iter().find(by_code) {
            return Ok(clutch.id);
        }
        let female = self.animal(0)?;
        let place = self.colony.place_of(female);
        let last = self.colony.clutches.iter().rfind(|c| Some(c.female) == place);
        last.map(|clutch| clutch.id).ok_or_else(|| {
            Refusal::new(
                format!("No clutch of {named} is in the records."),
                "CLUTCH",
                format!("Write it first: clutchwright record laid {named} EGGS SLUGS"),
            )
        })
    }

    fn can_have_hatched(&self, id: ClutchId, hatchlings: Option<u16>) -> Result<(), Refusal> {
        let Some(clutch) = self.colony.clutches.iter().find(|c| c.id == id) else { return Ok(()) };
        if let (Some(n), Some(eggs)) = (hatchlings, clutch.eggs)
            && n > eggs
        {
            return Err(Refusal::new(
                format!("{n} hatchlings are more than the {eggs} eggs."),
                "HATCHLINGS",
                "Count again, or correct the clutch first.",
            ));
        }
        if let Some(laid) = clutch.laid.filter(|laid| self.day < *laid) {
            return Err(Refusal::new(
                format!("{} is before the laying on {laid}.", self.day),
                "--day",
                "Give the day on which it hatched.",
            ));
        }
        Ok(())
    }

    /// `--night` says which night; else it is the one that ended this morning.
    pub fn lock(&self, when: When, zone: &Zone) -> Result<(When, Fact), Refusal> {
        let (male, female) = self.pair()?;
        let lock = match self.word(2).ok_or_else(|| self.usage())? {
            "none" => Lock::NoneSeen,
            "not-looked" => Lock::NotLooked,
            word => Lock::from_word(word).ok_or_else(|| self.usage())?,
        };
        let (when, night) = match when {
            When::Night(night) => (When::Day(night.morning()), night),
            When::Instant(at) => (when, zone.night_of(at)),
            _ => (when, Night::beginning(self.day - 1)),
        };
        Ok((when, Fact::LockLooked(LockLooked { male, female, night, lock })))
    }
}
