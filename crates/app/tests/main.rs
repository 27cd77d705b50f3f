//! The program as a keeper runs it.
//!
//! - `sheets`: sheets in, out, in again, equal.
//! - `evening`: where each female stands, and tonight.
//! - `bad_input`: what cannot be done is refused with a way out.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod bad_input;
mod evening;
mod program;
mod sheets;
