//! Facts of the breeding season.

use units::Night;

use crate::ids::AnimalId;
use crate::words::{Certainty, Choice, Found, Lock, PlannedMale, StayEnd};

/// Follicles were scanned or palpated.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Checked {
    /// The female.
    pub female: AnimalId,
    /// What was found.
    pub found: Found,
}

/// A male was put in with a female. His home tub stays his.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placed {
    /// The male.
    pub male: AnimalId,
    /// The female whose tub he is in.
    pub female: AnimalId,
    /// Where the stay ends when nobody writes it.
    pub ends: StayEnd,
}

/// He was taken out of her tub.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TakenOut {
    /// The male.
    pub male: AnimalId,
    /// The female.
    pub female: AnimalId,
}

/// What was seen of a pair in one night; happens on the morning after.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LockLooked {
    /// The male.
    pub male: AnimalId,
    /// The female.
    pub female: AnimalId,
    /// The night it speaks of.
    pub night: Night,
    /// What was seen.
    pub lock: Lock,
}

/// She ovulated.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ovulated {
    /// The female.
    pub female: AnimalId,
    /// Seen or suspected.
    pub certainty: Certainty,
    /// The male the keeper credits.
    pub sire: Option<AnimalId>,
}

/// A pair the keeper plans. Weight says how much they want it: 1 is ordinary, 0 rules it out: the
/// pair is not to be placed, whatever else names it.
#[derive(Clone, Debug, PartialEq)]
pub struct Planned {
    /// The female.
    pub female: AnimalId,
    /// The male, or what he must carry.
    pub male: PlannedMale,
    /// First or second choice.
    pub choice: Choice,
    /// How much it is wanted; finite, from 0 (ruled out) to 100.
    pub weight: f64,
}
