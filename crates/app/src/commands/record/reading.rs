//! The words of the command line as animals and values.

use records::colony::Bearer;
use records::words::Sex;
use records::{AnimalId, Colony, Fact};
use units::{Day, When, Zone};

use super::KINDS;
use crate::args::Record;
use crate::refusal::Refusal;

pub struct Reading<'a> {
    pub args: &'a Record,
    pub colony: &'a Colony,
    pub day: Day,
}

impl Reading<'_> {
    /// The one fact that the words tell, and when it happened.
    pub fn fact(&self, when: When, zone: &Zone) -> Result<(When, Fact), Refusal> {
        if self.args.fact == "lock" {
            return self.lock(when, zone);
        }
        let fact = match self.breeding()? {
            Some(fact) => fact,
            None => match self.of_animal()? {
                Some(fact) => fact,
                None => self.care()?,
            },
        };
        Ok((when, fact))
    }

    /// The words from one place on, where there are any.
    pub fn rest(&self, from: usize) -> Option<String> {
        self.args.rest.get(from..).filter(|words| !words.is_empty()).map(|words| words.join(" "))
    }

    pub fn value(&self) -> Result<&str, Refusal> {
        self.word(1).ok_or_else(|| self.usage())
    }

    pub fn word(&self, at: usize) -> Option<&str> {
        self.args.rest.get(at).map(String::as_str)
    }

    pub fn usage(&self) -> Refusal {
        let kinds = KINDS.iter().find(|(kind, _)| *kind == self.args.fact);
        let all: Vec<&str> = KINDS.iter().map(|(kind, _)| *kind).collect();
        kinds.map_or_else(
            || {
                Refusal::new(
                    format!("\"{}\" is no fact that is recorded here.", self.args.fact),
                    "FACT",
                    format!("Write one of: {}.", all.join(", ")),
                )
            },
            |(kind, rest)| {
                Refusal::new(
                    format!("\"{}\" does not fit \"{kind}\".", self.args.rest.join(" ")),
                    "FACT",
                    format!("Write: record {kind} {rest}"),
                )
            },
        )
    }

    pub fn animal(&self, at: usize) -> Result<AnimalId, Refusal> {
        let code = self.word(at).ok_or_else(|| self.usage())?;
        match self.colony.bearer(code, Some(self.day)) {
            Bearer::One(place) => Ok(self.colony.animals[place].id),
            _ => Err(Refusal::new(
                format!("No animal has the code \"{code}\" on {}.", self.day),
                "ANIMAL",
                "Correct the code, or add the animal: clutchwright record added CODE.",
            )),
        }
    }

    /// A number of things, where the word is there.
    pub fn count(&self, at: usize) -> Result<Option<u16>, Refusal> {
        self.word(at).map(|text| text.parse().map_err(|_| self.usage())).transpose()
    }

    /// A pair in either order: their sexes tell who is the male.
    pub fn pair(&self) -> Result<(AnimalId, AnimalId), Refusal> {
        let (a, b) = (self.animal(0)?, self.animal(1)?);
        let sex = |id| self.colony.place_of(id).and_then(|at| self.colony.animals[at].sex());
        match (sex(a), sex(b)) {
            (Some(Sex::Female), Some(Sex::Male)) => Ok((b, a)),
            _ => Ok((a, b)),
        }
    }
}
