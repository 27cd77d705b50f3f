//! The program as a keeper runs it.
//!
//! - `sheets`: sheets in, out, in again, equal.
//! - `evening`: where each female stands, and tonight.
//! - `answers`: held rows answered, facts recorded, pairs reckoned.
//! - `colony_genes`: what every animal of the sheets carries.
//! - `every_fact`: every kind of fact out as sheets and in again.
//! - `orders`: the sheets in any order, and after an undo.
//! - `undo`: what is withdrawn, and when it is asked first.
//! - `kin`: kinship in files and in the colony.
//! - `genes`: published pedigrees through the command
//! - `lan`: the pages on the network, and their key.
//! - `bad_input`: what cannot be done is refused with a way out.
//! - `demo`: the made-up room.
//! - `demo_evenings`: evenings lived through in it, one after another.
//! - `demo_room`: the journal of the made-up room.
//! - `settings`: the settings of the room.
//! - `sires`: who fathered a clutch, and what proves a het.
//! - `told`: sheets told by hand how they are to be read.
//! - `who`: the name beside what is written.
//! - `rough`: sheets with many kinds of dirt, each named.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod answers;
mod bad_input;
mod colony_genes;
mod demo;
mod demo_evenings;
mod demo_room;
mod evening;
mod every_fact;
mod genes;
mod kin;
mod lan;
mod orders;
mod program;
mod rough;
mod settings;
mod sheets;
mod sires;
mod told;
mod undo;
mod who;
