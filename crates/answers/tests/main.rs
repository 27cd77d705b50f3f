//! Questions asked of small hand-made rooms.
//!
//! - `feeding`: who is due a meal, what to thaw, what to think of refused food.
//! - `room`: an invented room, written fact by fact.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod feeding;
mod room;
