//! What records say of an effect: regressions, rates and survival, each with honest intervals.
//!
//! Plain arithmetic on numbers: whoever asks maps animals and seasons to levels and back. Nothing
//! here decides what is worth saying; see [`looks`] for how many questions at once are kept honest.

pub mod bordered;
pub mod cox;
pub mod design;
pub mod kaplan_meier;
pub mod least_squares;
pub mod logistic;
pub mod looks;
pub mod mixed;
pub mod mixed_cox;
pub mod mixed_logistic;
pub mod mixture;
pub mod outcomes;
pub mod rates;
pub mod special;
pub mod spreads;

pub use design::{Design, FitError, Grouping};
pub use mixture::{Interval, Mixture};
