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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_engine_that_reads_a_clock_is_found() {
        let clean = "// no std::fs here\nfn a(today: Day) {}\n";
        let clock = "fn b() {\n    SystemTime::now();\n}\n";
        let tree = Tree::of(&[
            ("crates/forecast/src/clean.rs", clean),
            ("crates/forecast/src/clock.rs", clock),
            ("crates/store/src/clock.rs", clock),
        ]);
        let found = check(&tree);
        assert_eq!(found.len(), 1);
        assert!(found[0].starts_with("crates/forecast/src/clock.rs:2: SystemTime"), "{found:?}");
    }
}
