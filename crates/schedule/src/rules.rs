//! Every rule of the night as a setting, with its default.

use units::{Grams, Millimetres, Probability};

use crate::lock::LockOutcome;
use crate::room::ByBand;

/// How far each answer to "did they lock?" counts as a mating.
///
/// Our own choice: seen 1, suspected .5, nobody looked .3, none seen .1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LockWeights {
    /// A lock was seen.
    pub seen: Probability,
    /// A lock was suspected.
    pub suspected: Probability,
    /// Nobody looked.
    pub not_looked: Probability,
    /// Somebody looked and saw none.
    pub none_seen: Probability,
}

impl Default for LockWeights {
    fn default() -> Self {
        Self {
            seen: Probability::ONE,
            suspected: Probability::clamped(0.5),
            not_looked: Probability::clamped(0.3),
            none_seen: Probability::clamped(0.1),
        }
    }
}

impl LockWeights {
    /// The weight of one answer, 0..=1.
    #[must_use]
    pub const fn of(&self, outcome: LockOutcome) -> Probability {
        match outcome {
            LockOutcome::Seen => self.seen,
            LockOutcome::Suspected => self.suspected,
            LockOutcome::NotLooked => self.not_looked,
            LockOutcome::NoneSeen => self.none_seen,
        }
    }
}

/// The settings of the night. `None` and `false` switch a rule off.
///
/// Weights before breeding, the week of a male and the mating sizes are common practice, no
/// source; the other numbers are our own choice.
#[derive(Clone, Debug, PartialEq)]
pub struct Rules {
    /// A female goes at this mass or above. Default 1,500 g.
    pub female_at_least: Option<Grams>,
    /// A male goes at this mass or above. Default 500 g.
    pub male_at_least: Option<Grams>,
    /// An animal that was never weighed waits until it is. Default true.
    pub unweighed_waits: bool,
    /// A male may have lost at most this share of his mass since the season opened. Default .12.
    pub male_loss_at_most: Option<Probability>,
    /// A male in blue waits. Default true.
    pub blue_waits: bool,
    /// A male is placed on fewer nights than this of the last [`Rules::turn_window`]. Default 5.
    pub nights_placed_below: Option<u32>,
    /// How many nights before tonight are counted for his turns. Default 7.
    pub turn_window: u32,
    /// A male stays away from females for this many nights after a lock. Default 2.
    pub rest_after_lock: Option<u32>,
    /// A suspected lock earns the same rest. Default true.
    pub rest_after_suspected: bool,
    /// A female that ovulated waits. Default true.
    pub ovulated_waits: bool,
    /// A female resorbing with a chance above this waits. Default .8.
    pub resorbing_at_most: Option<Probability>,
    /// Every female may have a second clutch in a season. Default false.
    pub second_clutch: bool,
    /// An animal under treatment waits, either sex. Default true.
    pub treatment_waits: bool,
    /// An animal in quarantine waits, either sex. Default true.
    pub quarantine_waits: bool,
    /// A pair that is still locked is left alone; else it counts as left together. Default true.
    pub locked_left_alone: bool,
    /// A female in shed waits where another night will do. Default true.
    pub shed_waits: bool,
    /// Nights a shed is reckoned to take when asking whether another night will do. Default 7.
    pub shed_nights: u32,
    /// Another night will do while the chance that she outgrows the size before the shed is over
    /// is below this. Default .5.
    pub shed_closing_below: Probability,
    /// A weight older than this many days is named with its age. Default 60.
    pub weight_stale_after: u32,
    /// Lower edge of each band; the last runs until ovulation. Default 10, 17, 27, 36 mm.
    pub band_from: ByBand<Millimetres>,
    /// The mating size each band stands for. Default 12, 22, 32, 40 mm.
    pub mating_size: ByBand<Millimetres>,
    /// How far each answer counts as a mating.
    pub lock_weights: LockWeights,
    /// A male's own lock rate is shrunk to the room's by this many nights. Default 10.
    pub shrink_nights: f64,
    /// The lock rate of a room without records, held by [`Rules::shrink_nights`]. Default .3.
    pub lock_rate_unknown: Probability,
    /// A female is in need when a mating is wanted in some band with this chance. Default .5.
    pub in_need_from: Probability,
    /// She is moved when a mating is wanted at all, whatever her band, with this chance. Default .5.
    pub wanted_from: Probability,
    /// What a second choice is worth beside a first. Default .5.
    pub second_choice: f64,
    /// A female without checks is placed when this many nights have passed. Default 30.
    pub unchecked_every: u32,
    /// The gain of placing a female without checks. Default .1, below any female in need.
    pub unchecked_gain: f64,
}

const fn mm(whole: i32) -> Millimetres {
    Millimetres::from_steps(whole * 100)
}

const fn grams(whole: i32) -> Grams {
    Grams::from_steps(whole * 10)
}

impl Default for Rules {
    fn default() -> Self {
        Self {
            female_at_least: Some(grams(1500)),
            male_at_least: Some(grams(500)),
            unweighed_waits: true,
            male_loss_at_most: Some(Probability::clamped(0.12)),
            blue_waits: true,
            nights_placed_below: Some(5),
            turn_window: 7,
            rest_after_lock: Some(2),
            rest_after_suspected: true,
            ovulated_waits: true,
            resorbing_at_most: Some(Probability::clamped(0.8)),
            second_clutch: false,
            treatment_waits: true,
            quarantine_waits: true,
            locked_left_alone: true,
            shed_waits: true,
            shed_nights: 7,
            shed_closing_below: Probability::clamped(0.5),
            weight_stale_after: 60,
            band_from: [mm(10), mm(17), mm(27), mm(36)],
            mating_size: [mm(12), mm(22), mm(32), mm(40)],
            lock_weights: LockWeights::default(),
            shrink_nights: 10.0,
            lock_rate_unknown: Probability::clamped(0.3),
            in_need_from: Probability::clamped(0.5),
            wanted_from: Probability::clamped(0.5),
            second_choice: 0.5,
            unchecked_every: 30,
            unchecked_gain: 0.1,
        }
    }
}
