//! What comes next for one female: follicle sizes, and the dates that follow from them.
//!
//! Pure arithmetic: no clock, no chance, no ids. Every model constant sits in [`Hyper`].

pub mod calibration;
pub mod chain;
pub mod cholesky;
pub mod follicle;

pub use chain::{Chain, Duration, Durations, Seen};
pub use follicle::belief::{Belief, SizeOn, StateChances};
pub use follicle::check::{Check, Classes, Cycle, Found};
pub use follicle::hyper::{Hyper, HyperError};
pub use follicle::model::Model;
pub use follicle::opening::{Closing, CycleSpan, Event, Happening, cycles};
pub use follicle::outlook::{Milestone, Outlook, Passage};
