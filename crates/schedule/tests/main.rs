//! Tests of the night's plan. `rooms` builds the rooms, `oracle` holds the slow obvious answers.

#![expect(clippy::unwrap_used, reason = "a test program may stop at the first surprise")]

mod assignment;
mod calendar;
mod example;
mod limits;
mod omissions;
mod oracle;
mod properties;
mod published;
mod rooms;
mod together;
mod words;
