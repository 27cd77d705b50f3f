//! A file that is called after nothing holds anything.

use super::Finding;
use super::tree::Tree;

const EMPTY_NAMES: &[&str] = &["util", "utils", "common", "helper", "helpers", "misc", "core"];

pub fn check(tree: &Tree) -> Vec<Finding> {
    let named = |path: &str| {
        let stem = path.trim_end_matches(".rs");
        stem.split('/').any(|part| EMPTY_NAMES.contains(&part))
    };
    tree.under("", ".rs")
        .filter(|(path, _)| named(path))
        .map(|(path, _)| format!("{path}: name it after the idea it holds"))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_say_nothing_are_found() {
        let tree = Tree::of(&[
            ("crates/a/src/util.rs", ""),
            ("crates/core/src/lib.rs", ""),
            ("crates/a/src/utility_rate.rs", ""),
        ]);
        assert_eq!(check(&tree).len(), 2);
    }
}
