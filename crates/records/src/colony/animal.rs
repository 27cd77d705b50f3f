//! One animal with everything that happened to it.

use units::{Day, Grams};

use crate::colony::{CodeSpan, Dated};
use crate::facts::{Borrowed, Fed, Left, Ovulated, Tested};
use crate::ids::{AnimalId, RecordId};
use crate::words::{Found, Sex, ShedKind, Tub};

/// Whether an animal is in the house.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Presence {
    /// It is.
    InHouse,
    /// It left.
    Gone,
    /// It has not hatched yet.
    NotYet,
}

/// One animal. Histories are in order of their days; those of one day in journal order.
#[derive(Clone, Debug)]
pub struct Animal {
    /// Identity.
    pub id: AnimalId,
    /// Its codes, oldest first; never empty.
    pub codes: Vec<CodeSpan>,
    /// Its name.
    pub name: Option<String>,
    /// Sex as last told, with the record.
    pub sex: Option<(Sex, RecordId)>,
    /// Hatch date.
    pub hatched: Option<Day>,
    /// Genes in trade shorthand, as last told, with the record.
    pub genes: Option<(String, RecordId)>,
    /// What was seen of it, in trade shorthand, as last told, with the record.
    pub look: Option<(String, RecordId)>,
    /// Laboratory results; undated ones carry no day.
    pub tested: Vec<(Option<Day>, RecordId, Tested)>,
    /// Place of its father.
    pub sire: Option<usize>,
    /// Place of its mother.
    pub dam: Option<usize>,
    /// Code of the clutch it hatched from.
    pub clutch: Option<String>,
    /// Home tubs; the first has the day of adding or the beginning of time.
    pub tubs: Vec<Dated<Tub>>,
    /// Leavings.
    pub left: Vec<Dated<Left>>,
    /// Returns.
    pub returned: Vec<Dated<()>>,
    /// Whose it is, where borrowed.
    pub borrowed: Option<Borrowed>,
    /// Weights.
    pub weights: Vec<Dated<Grams>>,
    /// Meals offered.
    pub meals: Vec<Dated<Fed>>,
    /// Sheds.
    pub sheds: Vec<Dated<ShedKind>>,
    /// Days on which it was seen in blue.
    pub in_blue: Vec<Dated<()>>,
    /// Quarantine begun (true) or ended.
    pub quarantine: Vec<Dated<bool>>,
    /// Treatment begun (true) or ended.
    pub treatment: Vec<Dated<bool>>,
    /// Follicle checks.
    pub checks: Vec<Dated<Found>>,
    /// Warmed up.
    pub warmed: Vec<Dated<()>>,
    /// Settled on the hot spot.
    pub settled: Vec<Dated<()>>,
    /// Ovulations.
    pub ovulated: Vec<Dated<Ovulated>>,
    /// Follicles gone back.
    pub resorbed: Vec<Dated<()>>,
    /// Layings, as places in the colony's clutches.
    pub laid: Vec<Dated<usize>>,
    /// Stays with another, as places in the colony's stays.
    pub stays: Vec<usize>,
    /// Free words; undated ones carry no day.
    pub notes: Vec<(Option<Day>, RecordId, String)>,
    /// Every record about it, in order of days.
    pub history: Vec<RecordId>,
}

impl Animal {
    /// The same animal without what happened to it.
    pub(super) fn identity(&self) -> Self {
        Self {
            id: self.id,
            codes: self.codes.clone(),
            name: self.name.clone(),
            sex: self.sex,
            hatched: self.hatched,
            genes: self.genes.clone(),
            look: self.look.clone(),
            tested: self.tested.clone(),
            sire: self.sire,
            dam: self.dam,
            clutch: self.clutch.clone(),
            borrowed: None,
            // Who bears a code depends on who is in the house.
            left: self.left.clone(),
            returned: self.returned.clone(),
            tubs: Vec::new(),
            weights: Vec::new(),
            meals: Vec::new(),
            sheds: Vec::new(),
            in_blue: Vec::new(),
            quarantine: Vec::new(),
            treatment: Vec::new(),
            checks: Vec::new(),
            warmed: Vec::new(),
            settled: Vec::new(),
            ovulated: Vec::new(),
            resorbed: Vec::new(),
            laid: Vec::new(),
            stays: Vec::new(),
            notes: Vec::new(),
            history: Vec::new(),
        }
    }

    /// The record that added it.
    #[must_use]
    pub const fn added(&self) -> RecordId {
        self.id.0
    }

    /// Sex, where told.
    #[must_use]
    pub fn sex(&self) -> Option<Sex> {
        self.sex.map(|(sex, _)| sex)
    }

    /// The newest code in force on `day`.
    #[must_use]
    pub fn code_on(&self, day: Day) -> &str {
        let known = self.codes.iter().rev().find(|span| span.from.is_none_or(|from| from <= day));
        known.or(self.codes.first()).map_or("", |span| span.code.as_str())
    }

    /// Whether it is in the house on `day`.
    #[must_use]
    pub fn presence(&self, day: Day) -> Presence {
        if self.hatched.is_some_and(|hatched| hatched > day) {
            return Presence::NotYet;
        }
        let left = self.left.iter().rev().find(|l| l.day <= day).map(|l| l.day);
        let back = self.returned.iter().rev().find(|r| r.day <= day).map(|r| r.day);
        match (left, back) {
            (Some(left), Some(back)) if back >= left => Presence::InHouse,
            (Some(_), _) => Presence::Gone,
            (None, _) => Presence::InHouse,
        }
    }

    /// Home tub on `day`.
    #[must_use]
    pub fn tub_on(&self, day: Day) -> Option<&Tub> {
        self.tubs.iter().rev().find(|t| t.day <= day).map(|t| &t.what)
    }

    /// Last weight known.
    #[must_use]
    pub fn last_weight(&self) -> Option<&Dated<Grams>> {
        self.weights.last()
    }

    /// Whether something that begins and ends is under way.
    #[must_use]
    pub fn under_way(spells: &[Dated<bool>]) -> Option<&Dated<bool>> {
        spells.last().filter(|s| s.what)
    }
}
