//! Statistical checks with fixed seeds. `cargo run --release -p clutchwright-verification` prints a
//! report and exits 1 when a check fails.
//!
//! - `grid`: the follicle model's chances against a dense grid, sixty cycles
//! - `seasons`: how often dates hold, over a thousand simulated female-seasons
#![expect(clippy::print_stdout, reason = "the report is what this program is for")]

mod grid;
mod made;
mod seasons;

use std::process::ExitCode;

fn main() -> ExitCode {
    let checks = [grid::check(), seasons::check()];
    if checks.iter().all(|held| *held) {
        println!("\nAll checks held.");
        ExitCode::SUCCESS
    } else {
        println!("\nA check did not hold.");
        ExitCode::FAILURE
    }
}
