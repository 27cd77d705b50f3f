//! Chores of the workspace. `cargo xtask tidy` checks what the compiler cannot;
//! `cargo xtask code-map` prints the code map as ARCHITECTURE.md should have it.

mod tidy;

use std::path::Path;
use std::process::ExitCode;

#[expect(clippy::print_stderr, reason = "a chore talks to the terminal")]
fn main() -> ExitCode {
    let chore = std::env::args().nth(1);
    // The manifest of this package is xtask/Cargo.toml.
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap_or(Path::new("."));
    let done = match chore.as_deref() {
        Some("tidy") => tidy::run(root),
        Some("code-map") => tidy::print_code_map(root),
        _ => {
            eprintln!("usage: cargo xtask tidy | code-map");
            return ExitCode::from(2);
        }
    };
    match done {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error:#}");
            ExitCode::FAILURE
        }
    }
}
