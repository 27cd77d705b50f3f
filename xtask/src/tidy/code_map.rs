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

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE_TEXT: &str = "# A\n\n```code-map\ncrates/a/src  numbers\ncrates/b/src\n```\n";

    #[test]
    fn a_map_that_differs_from_the_tree_is_found() {
        let tree = Tree::of(&[
            (PAGE, PAGE_TEXT),
            ("crates/a/src/lib.rs", ""),
            ("crates/a/src/inner/one.rs", ""),
            ("crates/a/tests/main.rs", ""),
        ]);
        let found = check(&tree);
        let [lacks, only] = &found[..] else { panic!("{found:?}") };
        assert!(lacks.ends_with("lacks crates/a/src/inner"), "{lacks}");
        assert!(only.contains("crates/b/src is in the code map only"), "{only}");
        let expected = "```code-map\ncrates/a/src  numbers\ncrates/a/src/inner\n```";
        assert_eq!(printed(&tree), expected);
    }

    #[test]
    fn a_missing_page_or_map_is_found() {
        assert_eq!(check(&Tree::of(&[])).len(), 1);
        assert_eq!(check(&Tree::of(&[(PAGE, "# A\n")])).len(), 1);
    }
}
