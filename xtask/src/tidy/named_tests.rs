//! docs/bad-input.md: every case names a test, and every test named exists.

use std::collections::HashSet;

use super::Finding;
use super::tree::Tree;

const PAGE: &str = "docs/bad-input.md";

pub fn check(tree: &Tree) -> Vec<Finding> {
    let Some(page) = tree.text(PAGE) else {
        return vec![format!("{PAGE} is missing: it lists every case of bad input with its test")];
    };
    let sources = tree.all().filter(|(path, _)| path.ends_with(".rs")).map(|(_, text)| text);
    findings(page, &sources.flat_map(tests).collect())
}

fn findings(page: &str, there: &HashSet<&str>) -> Vec<Finding> {
    let mut findings = Vec::new();
    let rows = page.lines().filter(|l| l.starts_with('|') && !l.starts_with("|--"));
    for row in rows.filter(|row| !row.starts_with("| Case ")) {
        let cells: Vec<&str> = row.trim_matches('|').split(" | ").map(str::trim).collect();
        let [case, _, named] = cells[..] else {
            findings.push(format!("{PAGE}: \"{row:.40}\" has no three columns"));
            continue;
        };
        let names: Vec<&str> = named.split('`').skip(1).step_by(2).collect();
        if names.is_empty() {
            findings.push(format!("{PAGE}: \"{case}\" has no test: write one and name it"));
        }
        for name in names.into_iter().filter(|name| !there.contains(name)) {
            findings.push(format!("{PAGE}: \"{case}\" names the test {name}, which is nowhere"));
        }
    }
    findings
}

/// Names of the tests of a source, those of property tests too.
fn tests(source: &str) -> impl Iterator<Item = &str> {
    source.split("#[test]").skip(1).filter_map(|rest| {
        let named = rest.split_once("fn ")?.1;
        named.split_once('(').map(|(name, _)| name)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_case_without_a_test_that_exists_is_found() {
        let source = "#[test]\nfn one() {}\nproptest! {\n    #[test]\n    fn two(x in 0..1) {}\n}";
        let there: HashSet<&str> = tests(source).collect();
        assert_eq!(there, HashSet::from(["one", "two"]));
        let table = |row: &str| format!("| Case | What | Test |\n|---|---|---|\n{row}\n");
        assert!(findings(&table("| a | b | `one`, `two` |"), &there).is_empty());
        assert_eq!(findings(&table("| a | b | `one`, `three` |"), &there).len(), 1);
        assert_eq!(findings(&table("| a | b | none |"), &there).len(), 1);
        assert_eq!(findings(&table("| a | b |"), &there).len(), 1);
    }
}
