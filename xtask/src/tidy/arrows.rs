//! Which crate may use which of ours. A new arrow needs a page in docs/decisions.

use cargo_metadata::{DependencyKind, Metadata, Package};

use super::Finding;

/// Every crate with those it may use.
const ALLOWED: &[(&str, &[&str])] = &[
    ("units", &[]),
    ("records", &["units"]),
    ("genetics", &["units"]),
    ("forecast", &["units"]),
    ("schedule", &["units"]),
    ("answers", &["units", "records", "genetics", "forecast", "schedule"]),
    ("sheets", &["units", "records", "genetics"]),
    ("store", &["units", "records"]),
    // The engines' own types appear in answers; docs/decisions/0006-engine-types-at-the-edge.md says why.
    (
        "web",
        &["units", "records", "genetics", "forecast", "schedule", "answers", "store", "sheets"],
    ),
    (
        "app",
        &[
            "units", "records", "genetics", "forecast", "schedule", "answers", "store", "sheets",
            "web",
        ],
    ),
    ("testkit", &["units", "records", "genetics", "forecast", "schedule"]),
];

/// Crates outside crates/ that may use anything: none of ours uses them.
const OUTSIDE: &[&str] = &["xtask", "verification", "benches", "tests"];

/// Crates that may not read or write any outer form, and what they may use instead.
const PURE: &[(&str, &[&str])] = &[
    ("units", &["jiff"]),
    ("records", &[]),
    ("genetics", &[]),
    ("forecast", &[]),
    ("schedule", &[]),
    ("answers", &[]),
];

pub fn check(metadata: &Metadata) -> Vec<Finding> {
    let members = metadata.workspace_packages();
    let ours: Vec<&str> = members.iter().map(|p| p.name.as_str()).collect();
    members.iter().flat_map(|package| of_package(package, &ours)).collect()
}

/// "clutchwright-units" is spoken of as "units", the program itself as "app".
fn short(name: &str) -> &str {
    if name == "clutchwright" { "app" } else { name.trim_start_matches("clutchwright-") }
}

fn of_package(package: &Package, ours: &[&str]) -> Vec<Finding> {
    let own = short(&package.name);
    if OUTSIDE.contains(&own) {
        return Vec::new();
    }
    let Some((_, allowed)) = ALLOWED.iter().find(|(name, _)| *name == own) else {
        return vec![format!(
            "{own} is not in the list of arrows: write why it exists in docs/decisions and add it \
             to xtask/src/tidy/arrows.rs"
        )];
    };
    let pure = PURE.iter().find(|(name, _)| *name == own).map(|(_, outer)| *outer);
    let mut findings = Vec::new();
    for dependency in &package.dependencies {
        let other = short(&dependency.name);
        let for_tests = dependency.kind == DependencyKind::Development;
        let is_ours = ours.contains(&dependency.name.as_str());
        if is_ours && !may_use(allowed, other, for_tests) {
            findings.push(format!(
                "{own} uses {other}: take it out, or write the reason in docs/decisions and add \
                 the arrow to xtask/src/tidy/arrows.rs"
            ));
        }
        let outer = pure.is_some_and(|outer| !outer.contains(&dependency.name.as_str()));
        if !is_ours && !for_tests && outer {
            findings.push(format!(
                "{own} uses {}: a pure crate uses no library of that kind; do it in store, sheets, \
                 web or app",
                dependency.name
            ));
        }
    }
    findings
}

/// testkit is for tests only, and tests may use whatever they compare with.
fn may_use(allowed: &[&str], other: &str, for_tests: bool) -> bool {
    for_tests || allowed.contains(&other) && other != "testkit"
}

#[cfg(test)]
mod tests {
    use super::*;

    fn allowed(own: &str) -> &'static [&'static str] {
        ALLOWED.iter().find(|(name, _)| *name == own).map_or(&[], |(_, others)| others)
    }

    #[test]
    fn engines_know_neither_records_nor_each_other() {
        let engines = ["genetics", "forecast", "schedule"];
        for own in engines {
            for other in engines.iter().chain(&["records", "answers", "store", "testkit"]) {
                assert!(!may_use(allowed(own), other, false), "{own} uses {other}");
            }
            assert!(may_use(allowed(own), "units", false));
            assert!(may_use(allowed(own), "testkit", true));
        }
    }

    #[test]
    fn only_tests_and_chores_use_testkit() {
        for (own, others) in ALLOWED {
            assert!(!may_use(others, "testkit", false), "{own}");
            assert!(*own == "testkit" || !OUTSIDE.contains(own), "{own}");
        }
    }

    #[test]
    fn every_arrow_points_to_an_earlier_crate() {
        for (at, (own, others)) in ALLOWED.iter().enumerate() {
            for other in *others {
                let earlier = ALLOWED[..at].iter().any(|(name, _)| name == other);
                assert!(earlier, "{own} uses {other}");
            }
        }
    }
}
