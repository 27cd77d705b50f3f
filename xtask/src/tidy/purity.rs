//! Engines read no file, no setting, no clock and no global randomness: day and seed are given.

use super::Finding;
use super::tree::Tree;

const PURE: &[&str] = &["units", "records", "genetics", "forecast", "schedule", "answers"];

/// What gives an engine an outside. `units` alone may ask for the machine's time zone.
const OUTSIDE: &[&str] = &[
    "std::fs",
    "std::env",
    "std::net",
    "std::process",
    "std::io",
    "SystemTime",
    "Instant::now",
    "Timestamp::now",
    "Zoned::now",
    "serde",
    "tokio",
    "rusqlite",
    "rand::rng",
    "thread_rng",
];

pub fn check(tree: &Tree) -> Vec<Finding> {
    let mut findings = Vec::new();
    for own in PURE {
        for (path, text) in tree.under(&format!("crates/{own}/src/"), ".rs") {
            for (n, line) in text.lines().enumerate() {
                let code = line.split("//").next().unwrap_or_default();
                for outside in OUTSIDE.iter().filter(|o| code.contains(**o)) {
                    findings.push(format!(
                        "{path}:{}: {outside} in a pure crate: take the value as a parameter",
                        n + 1
                    ));
                }
            }
        }
    }
    findings
}
