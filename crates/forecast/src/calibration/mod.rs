//! How well forecasts held, once it is known what came.
//!
//! Scores of single forecasts, and what many of them add up to. Nothing here knows what was
//! forecast: a forecast is a rising function from values to shares, the truth a value or a pair of
//! values between which it lies. Rules and sources: `docs/methods/track_record.md`.

pub mod brier;
pub mod crps;
pub mod error;
pub mod fell;
pub mod share;
pub mod stretch;
pub mod tally;
