//! Quantities, calendar and estimates: the words every other crate counts in.
//!
//! Nothing here reads a clock, a file or a setting. A quantity is stored as an integer number of
//! its smallest step, so that what a keeper typed is what they read back, byte for byte.

pub mod calendar;
pub mod estimate;
pub mod measure;
pub mod moment;
pub mod probability;
pub mod season;

pub use calendar::{Day, DaySpan, Night};
pub use estimate::Estimate;
pub use measure::{Celsius, Grams, MeasureError, Millimetres};
pub use moment::{Instant, When, Zone};
pub use probability::{Probability, ProbabilityError};
pub use season::Season;
