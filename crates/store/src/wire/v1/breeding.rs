//! Facts of the breeding season, as version 1 writes them.

use records::{facts, words};
use serde::{Deserialize, Serialize};

use super::mirror;
use super::scalar::{Animal, Certainty, Choice, IsoNight, Length, Lock, StayEnd, Weight};

mirror! {
    Checked = facts::Checked {
        female as female: Animal,
        found as found: Found,
    } {}
    Placed = facts::Placed {
        male as male: Animal,
        female as female: Animal,
        ends as ends: StayEnd,
    } {}
    TakenOut = facts::TakenOut {
        male as male: Animal,
        female as female: Animal,
    } {}
    LockLooked = facts::LockLooked {
        male as male: Animal,
        female as female: Animal,
        night as night: IsoNight,
        lock as lock: Lock,
    } {}
    Ovulated = facts::Ovulated {
        female as female: Animal,
        certainty as certainty: Certainty,
    } {
        sire as sire: Animal,
    }
    Planned = facts::Planned {
        female as female: Animal,
        male as male: PlannedMale,
        choice as choice: Choice,
        weight as weight: Weight,
    } {}
}

/// What a follicle check found.
#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Found {
    ScanMm(Vec<Length>),
    Felt(String),
    NothingFelt,
}

impl From<words::Found> for Found {
    fn from(found: words::Found) -> Self {
        match found {
            words::Found::Scan(sizes) => Self::ScanMm(sizes.into_iter().map(Into::into).collect()),
            words::Found::Felt(word) => Self::Felt(word),
            words::Found::NothingFelt => Self::NothingFelt,
        }
    }
}

impl From<Found> for words::Found {
    fn from(found: Found) -> Self {
        match found {
            Found::ScanMm(sizes) => Self::Scan(sizes.into_iter().map(Into::into).collect()),
            Found::Felt(word) => Self::Felt(word),
            Found::NothingFelt => Self::NothingFelt,
        }
    }
}

/// The male of a planned pair.
#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PlannedMale {
    Animal(Animal),
    Carrying(String),
}

impl From<words::PlannedMale> for PlannedMale {
    fn from(male: words::PlannedMale) -> Self {
        match male {
            words::PlannedMale::Animal(id) => Self::Animal(id.into()),
            words::PlannedMale::Carrying(genes) => Self::Carrying(genes),
        }
    }
}

impl From<PlannedMale> for words::PlannedMale {
    fn from(male: PlannedMale) -> Self {
        match male {
            PlannedMale::Animal(id) => Self::Animal(id.into()),
            PlannedMale::Carrying(genes) => Self::Carrying(genes),
        }
    }
}
