//! One file per command.

pub mod answer;
pub mod calendar;
pub mod chances;
pub mod demo;
pub mod doubts;
pub mod due;
pub mod durations;
pub mod eggs;
pub mod export;
pub mod feeders;
pub mod feeding;
pub mod follicles;
pub mod genes;
pub mod growth;
pub mod import;
pub mod kin;
pub mod learned;
pub mod prove;
pub mod rebuild;
pub mod record;
pub mod serve;
pub mod setting;
pub mod sire;
pub mod tonight;
pub mod track;
pub mod undo;
pub mod verify;

/// A chance: "66.7 %".
fn percent(p: f64) -> String {
    units::Probability::clamped(p).to_a_tenth()
}
