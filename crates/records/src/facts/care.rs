//! Facts of daily care.

use units::Grams;

use crate::ids::AnimalId;
use crate::words::{Meal, ShedKind};

/// Weighed. Mass above zero; plausibility for the species is checked on reading, jumps on folding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Weighed {
    /// The animal.
    pub animal: AnimalId,
    /// Its mass.
    pub mass: Grams,
}

/// Offered food on one occasion.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fed {
    /// The animal.
    pub animal: AnimalId,
    /// Kind and size of prey in the keeper's words.
    pub prey: String,
    /// How many, at least 1.
    pub count: u16,
    /// Eaten or left.
    pub meal: Meal,
}

/// Shed its skin.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shed {
    /// The animal.
    pub animal: AnimalId,
    /// Which shed.
    pub kind: ShedKind,
}

/// Quarantine or treatment begins or ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Treated {
    /// The animal.
    pub animal: AnimalId,
    /// Whether it begins.
    pub begins: bool,
    /// With what or why, in the keeper's words.
    pub what: Option<String>,
}

/// Free words, about an animal or the room.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Noted {
    /// The animal; none means the room.
    pub animal: Option<AnimalId>,
    /// The words.
    pub text: String,
}
