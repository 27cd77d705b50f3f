//! What a room's finished cycles are to the fit.

use units::Day;

use crate::follicle::check::Cycle;

/// How a cycle ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outcome {
    /// She ovulated about this day, within so many days (a standard deviation; 0 where it was
    /// seen).
    Ovulated(Day, f64),
    /// She was seen to have resorbed by this day.
    Resorbed(Day),
    /// Nothing more came; the day of the last check or placement.
    Quiet(Day),
    /// Not known: only the checks speak.
    Unknown,
}

/// One cycle of a female with its end.
#[derive(Clone, Debug, PartialEq)]
pub struct Season {
    /// Opening and checks.
    pub cycle: Cycle,
    /// How it ended.
    pub outcome: Outcome,
    /// Food before it opened, in spreads from the room's mean; 0 where nothing is known.
    pub fed: f64,
}

/// All finished cycles of one female, in order of time.
pub type Seasons = Vec<Season>;
