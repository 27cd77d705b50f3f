//! The code map in ARCHITECTURE.md names every folder of sources, no more and no less.

use std::collections::BTreeSet;

use super::Finding;
use super::tree::Tree;

const PAGE: &str = "ARCHITECTURE.md";
const FENCE: &str = "```code-map";
const EXPECTED: &str = "a block that begins ```code-map with one line for each folder that holds \
                        sources: its path, then what it is about (`cargo xtask code-map` prints it)";

pub fn check(tree: &Tree) -> Vec<Finding> {
    let Some(page) = tree.text(PAGE) else {
        return vec![format!("{PAGE} is missing: write it with {EXPECTED}")];
    };
    let Some(lines) = block(page) else {
        return vec![format!("{PAGE} has no code map: add {EXPECTED}")];
    };
    let mapped: BTreeSet<&str> =
        lines.iter().filter_map(|line| line.split_whitespace().next()).collect();
    let there = on_disk(tree);
    let missing = there.difference(&mapped).map(|e| format!("{PAGE}: the code map lacks {e}"));
    let gone = mapped.difference(&there).map(|e| format!("{PAGE}: {e} is in the code map only"));
    missing.chain(gone).collect()
}

/// The block as it should be; what was said of a folder is kept.
pub fn printed(tree: &Tree) -> String {
    let lines = tree.text(PAGE).and_then(block).unwrap_or_default();
    let map: Vec<&str> = on_disk(tree)
        .into_iter()
        .map(|folder| {
            let known = lines.iter().find(|l| l.split_whitespace().next() == Some(folder));
            known.map_or(folder, |line| line.trim_end())
        })
        .collect();
    format!("{FENCE}\n{}\n```", map.join("\n"))
}

fn block(page: &str) -> Option<Vec<&str>> {
    let mut lines = page.lines().skip_while(|line| line.trim_end() != FENCE);
    lines.next()?;
    Some(lines.take_while(|line| !line.starts_with("```")).collect())
}

/// Every folder in or below a `src` that holds Rust files.
fn on_disk(tree: &Tree) -> BTreeSet<&str> {
    tree.under("", ".rs")
        .filter_map(|(path, _)| path.rsplit_once('/'))
        .map(|(folder, _)| folder)
        .filter(|folder| folder.ends_with("/src") || folder.contains("/src/"))
        .collect()
}
