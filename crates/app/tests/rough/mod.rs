//! The room's sheets with many more kinds of dirt: an import names each, and nothing else.
//!
//! - `dirt`: one kind of dirt, and what it does to the sheets.
//! - `animals`, `care`, `nights`, `clutches`: what rows say.
//! - `dress`: how files are written.

mod animals;
mod care;
mod clutches;
mod dirt;
mod dress;
mod nights;

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use serde_json::Value;

use crate::program::{Folder, KNOWN, room, run};
use dirt::{Dirt, Said, Sheets};

fn kinds() -> Vec<&'static Dirt> {
    [animals::DIRT, care::DIRT, nights::DIRT, clutches::DIRT].into_iter().flatten().collect()
}

/// File, line, verdict, and the kind of dirt that stands there.
type Named = BTreeMap<(String, usize, String), String>;

struct Rough {
    folder: Folder,
    expected: Named,
    rows: BTreeMap<String, usize>,
}

/// Plants every kind, then writes each file in its dress.
fn make() -> Rough {
    let mut sheets = Sheets::read(Path::new(&room()));
    let mut planted = Vec::new();
    for (file, line, verdict) in KNOWN {
        planted.push((file, line, verdict, "known"));
    }
    for kind in kinds() {
        for (file, line, said) in sheets.plant(kind) {
            if let Some(verdict) = said.word() {
                planted.push((file, line, verdict, kind.name));
            }
        }
    }
    let folder = Folder::new();
    let mut rows = BTreeMap::new();
    std::fs::create_dir(folder.at("sheets")).unwrap();
    for (file, lines) in &sheets.files {
        rows.insert((*file).to_owned(), lines.len() - 1);
        let bytes = dress::dressed(file, lines);
        std::fs::write(Path::new(&folder.at("sheets")).join(file), bytes).unwrap();
    }
    for (file, text, count) in dress::MORE {
        rows.insert((*file).to_owned(), *count);
        std::fs::write(Path::new(&folder.at("sheets")).join(file), text).unwrap();
    }
    let mut expected = Named::new();
    for (file, line, verdict, name) in planted {
        let line = dress::line(file, line);
        expected.insert((file.to_owned(), line, verdict.to_owned()), name.to_owned());
    }
    for (file, line, said, name) in dress::MORE_SAID {
        let verdict = said.word().unwrap().to_owned();
        expected.insert(((*file).to_owned(), *line, verdict), (*name).to_owned());
    }
    Rough { folder, expected, rows }
}

fn named(answer: &Value) -> Named {
    let text = |q: &Value, k: &str| q[k].as_str().unwrap().to_owned();
    let questions = answer["questions"].as_array().unwrap();
    questions
        .iter()
        .map(|q| {
            let line = usize::try_from(q["line"].as_u64().unwrap()).unwrap();
            ((text(q, "file"), line, text(q, "verdict")), text(q, "why"))
        })
        .collect()
}

fn differences(expected: &Named, named: &Named) -> Vec<String> {
    let missing = expected
        .iter()
        .filter(|(at, _)| !named.contains_key(*at))
        .map(|(at, name)| format!("missing {at:?}: {name}"));
    let surplus = named
        .iter()
        .filter(|(at, _)| !expected.contains_key(*at))
        .map(|(at, why)| format!("surplus {at:?}: {why}"));
    missing.chain(surplus).collect()
}

#[test]
fn there_are_at_least_forty_kinds_and_each_has_a_name_of_its_own() {
    let mut names: Vec<&str> = kinds().iter().map(|k| k.name).collect();
    names.extend(dress::KINDS);
    let distinct: BTreeSet<&str> = names.iter().copied().collect();
    assert_eq!(distinct.len(), names.len());
    assert!(distinct.len() >= 40 + KNOWN.len(), "{}", distinct.len());
    assert!(kinds().iter().any(|k| k.plants.iter().any(|p| p.said() == Said::Nothing)));
}

#[test]
fn an_import_names_every_kind_of_dirt_and_nothing_else() {
    let rough = make();
    let (data, sheets) = (rough.folder.at("data"), rough.folder.at("sheets"));
    let ran = run(&["import", &sheets, "--data", &data, "--zone", "UTC", "--yes", "--json"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let answer = ran.json();
    let wrong = differences(&rough.expected, &named(&answer));
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));

    let mut counted = BTreeMap::new();
    for file in answer["files"].as_array().unwrap() {
        let n = |k: &str| usize::try_from(file[k].as_u64().unwrap()).unwrap();
        let sum: usize = ["in", "already", "doubt", "held", "unreadable"].map(n).iter().sum();
        assert_eq!(sum, n("rows"), "{file}");
        counted.insert(file["file"].as_str().unwrap().to_owned(), sum);
    }
    assert_eq!(counted, rough.rows);

    let again = run(&["import", &sheets, "--data", &data, "--yes", "--json"]).json();
    for file in again["files"].as_array().unwrap() {
        assert_eq!((&file["in"], &file["doubt"]), (&0.into(), &0.into()), "{file}");
    }
}
