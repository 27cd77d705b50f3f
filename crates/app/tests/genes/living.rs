//! Genotypes that do not live.

use super::asked::try_files;

const PAGE: &str = include_str!("../../../../docs/methods/genes.md");

/// The first block of that kind after a heading or a name.
fn block<'p>(after: &str, kind: &str) -> &'p str {
    let (_, rest) = PAGE.split_once(after).unwrap();
    let (_, block) = rest.split_once(&format!("```{kind}\n")).unwrap();
    block.split_once("```").unwrap().0
}

#[test]
fn the_page_on_genes_shows_those_that_live() {
    let (csv, toml) = (block("`lethal.csv`:", "csv"), block("`lethal.toml`:", "toml"));
    let ran = try_files(csv, toml, &[]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert_eq!(ran.out.trim(), block("--catalogue lethal.toml`:", "").trim());
}
