//! Every command, setting, kind of fact and page is named in the docs.

use super::Finding;
use super::tree::Tree;

pub fn check(tree: &Tree) -> Vec<Finding> {
    let docs: String = tree
        .all()
        .filter(|(path, _)| {
            path.ends_with(".md") && (path.starts_with("docs/") || *path == "README.md")
        })
        .map(|(_, text)| text)
        .collect();
    let model = tree.text("docs/data-model.md").unwrap_or_default();
    let mut findings = Vec::new();
    let mut expect = |what: &str, names: Vec<String>, text: &str, at: &str| {
        if names.is_empty() {
            findings.push(format!(
                "no {what} found: xtask/src/tidy/documented.rs reads the wrong place"
            ));
        }
        for name in names.iter().filter(|name| !is_named(text, name)) {
            findings.push(format!("{what} `{name}` is not named in {at}: say what it does there"));
        }
    };
    expect("kind of fact", kinds(tree), model, "docs/data-model.md");
    expect("setting", settings(tree), &docs, "docs/");
    expect("command", commands(tree), &docs, "docs/ or README.md");
    expect("page", pages(tree), &docs, "docs/ or README.md");
    findings
}

/// Named as code, as a heading of its own, or in an example of the command line.
fn is_named(text: &str, name: &str) -> bool {
    let shown = [format!("`{name}`"), format!("\n## {name}\n"), format!("clutchwright {name} ")];
    shown.iter().any(|form| text.contains(form))
}

fn between<'a>(text: &'a str, from: &str, to: &str) -> &'a str {
    let rest = text.split_once(from).map_or("", |(_, rest)| rest);
    rest.split_once(to).map_or(rest, |(inner, _)| inner)
}

/// Variant names of an enum whose variants hold something, as their words in lower case.
fn variants(body: &str, joint: char) -> Vec<String> {
    let lines = body.lines().map(str::trim).filter(|l| l.starts_with(char::is_uppercase));
    lines.filter_map(|l| l.split(['(', ',', '{']).next()).map(|n| spaced(n.trim(), joint)).collect()
}

/// `LockLooked` to `lock_looked`.
fn spaced(name: &str, joint: char) -> String {
    let mut out = String::new();
    for letter in name.chars() {
        if letter.is_uppercase() && !out.is_empty() {
            out.push(joint);
        }
        out.extend(letter.to_lowercase());
    }
    out
}

fn kinds(tree: &Tree) -> Vec<String> {
    let wire = tree.text("crates/store/src/wire/v1.rs").unwrap_or_default();
    variants(between(wire, "pub enum Fact {", "\n}"), '_')
}

fn commands(tree: &Tree) -> Vec<String> {
    let args = tree.text("crates/app/src/args.rs").unwrap_or_default();
    variants(between(args, "pub enum Command {", "\n}"), '-')
}

/// The names in any `SETTINGS` table.
fn settings(tree: &Tree) -> Vec<String> {
    let tables = tree.under("crates/", ".rs").filter(|(_, text)| text.contains(TABLE));
    let rows = tables.flat_map(|(_, text)| between(text, TABLE, "\n];").split("name: \"").skip(1));
    rows.filter_map(|row| row.split('"').next()).map(str::to_owned).collect()
}

const TABLE: &str = "SETTINGS: &[Setting] = &[";

/// Addresses that answer a reader: routes with `get`, without style sheets, scripts and pictures.
fn pages(tree: &Tree) -> Vec<String> {
    let routes = tree.under("crates/web/src/", ".rs").flat_map(|(_, text)| text.lines());
    routes
        .filter_map(|line| line.trim().strip_prefix(".route(\"")?.split_once("\", get("))
        .map(|(address, _)| address.to_owned())
        .filter(|address| !address.contains('.'))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tree(docs: &str, model: &str) -> Tree {
        let args = "pub enum Command {\n    /// Tonight.\n    Tonight(Night),\n    WhyNot,\n}\n";
        let wire = "pub enum Fact {\n    SexTold(a::SexTold),\n}\n";
        let settings = "const SETTINGS: &[Setting] = &[\n    Setting { name: \"rest\" },\n];\n";
        let routes = ".route(\"/round\", get(a))\n.route(\"/style.css\", get(b))\n";
        Tree::of(&[
            ("crates/app/src/args.rs", args),
            ("crates/store/src/wire/v1.rs", wire),
            ("crates/answers/src/settings.rs", settings),
            ("crates/web/src/serve.rs", routes),
            ("docs/guide.md", docs),
            ("docs/data-model.md", model),
        ])
    }

    #[test]
    fn what_the_docs_do_not_name_is_found() {
        let found = check(&tree("", ""));
        let names: Vec<&str> = found.iter().filter_map(|f| f.split('`').nth(1)).collect();
        assert_eq!(names, ["sex_told", "rest", "tonight", "why-not", "/round"]);
        let docs = "\n## tonight\n\n    clutchwright why-not F03\n`rest` `/round`";
        assert_eq!(check(&tree(docs, "`sex_told`")), Vec::<Finding>::new());
    }
}
