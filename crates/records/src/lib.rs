//! What a keeper writes down, checked once, then immutable; the colony folded from it.
//!
//! Reading order: [`ids`], [`facts`], [`record`], [`journal`] (which records still stand),
//! [`colony`] (what they add up to), [`doubts`] (what cannot all be true).

pub mod colony;
pub mod doubts;
pub mod facts;
pub mod felt;
pub mod ids;
pub mod journal;
pub mod record;
pub mod words;

pub use colony::{Animal, AsOf, Clutch, Colony, Dated, Stay};
pub use doubts::{Doubt, DoubtKind};
pub use facts::Fact;
pub use ids::{AnimalId, BatchId, ClutchId, RecordId};
pub use journal::{Live, standing};
pub use record::{Draft, Record, Source};
pub use words::{
    Code, EggsKept, Found, LabFound, Leaving, Lock, Meal, Place, PlannedMale, ReadingKind, Sex,
    ShedKind, StayEnd, Tub,
};
