//! The colony folded from records, and its doubts.
//!
//! - `codes`: which animal a code means on a day.
//! - `stays`: nights of males with females.
//! - `moments`: what is known when.
//! - `doubts`: one test for each kind.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod codes;
mod doubts;
mod moments;
mod stays;
mod writing;
