//! One idea a file: a file that outgrows the budget holds two.

use super::Finding;
use super::tree::Tree;

const MOST_LINES: usize = 600;
const MOST_TEMPLATE_LINES: usize = 200;

/// Files that may be longer, each with the reason.
const LONGER: &[(&str, &str)] = &[];

pub fn check(tree: &Tree) -> (Vec<Finding>, String) {
    let mut findings = Vec::new();
    let mut lengths = Vec::new();
    for (path, text) in tree.all() {
        let lines = text.lines().count();
        let most = if path.ends_with(".rs") {
            lengths.push(lines);
            MOST_LINES
        } else if path.contains("/templates/") && path.ends_with(".html") {
            MOST_TEMPLATE_LINES
        } else {
            continue;
        };
        if lines > most && !LONGER.iter().any(|(longer, _)| *longer == path) {
            findings.push(format!(
                "{path}: {lines} lines, at most {most}: part it by ideas, or give a reason in \
                 xtask/src/tidy/sizes.rs"
            ));
        }
    }
    for (path, _) in LONGER {
        if tree.text(path).is_none_or(|text| text.lines().count() <= MOST_LINES) {
            findings.push(format!("{path} needs no exception: take it out of the list"));
        }
    }
    lengths.sort_unstable();
    let at = |share: usize| lengths.get(lengths.len() * share / 100).copied().unwrap_or_default();
    let summary = format!(
        "{} Rust files, {} lines; median {}, 95 % at most {}, longest {}",
        lengths.len(),
        lengths.iter().sum::<usize>(),
        at(50),
        at(95),
        lengths.last().copied().unwrap_or_default()
    );
    (findings, summary)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_of_more_than_600_lines_is_found() {
        let (short, long) = ("x\n".repeat(600), "x\n".repeat(601));
        let tree = Tree::of(&[("crates/a/src/short.rs", &short), ("crates/a/src/long.rs", &long)]);
        let (found, summary) = check(&tree);
        assert_eq!(found.len(), 1);
        assert!(found[0].starts_with("crates/a/src/long.rs: 601"), "{found:?}");
        assert!(summary.contains("longest 601"), "{summary}");
    }
}
