//! What comes next for one female: follicle sizes, and the dates that follow from them.
//!
//! Pure arithmetic: no clock, no chance, no ids. Every model constant sits in [`Hyper`].

pub mod calibration;
pub mod chain;
pub mod cholesky;
pub mod clutch;
pub mod duration;
pub mod durations;
pub mod effects;
pub mod follicle;
pub mod incubation;
pub mod scan_worth;
pub mod student;
pub mod timing;
pub mod weight_trend;

pub use chain::{Chain, ChainEvent, Seen};
pub use duration::Duration;
pub use durations::Durations;
pub use follicle::belief::{Belief, SizeOn, StateChances};
pub use follicle::check::{Check, Classes, Cycle, Found};
pub use follicle::following::Following;
pub use follicle::hyper::{Hyper, HyperError};
pub use follicle::model::Model;
pub use follicle::opening::{Closing, CycleSpan, Event, Happening, cycles};
pub use follicle::outlook::{Milestone, Outlook, PASSED_FOR_SURE, Passage};
pub use scan_worth::{Decisions, Look, ScanWorth, scan_worth};
pub use timing::Timing;
pub use weight_trend::{WeightTrend, weight_trend};
