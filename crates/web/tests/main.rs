//! The pages, asked over real HTTP against a temporary journal of an invented room.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod care;
mod anything;
mod chances;
mod desk;
mod feeding;
mod hostile;
mod import;
mod made_up;
mod pages;
mod persons;
mod phones;
mod room;
mod settings;
mod routes;
mod wire;
mod writes;
