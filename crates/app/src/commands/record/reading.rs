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
        let (when, fact) = match self.args.fact.as_str() {
            "lock" => self.lock(when, zone)?,
            _ => (when, self.other()?),
        };
        self.sexes_fit(&fact)?;
        Ok((when, fact))
    }

    fn other(&self) -> Result<Fact, Refusal> {
        if let Some(fact) = self.breeding()? {
            return Ok(fact);
        }
        if let Some(fact) = self.climate()? {
            return Ok(fact);
        }
        match self.of_animal()? {
            Some(fact) => Ok(fact),
            None => self.care(),
        }
    }

    /// A male lays nothing: either the animal is another one, or its sex was told wrong.
    fn sexes_fit(&self, fact: &Fact) -> Result<(), Refusal> {
        for (id, needed) in fact.roles() {
            let Some(place) = self.colony.place_of(id) else { continue };
            let told = self.colony.animals[place].sex();
            if let Some(told) = told.filter(|told| *told != needed) {
                let code = self.colony.code(place);
                let kind = fact.kind();
                return Err(Refusal::new(
                    format!(
                        "\"{kind}\" is written of a {needed}, and {code} is told to be a {told}."
                    ),
                    "ANIMAL",
                    format!(
                        "Name the right animal, or correct the sex first: clutchwright record sex \
                         {code} {needed}"
                    ),
                ));
            }
        }
        Ok(())
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

    /// A number of eggs, slugs or hatchlings, where the word is there.
    pub fn count(&self, at: usize) -> Result<Option<u16>, Refusal> {
        let read = |text: &str| text.parse().ok().filter(|n| *n <= sheets::typed::MOST_EGGS);
        self.word(at).map(|text| read(text).ok_or_else(|| self.usage())).transpose()
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
