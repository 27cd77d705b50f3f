//! What the compiler cannot check: arrows between crates, purity of the engines, sizes, the code
//! map, names in the docs, tests named there, forgotten files, words that do not belong.

mod arrows;
mod code_map;
mod documented;
mod forgotten;
mod named_tests;
mod names;
mod purity;
mod sizes;
mod tree;
mod wording;

use std::path::Path;

use anyhow::{Context, Result};
use cargo_metadata::MetadataCommand;

use tree::Tree;

/// One thing that is not tidy, as a sentence that says what to do.
type Finding = String;

/// Runs every check; true when all is tidy.
#[expect(clippy::print_stdout, reason = "a chore talks to the terminal")]
pub fn run(root: &Path) -> Result<bool> {
    let metadata = MetadataCommand::new()
        .manifest_path(root.join("Cargo.toml"))
        .no_deps()
        .exec()
        .context("cargo metadata failed")?;
    let tree = Tree::read(root)?;
    let (sizes, summary) = sizes::check(&tree);
    let checks: [(&str, Vec<Finding>); 9] = [
        ("arrows between crates", arrows::check(&metadata)),
        ("purity of the engines", purity::check(&tree)),
        ("sizes", sizes),
        ("names of modules", names::check(&tree)),
        ("code map", code_map::check(&tree)),
        ("names in the docs", documented::check(&tree)),
        ("tests named in the docs", named_tests::check(&tree)),
        ("forgotten files", forgotten::check(&tree, &metadata)),
        ("wording", wording::check(&tree, root)),
    ];
    let mut tidy = true;
    for (what, findings) in checks {
        println!("{} {what}", if findings.is_empty() { "ok    " } else { "FAILED" });
        for finding in &findings {
            println!("       {finding}");
        }
        tidy &= findings.is_empty();
    }
    println!("{summary}");
    Ok(tidy)
}

/// Prints the code map of the tree as it is.
#[expect(clippy::print_stdout, reason = "a chore talks to the terminal")]
pub fn print_code_map(root: &Path) -> Result<bool> {
    println!("{}", code_map::printed(&Tree::read(root)?));
    Ok(true)
}
