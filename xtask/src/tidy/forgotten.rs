//! A Rust file that no other file declares is never compiled, and its tests never run.

use std::collections::BTreeSet;

use cargo_metadata::Metadata;

use super::Finding;
use super::tree::Tree;

pub fn check(tree: &Tree, metadata: &Metadata) -> Vec<Finding> {
    let root = metadata.workspace_root.as_str();
    let roots: BTreeSet<String> = metadata
        .workspace_packages()
        .iter()
        .flat_map(|package| &package.targets)
        .filter_map(|target| target.src_path.as_str().strip_prefix(root))
        .map(|path| path.trim_start_matches(['/', '\\']).replace('\\', "/"))
        .collect();
    undeclared(tree, &roots)
}

fn undeclared(tree: &Tree, roots: &BTreeSet<String>) -> Vec<Finding> {
    let forgotten = |path: &str| !roots.contains(path) && !declared(tree, path, roots);
    tree.under("", ".rs")
        .filter(|(path, _)| in_a_crate(path) && forgotten(path))
        .map(|(path, _)| {
            format!("{path} is declared by no other file: add `mod` where it belongs, or remove it")
        })
        .collect()
}

fn in_a_crate(path: &str) -> bool {
    ["/src/", "/tests/", "/benches/", "/examples/"].iter().any(|part| path.contains(part))
}

/// Whether the file that should declare this module does.
fn declared(tree: &Tree, path: &str, roots: &BTreeSet<String>) -> bool {
    let module = path.trim_end_matches(".rs").trim_end_matches("/mod");
    let Some((folder, name)) = module.rsplit_once('/') else { return false };
    let mut parents = vec![format!("{folder}.rs"), format!("{folder}/mod.rs")];
    parents.extend(
        roots.iter().filter(|r| r.rsplit_once('/').is_some_and(|(f, _)| f == folder)).cloned(),
    );
    let declares = |text: &str| {
        let line = format!("mod {name};");
        text.lines().any(|l| {
            let l = l.trim_start();
            l.starts_with(&line) || l.starts_with("pub") && l.contains(&format!(" {line}"))
        })
    };
    parents.iter().filter_map(|parent| tree.text(parent)).any(declares)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_that_nobody_declares_is_found() {
        let tree = Tree::of(&[
            ("crates/a/src/lib.rs", "mod kept;\npub(crate) mod shown;\n"),
            ("crates/a/src/kept.rs", "mod inner;\n"),
            ("crates/a/src/kept/inner.rs", ""),
            ("crates/a/src/shown/mod.rs", ""),
            ("crates/a/src/lost.rs", ""),
            ("crates/a/tests/main.rs", "mod story;\n"),
            ("crates/a/tests/story.rs", ""),
            ("crates/a/tests/lost_test.rs", ""),
        ]);
        let roots = ["crates/a/src/lib.rs", "crates/a/tests/main.rs"].map(str::to_owned).into();
        let found = undeclared(&tree, &roots);
        let paths: Vec<&str> = found.iter().filter_map(|f| f.split(' ').next()).collect();
        assert_eq!(paths, ["crates/a/src/lost.rs", "crates/a/tests/lost_test.rs"]);
    }
}
