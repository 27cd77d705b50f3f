//! Who goes where tonight: bands, rules, exact assignment, reasons.
//!
//! The engine sees dense indices and plain numbers only. A caller describes the room as a
//! [`Room`], asks [`tonight`] and gets a [`Plan`]: the moves, what is already done, and a reason
//! for every female left out. [`sentence`] alone turns facts into words. [`due`] holds what is
//! due by the calendar. Formulas and own choices are laid out in `docs/methods/tonight.md`.

pub mod assignment;
mod augment;
mod bars;
mod coming_out;
pub mod due;
mod fact;
mod lock;
mod omission;
mod phrase;
mod plan;
mod room;
mod rule;
mod rules;
mod scan;
mod turns;
mod wanted;
mod worth;

pub use fact::{Fact, Subject, Value};
pub use lock::{LockOutcome, LockTally};
pub use omission::{LeftOut, Why};
pub use phrase::{Wording, sentence};
pub use plan::{Move, Plan, tonight};
pub use room::{
    ByBand, Choice, Female, Follicles, Keeping, Male, NightTogether, PastNight, PlannedPair, Room,
    Size, Stay, StayState, Weighing,
};
pub use rule::{Bound, Rule};
pub use rules::{LockWeights, Rules};
pub use turns::next_free;
pub use wanted::{BANDS, Wanted, in_need, mated, wanted};
pub use worth::Worth;
