//! Words that do not belong in what a reader gets.

use std::path::Path;

use super::Finding;
use super::tree::Tree;

/// Left-overs of writing. In pieces, so that this list does not find itself.
const LEFT_OVER: &[[&str; 2]] =
    &[["TO", "DO"], ["FIX", "ME"], ["XX", "X"], ["issue ", "#"], ["language ", "model"]];

/// Homes of people on their machines.
const HOMES: &[[&str; 2]] = &[["/ho", "me/"], ["/ro", "ot/"], ["/Us", "ers/"], ["C:\\Us", "ers"]];

pub fn check(tree: &Tree, root: &Path) -> Vec<Finding> {
    let places = places(root);
    let mut findings = Vec::new();
    for (path, text) in tree.all().filter(|(path, _)| *path != "Cargo.lock") {
        for (n, line) in text.lines().enumerate() {
            let at = |what: &str| format!("{path}:{}: {what}", n + 1);
            for word in LEFT_OVER.iter().map(|pieces| pieces.concat()) {
                if line.contains(&word) {
                    findings.push(at(&format!("\"{word}\": finish it or take it out")));
                }
            }
            if let Some(place) = places.iter().find(|place| line.contains(place.as_str())) {
                findings.push(at(&format!("\"{place}\" is one machine's path: name none")));
            }
        }
    }
    findings
}

/// Paths that hold on this machine only: homes, this folder, and the folders beside it.
fn places(root: &Path) -> Vec<String> {
    let mut places: Vec<String> = HOMES.iter().map(|pieces| pieces.concat()).collect();
    let own = root.to_string_lossy().into_owned();
    if let Some(parent) = root.parent()
        && let Ok(beside) = parent.read_dir()
    {
        // A neighbour that is called like a folder of ours tells nothing of the machine.
        let is_foreign = |f: &std::fs::DirEntry| {
            f.path().is_dir() && f.path() != root && !root.join(f.file_name()).exists()
        };
        for folder in beside.flatten().filter(is_foreign) {
            places.push(format!("../{}/", folder.file_name().to_string_lossy()));
        }
    }
    if own.matches('/').count() > 1 {
        places.push(own);
    }
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn left_overs_and_places_of_one_machine_are_found() {
        let text = format!("fine\n// {}DO\nat {}someone/clutch\n", "TO", HOMES[0].concat());
        let tree = Tree::of(&[("docs/a.md", &text)]);
        let found = check(&tree, Path::new("/nowhere"));
        assert_eq!(found.len(), 2, "{found:?}");
        assert!(found[0].starts_with("docs/a.md:2") && found[1].starts_with("docs/a.md:3"));
    }
}
