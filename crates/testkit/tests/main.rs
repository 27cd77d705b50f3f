//! Tests of the simulators against numbers from outside them.
//!
//! - `season_room`: what the made-up room holds, and that its keepers go by the rules

mod season_room;
