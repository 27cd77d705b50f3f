//! The room as the engine sees it: dense indices and plain numbers.

use units::{Grams, Probability};

use crate::lock::{LockOutcome, LockTally};
use crate::wanted::BANDS;

/// One value per size band, smallest first.
pub type ByBand<T> = [T; BANDS];

/// The newest weight and its age.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighing {
    /// Mass.
    pub mass: Grams,
    /// Whole days since it was taken.
    pub age_days: u32,
}

/// What holds for an animal of either sex.
#[derive(Clone, Debug, PartialEq)]
pub struct Keeping {
    /// False for an animal that is lent out, sold, dead or otherwise away.
    pub in_house: bool,
    /// In quarantine tonight.
    pub quarantine: bool,
    /// Under treatment tonight.
    pub treatment: bool,
    /// The newest weight, `None` when never weighed.
    pub weight: Option<Weighing>,
}

/// A female tonight.
#[derive(Clone, Debug, PartialEq)]
pub struct Female {
    /// House, health, weight.
    pub keeping: Keeping,
    /// Ovulation was recorded in this cycle.
    pub ovulated: bool,
    /// Chance that she resorbs.
    pub resorbing: Probability,
    /// She laid since the season opened.
    pub laid_this_season: bool,
    /// The keeper allows her a second clutch.
    pub second_clutch: bool,
    /// She is in shed.
    pub in_shed: bool,
    /// What is known of her follicles.
    pub size: Size,
}

/// What is known of a female's follicles.
#[derive(Clone, Debug, PartialEq)]
pub enum Size {
    /// No follicle check in this cycle.
    Unchecked {
        /// Nights since she was last placed with any male (1 = last night), `None` for never.
        nights_since_placed: Option<u32>,
    },
    /// Checked in this cycle.
    Followed(Follicles),
}

/// Where a checked female stands, and how fast it changes.
#[derive(Clone, Debug, PartialEq)]
pub struct Follicles {
    /// Chance that she is in each band tonight; what is missing to 1 is below, resting or past.
    pub in_band: ByBand<Probability>,
    /// Row `n - 1`: chance that she has left the band `n` nights from tonight, given that she is
    /// in it tonight. The last row holds for all later nights; no rows means she never leaves.
    pub leaves: Vec<ByBand<Probability>>,
    /// Her nights with a male in this cycle, tonight left out.
    pub nights: Vec<NightTogether>,
}

/// One past night of a female with a male.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NightTogether {
    /// Chance that she was in each band on that night.
    pub in_band: ByBand<Probability>,
    /// What was answered in the morning.
    pub lock: LockOutcome,
}

/// A male tonight.
#[derive(Clone, Debug, PartialEq)]
pub struct Male {
    /// House, health, weight.
    pub keeping: Keeping,
    /// His weight when the season opened, `None` when unknown.
    pub weight_at_opening: Option<Grams>,
    /// He is in blue.
    pub in_blue: bool,
    /// All his recorded nights with females, in any order, tonight left out.
    pub nights: Vec<PastNight>,
}

impl Male {
    /// His locks and nights.
    #[must_use]
    pub fn tally(&self) -> LockTally {
        LockTally::of(self.nights.iter().map(|n| n.lock))
    }
}

/// One past night of a male with a female.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PastNight {
    /// Nights ago, 1 = last night.
    pub ago: u32,
    /// What was answered in the morning.
    pub lock: LockOutcome,
}

/// First or second choice of a planned pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Choice {
    /// First choice.
    First,
    /// Second choice.
    Second,
}

/// A pair the keeper plans: a female, and one male or all males that carry a wanted gene.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedPair {
    /// Index of the female.
    pub female: usize,
    /// Indices of the males that fit.
    pub males: Vec<usize>,
    /// First or second choice.
    pub choice: Choice,
    /// Worth to the keeper, 1 when they gave none; what is not above 0 is never moved.
    pub weight: f64,
}

/// A male that is in a female's tub at this hour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stay {
    /// Index of the male.
    pub male: usize,
    /// Index of the female.
    pub female: usize,
    /// How it stands.
    pub state: StayState,
}

impl Stay {
    /// Whether they are together from an earlier night without being locked.
    #[must_use]
    pub const fn is_left_together(&self) -> bool {
        matches!(self.state, StayState::LeftTogether { .. })
    }
}

/// How a stay stands this evening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StayState {
    /// Placed for tonight already: done, and planned around.
    Tonight,
    /// Locked and not yet apart: left alone.
    StillLocked {
        /// Nights since he was placed, 1 = last night.
        nights: u32,
    },
    /// Left together from an earlier night without a lock: both are free to be moved.
    LeftTogether {
        /// Nights since he was placed, 1 = last night.
        nights: u32,
    },
}

/// Everything the night is planned from. Indices outside the lists are passed over.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Room {
    /// Females; their place in the list is their index.
    pub females: Vec<Female>,
    /// Males; their place in the list is their index.
    pub males: Vec<Male>,
    /// Planned pairs.
    pub planned: Vec<PlannedPair>,
    /// Who is with whom at this hour.
    pub stays: Vec<Stay>,
    /// Pairs (male, female) that the plan or a caution rules out.
    pub ruled_out: Vec<(usize, usize)>,
}
