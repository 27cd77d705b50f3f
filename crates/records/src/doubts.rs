//! Doubts: records that cannot all be true, each shown with the smallest set that clashes.
//!
//! A doubt stops nothing. It goes away when one of its records is corrected or withdrawn, or, where
//! all of them can be right, when all are told again word for word in one batch.

mod breeding;
mod care;
mod descent;
mod identity;

use units::Day;

use crate::colony::Colony;
use crate::ids::{BatchId, RecordId};

/// What clashes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DoubtKind {
    /// One male with two females in one night.
    TwoFemales,
    /// Two males in one tub in one night.
    TwoMales,
    /// A lock seen and none seen, of one pair and night.
    LooksDiffer,
    /// One feeding written twice.
    FedTwice,
    /// A fact after death, sale or another leaving.
    AfterLeaving,
    /// A fact before the hatch date.
    BeforeHatching,
    /// A parent not older than its young.
    YoungParent,
    /// An animal descends from itself.
    OwnAncestor,
    /// Sex does not fit what happened.
    WrongSex,
    /// Two animals bear one code at once.
    CodeTwice,
    /// Counts of a clutch that do not fit each other.
    ClutchCounts,
    /// Ovulation, laying and hatching in the wrong order.
    ClutchOrder,
    /// Two clutches of one female too close to each other.
    ClutchesTooClose,
    /// A hatchling's dam, sire or day differ from its clutch.
    ClutchParents,
    /// A weight that leaps from its neighbours.
    WeightLeap,
    /// A record that leans on one that was withdrawn.
    LeansOnNothing,
}

impl DoubtKind {
    /// Whether the records may all be true after all: two meals on one day, a male moved in the
    /// night. Of the other kinds one record is wrong whatever anybody says.
    #[must_use]
    pub const fn may_all_be_right(self) -> bool {
        matches!(
            self,
            Self::TwoFemales
                | Self::TwoMales
                | Self::LooksDiffer
                | Self::FedTwice
                | Self::ClutchOrder
                | Self::ClutchesTooClose
                | Self::WeightLeap
        )
    }

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::TwoFemales => "two females in one night",
            Self::TwoMales => "two males in one night",
            Self::LooksDiffer => "looks differ",
            Self::FedTwice => "fed twice",
            Self::AfterLeaving => "after leaving",
            Self::BeforeHatching => "before hatching",
            Self::YoungParent => "parent too young",
            Self::OwnAncestor => "own ancestor",
            Self::WrongSex => "wrong sex",
            Self::CodeTwice => "code given twice",
            Self::ClutchCounts => "clutch counts",
            Self::ClutchOrder => "clutch dates",
            Self::ClutchesTooClose => "clutches too close",
            Self::ClutchParents => "clutch parents",
            Self::WeightLeap => "weight leap",
            Self::LeansOnNothing => "leans on nothing",
        }
    }
}

/// Records that cannot all be true.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Doubt {
    /// What clashes.
    pub kind: DoubtKind,
    /// The records, in journal order: the smallest set.
    pub records: Vec<RecordId>,
    /// The day it is about.
    pub day: Option<Day>,
    /// What is wrong, as a sentence.
    pub what: String,
    /// What to do next.
    pub remedy: &'static str,
}

/// All doubts of a colony, in order of the last record of each.
#[must_use]
pub fn doubts(colony: &Colony) -> Vec<Doubt> {
    let mut all = Vec::new();
    identity::find(colony, &mut all);
    descent::find(colony, &mut all);
    care::find(colony, &mut all);
    breeding::find(colony, &mut all);
    let place = |id: &RecordId| colony.record(*id).map_or(u64::MAX, |live| live.sequence);
    for doubt in &mut all {
        doubt.records.sort_by_key(place);
        doubt.records.dedup();
    }
    all.retain(|d| !(d.kind.may_all_be_right() && all_are_right(colony, &d.records)));
    all.sort_by_key(|d| (d.records.last().map(place), d.kind));
    all
}

/// Whether somebody said of these records together that all of them are right: two or more, told
/// again word for word in one batch, and not told otherwise since.
#[must_use]
pub fn all_are_right(colony: &Colony, records: &[RecordId]) -> bool {
    let confirmed = |id: &RecordId| colony.record(*id).map_or(&[][..], |live| &live.confirmed[..]);
    let [first, others @ ..] = records else { return false };
    let in_all = |batch: &BatchId| others.iter().all(|id| confirmed(id).contains(batch));
    !others.is_empty() && confirmed(first).iter().any(in_all)
}
