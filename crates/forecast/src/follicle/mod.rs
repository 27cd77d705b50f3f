//! The follicle model of one cycle: resting, growing, stalled or resorbing, and how large.
//!
//! Time is counted in weeks since the cycle opened. A female may change her state on weekly marks
//! only; between marks her size is linear and Gaussian, so that a history of states is one *track*
//! and what is believed about her is a weighted set of tracks. Statement of the model, sources and
//! approximations: `docs/methods/follicle_forecast.md`.

pub mod ahead;
pub mod belief;
mod below_each;
pub mod check;
pub mod fit;
pub mod following;
pub mod hyper;
pub mod mixture;
pub mod model;
pub mod next_scan;
pub mod normal;
pub mod number;
pub mod opening;
pub mod outlook;
pub mod own_rate;
pub mod passage;
pub mod quantile;
pub mod reduce;
pub mod scans;
pub mod sighting;
pub mod track;
mod weeks;
