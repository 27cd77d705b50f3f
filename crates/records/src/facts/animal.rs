//! Facts of identity and whereabouts.

use units::Day;

use crate::ids::AnimalId;
use crate::words::{Code, Leaving, Sex, Tub};

/// An animal came into the records, bought or hatched.
///
/// Happens on its hatch date, or undated where that is unknown. Requires a code; everything else
/// may be unknown. Checked on folding: the code is free, parents are older and of the right sex.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Added {
    /// Its first code.
    pub code: Code,
    /// Its name.
    pub name: Option<String>,
    /// Its sex, where told.
    pub sex: Option<Sex>,
    /// The day it hatched.
    pub hatched: Option<Day>,
    /// What it shows and carries, in trade shorthand as written.
    pub genes: Option<String>,
    /// Its father, where recorded.
    pub sire: Option<AnimalId>,
    /// Its mother, where recorded.
    pub dam: Option<AnimalId>,
    /// The code of the clutch it hatched from.
    pub clutch: Option<String>,
    /// Its home tub.
    pub tub: Option<Tub>,
}

impl Added {
    /// An animal of which only the code is known.
    #[must_use]
    pub const fn with_code(code: Code) -> Self {
        Self {
            code,
            name: None,
            sex: None,
            hatched: None,
            genes: None,
            sire: None,
            dam: None,
            clutch: None,
            tub: None,
        }
    }
}

/// One thing told of an animal is now told otherwise. Requires an animal that was added.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changed {
    /// The animal.
    pub animal: AnimalId,
    /// What is told now.
    pub change: Change,
}

/// What is told now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// Its name.
    Name(String),
    /// The day it hatched.
    Hatched(Day),
    /// What it shows and carries, in trade shorthand.
    Genes(String),
    /// Its father.
    Sire(AnimalId),
    /// Its mother.
    Dam(AnimalId),
}

/// Sex was told, by probing or popping or from what happened since.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SexTold {
    /// The animal.
    pub animal: AnimalId,
    /// What it is.
    pub sex: Sex,
    /// How, in the keeper's words.
    pub how: Option<String>,
}

/// One code ends and the next begins; the animal stays the same.
///
/// Undated: both codes name the animal, the new one is printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Retagged {
    /// The animal.
    pub animal: AnimalId,
    /// Its new code.
    pub code: Code,
}

/// A new home tub. A male's nights with females are placements, not moves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moved {
    /// The animal.
    pub animal: AnimalId,
    /// Its home from now on.
    pub tub: Tub,
}

/// It left the house. Later facts about it become doubts, except after [`CameBack`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Left {
    /// The animal.
    pub animal: AnimalId,
    /// How.
    pub how: Leaving,
    /// To whom.
    pub to: Option<String>,
}

/// It is back in the house.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CameBack {
    /// The animal.
    pub animal: AnimalId,
}

/// It belongs to somebody else and is due back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Borrowed {
    /// The animal.
    pub animal: AnimalId,
    /// Whose it is.
    pub owner: String,
    /// The day it is due back.
    pub due: Option<Day>,
    /// The owner's share, in the keeper's words.
    pub share: Option<String>,
}
