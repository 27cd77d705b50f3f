//! Chores of the workspace. `cargo xtask tidy` checks what the compiler cannot;
//! `cargo xtask code-map` prints the code map as ARCHITECTURE.md should have it;
//! `cargo xtask demo --seed N` makes the journal of the made-up room anew.

mod demo;
mod tidy;

use std::path::Path;
use std::process::ExitCode;

#[expect(clippy::print_stderr, reason = "a chore talks to the terminal")]
fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    // The manifest of this package is xtask/Cargo.toml.
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap_or(Path::new("."));
    let done = match arguments[..] {
        ["tidy"] => tidy::run(root),
        ["code-map"] => tidy::print_code_map(root),
        ["demo", "--seed", seed] if seed.parse::<u64>().is_ok() => demo::run(root, seed),
        _ => {
            eprintln!("usage: cargo xtask tidy | code-map | demo --seed N");
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
