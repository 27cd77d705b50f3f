//! The pages, asked over real HTTP against a temporary journal of an invented room.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod anything;
mod calendar;
mod care;
mod carrying;
mod chances;
mod desk;
mod eggs;
mod family;
mod feeding;
mod hatchlings;
mod hostile;
mod import;
mod learned;
mod looks;
mod made_up;
mod pages;
mod persons;
mod phones;
mod refused;
mod room;
mod routes;
mod season;
mod settings;
mod together;
mod wire;
mod writes;
