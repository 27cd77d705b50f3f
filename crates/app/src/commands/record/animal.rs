//! Facts of identity and whereabouts.

use genetics::label::Statement;
use records::colony::{Bearer, Presence};
use records::facts::{
    Added, Borrowed, CameBack, Change, Changed, Left, Looked, Moved, Retagged, SexTold,
};
use records::words::{Code, Leaving, Sex, Tub};
use records::{AnimalId, Fact};

use sheets::catalogue_file::builtin;
use sheets::shorthand;

use super::reading::Reading;
use crate::refusal::Refusal;

impl Reading<'_> {
    /// None where the words tell of something else.
    pub fn of_animal(&self) -> Result<Option<Fact>, Refusal> {
        let usage = || self.usage();
        Ok(Some(match self.args.fact.as_str() {
            "added" => self.added()?,
            "named" => self.changed(Change::Name)?,
            "genes" => self.genes()?,
            "look" => {
                let look = self.rest(1).ok_or_else(usage)?;
                Fact::Looked(Looked { animal: self.animal(0)?, look })
            }
            "lab" => self.lab_result()?,
            "sex" => {
                let sex = Sex::from_word(self.value()?).ok_or_else(usage)?;
                Fact::SexTold(SexTold { animal: self.animal(0)?, sex, how: self.rest(2) })
            }
            "retagged" => {
                let code = self.free_code(self.value()?)?;
                Fact::Retagged(Retagged { animal: self.animal(0)?, code })
            }
            "moved" => {
                let tub = Tub::new(&self.rest(1).ok_or_else(usage)?).map_err(|_| usage())?;
                Fact::Moved(Moved { animal: self.animal(0)?, tub })
            }
            "left" => {
                let how = Leaving::from_word(self.value()?).ok_or_else(usage)?;
                Fact::Left(Left { animal: self.animal(0)?, how, to: self.rest(2) })
            }
            "came-back" => Fact::CameBack(CameBack { animal: self.animal(0)? }),
            "borrowed" => {
                let owner = self.value()?.to_owned();
                let due = self.word(2).map(|day| crate::folder::day(day, "DAY")).transpose()?;
                Fact::Borrowed(Borrowed { animal: self.animal(0)?, owner, due, share: None })
            }
            _ => return Ok(None),
        }))
    }

    fn changed(&self, change: impl Fn(String) -> Change) -> Result<Fact, Refusal> {
        let animal: AnimalId = self.animal(0)?;
        let told = self.rest(1).ok_or_else(|| self.usage())?;
        Ok(Fact::Changed(Changed { animal, change: change(told) }))
    }

    /// A label is written where nothing of it is in question, so that no word is lost unseen.
    fn genes(&self) -> Result<Fact, Refusal> {
        let animal = self.animal(0)?;
        let told = self.rest(1).filter(|told| !told.trim().is_empty());
        let told = told.ok_or_else(|| self.usage())?;
        let place = self.colony.place_of(animal);
        self.settled(&told, place.and_then(|place| self.colony.animals[place].sex()))?;
        Ok(Fact::Changed(Changed { animal, change: Change::Genes(told) }))
    }

    fn settled(&self, told: &str, sex: Option<Sex>) -> Result<(), Refusal> {
        let read = shorthand::read(told, builtin());
        let read = crate::genes::settled(read, told)?;
        let is_maker = |s: &Statement| matches!(s, Statement::OnChromosome(..));
        if sex == Some(Sex::Female) && read.label.statements().any(|(_, s)| is_maker(s)) {
            return Err(Refusal::new(
                "Only a male is a male maker or a female maker: a female has no Y.",
                told,
                "Leave the word out, or correct the sex first.",
            ));
        }
        Ok(())
    }

    fn added(&self) -> Result<Fact, Refusal> {
        let mut added = Added::with_code(self.free_code(self.word(0).unwrap_or_default())?);
        match self.word(1) {
            None | Some("unknown") => {}
            Some(word) => added.sex = Some(Sex::from_word(word).ok_or_else(|| self.usage())?),
        }
        added.genes = self.rest(2);
        if let Some(genes) = &added.genes {
            self.settled(genes, added.sex)?;
        }
        Ok(Fact::Added(added))
    }

    /// A code that nobody in the house bears on the day; one whose bearer left may be given again.
    fn free_code(&self, text: &str) -> Result<Code, Refusal> {
        let code = Code::new(text).map_err(|_| self.usage())?;
        let is_here = |at: usize| self.colony.animals[at].presence(self.day) == Presence::InHouse;
        match self.colony.bearer(text, Some(self.day)) {
            Bearer::Nobody => Ok(code),
            Bearer::One(at) if !is_here(at) => Ok(code),
            _ => Err(Refusal::new(
                format!("The code \"{text}\" is taken on {}.", self.day),
                "CODE",
                "Choose another code, or re-tag its bearer first.",
            )),
        }
    }
}
