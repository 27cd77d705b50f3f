//! Statistical checks with fixed seeds. `cargo run --release -p clutchwright-verification` prints a
//! report and exits 1 when a check fails.
//!
//! - `grid`: the follicle model's chances against a dense grid, sixty cycles
//! - `ranks`: simulation-based calibration of size and rate
//! - `settings`: whether the intervals of what is learned of a room hold
//! - `sizes`: sizes on coming days, their intervals and scores, in three made-up worlds
//! - `dates`: dates by horizon and the chances of passed, ahead and never, in the same worlds
//! - `seasons`: how often dates hold, over a thousand simulated female-seasons
#![expect(clippy::print_stdout, reason = "the report is what this program is for")]

mod dates;
mod grid;
mod made;
mod ranks;
mod report;
mod seasons;
mod settings;
mod sizes;

use std::process::ExitCode;

use report::Report;

/// Everything, or those named on the command line.
fn main() -> ExitCode {
    let wanted: Vec<String> = std::env::args().skip(1).collect();
    let wants = |name: &str| wanted.is_empty() || wanted.iter().any(|w| w == name);
    let mut report = Report::default();
    if wants("ranks") {
        ranks::check(&mut report);
    }
    if wants("settings") {
        settings::check(&mut report);
    }
    if wants("sizes") {
        sizes::check(&mut report);
    }
    if wants("dates") {
        dates::check(&mut report);
    }
    if wants("seasons") {
        report.line(seasons::check(), "dates of simulated seasons");
    }
    if wants("grid") {
        report.line(grid::check(), "chances against the dense grid");
    }
    if report.close() { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
