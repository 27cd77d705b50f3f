//! Facts of identity and whereabouts, as version 1 writes them.

use records::facts;
use serde::{Deserialize, Serialize};

use super::mirror;
use super::scalar::{Animal, CodeText, IsoDay, Leaving, Sex, TubText};

mirror! {
    Added = facts::Added {
        code as code: CodeText,
    } {
        name as name: String,
        sex as sex: Sex,
        hatched as hatched: IsoDay,
        genes as genes: String,
        sire as sire: Animal,
        dam as dam: Animal,
        clutch as clutch: String,
        tub as tub: TubText,
    }
    Changed = facts::Changed {
        animal as animal: Animal,
        change as change: Change,
    } {}
    SexTold = facts::SexTold {
        animal as animal: Animal,
        sex as sex: Sex,
    } {
        how as how: String,
    }
    Retagged = facts::Retagged {
        animal as animal: Animal,
        code as code: CodeText,
    } {}
    Moved = facts::Moved {
        animal as animal: Animal,
        tub as tub: TubText,
    } {}
    Left = facts::Left {
        animal as animal: Animal,
        how as how: Leaving,
    } {
        to as to: String,
    }
    CameBack = facts::CameBack {
        animal as animal: Animal,
    } {}
    Borrowed = facts::Borrowed {
        animal as animal: Animal,
        owner as owner: String,
    } {
        due as due: IsoDay,
        share as share: String,
    }
}

/// One thing told otherwise.
#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Change {
    Name(String),
    Hatched(IsoDay),
    Genes(String),
    Sire(Animal),
    Dam(Animal),
}

impl From<facts::Change> for Change {
    fn from(change: facts::Change) -> Self {
        match change {
            facts::Change::Name(v) => Self::Name(v),
            facts::Change::Hatched(v) => Self::Hatched(v.into()),
            facts::Change::Genes(v) => Self::Genes(v),
            facts::Change::Sire(v) => Self::Sire(v.into()),
            facts::Change::Dam(v) => Self::Dam(v.into()),
        }
    }
}

impl From<Change> for facts::Change {
    fn from(change: Change) -> Self {
        match change {
            Change::Name(v) => Self::Name(v),
            Change::Hatched(v) => Self::Hatched(v.into()),
            Change::Genes(v) => Self::Genes(v),
            Change::Sire(v) => Self::Sire(v.into()),
            Change::Dam(v) => Self::Dam(v.into()),
        }
    }
}

/// A fact that needs no more than its animal.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Of {
    animal: Animal,
}

impl From<&records::AnimalId> for Of {
    fn from(animal: &records::AnimalId) -> Self {
        Self { animal: (*animal).into() }
    }
}

impl From<Of> for records::AnimalId {
    fn from(of: Of) -> Self {
        of.animal.into()
    }
}
