//! Facts of laying and hatching.

use units::Grams;

use crate::ids::{AnimalId, ClutchId};
use crate::words::EggsKept;

/// She laid. The clutch is known by this record.
///
/// Counts may be unknown ("laid, not counted"). Checked on folding: slugs and hatchlings fit into
/// the eggs; she is a female.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Laid {
    /// The female.
    pub female: AnimalId,
    /// The male the keeper credits: a claim, not proof.
    pub sire: Option<AnimalId>,
    /// The code of the clutch.
    pub clutch: Option<String>,
    /// Eggs in all, slugs included.
    pub eggs: Option<u16>,
    /// Infertile eggs among them.
    pub slugs: Option<u16>,
    /// Mass of the whole clutch.
    pub mass: Option<Grams>,
    /// Where the eggs are kept.
    pub kept: Option<EggsKept>,
}

/// A clutch hatched.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HatchedOut {
    /// The clutch.
    pub clutch: ClutchId,
    /// How many came out.
    pub hatchlings: Option<u16>,
}

/// What an animal looks like, as a complete list of what is seen, in trade shorthand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Looked {
    /// The animal.
    pub animal: AnimalId,
    /// The look as written.
    pub look: String,
}
