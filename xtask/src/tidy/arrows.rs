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
        if ours.contains(&dependency.name.as_str()) {
            let testkit = other == "testkit";
            let fine = if testkit { for_tests } else { for_tests || allowed.contains(&other) };
            if !fine {
                findings.push(format!(
                    "{own} uses {other}: take it out, or write the reason in docs/decisions and \
                     add the arrow to xtask/src/tidy/arrows.rs"
                ));
            }
        } else if let Some(outer) = pure
            && !for_tests
            && !outer.contains(&dependency.name.as_str())
        {
            findings.push(format!(
                "{own} uses {}: a pure crate uses no library of that kind; do it in store, sheets, \
                 web or app",
                dependency.name
            ));
        }
    }
    findings
}
