//! Sheets in, out, in again, equal.

use serde_json::Value;

use crate::program::{Folder, KNOWN, room, run};

const ROWS: [(&str, &str, u64); 7] = [
    ("animals.csv", "animals", 55),
    ("clutches.csv", "clutches", 73),
    ("feeding.csv", "feedings", 8640),
    ("follicles.csv", "follicle checks", 662),
    ("hatchlings.csv", "hatchlings", 384),
    ("pairings.csv", "nights", 1106),
    ("weights.csv", "weights", 488),
];

fn verdicts(file: &Value) -> u64 {
    ["in", "already", "doubt", "held", "unreadable"]
        .iter()
        .map(|k| file[*k].as_u64().unwrap())
        .sum()
}

#[test]
fn every_row_of_the_room_gets_a_verdict_and_only_its_mistakes_are_named() {
    let folder = Folder::new();
    let data = folder.at("data");
    let ran = run(&["import", &room(), "--data", &data, "--zone", "UTC", "--yes", "--json"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let answer = ran.json();
    let files = answer["files"].as_array().unwrap();
    for (name, kind, rows) in ROWS {
        let file = files.iter().find(|f| f["file"] == name).unwrap();
        assert_eq!((&file["kind"], &file["rows"]), (&Value::from(kind), &Value::from(rows)));
        assert_eq!(verdicts(file), rows, "{file}");
    }
    let mut named: Vec<(String, u64, String)> = answer["questions"]
        .as_array()
        .unwrap()
        .iter()
        .map(|q| {
            let text = |k: &str| q[k].as_str().unwrap().to_owned();
            (text("file"), q["line"].as_u64().unwrap(), text("verdict"))
        })
        .collect();
    named.sort();
    named.dedup();
    let expected =
        KNOWN.map(|(file, line, verdict)| (file.to_owned(), line as u64, verdict.to_owned()));
    assert_eq!(named, expected, "{}", ran.out);
}

#[test]
fn reading_the_same_sheets_again_changes_nothing() {
    let folder = Folder::with_room();
    let before = folder.ask(&["verify", "--json"]).json();
    let again = run(&["import", &room(), "--data", &folder.at("data"), "--yes", "--json"]).json();
    for file in again["files"].as_array().unwrap() {
        assert_eq!(file["in"], 0, "{file}");
        assert_eq!(file["doubt"], 0, "{file}");
    }
    assert_eq!(folder.ask(&["verify", "--json"]).json(), before);
}

#[test]
fn a_preview_writes_nothing() {
    let folder = Folder::new();
    let data = folder.at("data");
    let ran = run(&["import", &room(), "--data", &data, "--zone", "UTC"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(!std::path::Path::new(&data).exists());
}

/// Everything that is asked must be answered the same, byte for byte.
fn answers(folder: &Folder) -> Vec<String> {
    [
        &["tonight", "--on", "2026-02-10", "--json"][..],
        &["tonight", "--on", "2026-02-10", "--fresh", "--json"],
        &["tonight", "--on", "2024-01-25", "--json"],
        &["follicles", "--on", "2026-02-10", "--json"],
        &["follicles", "--on", "2022-12-20", "--json"],
        &["doubts", "--on", "2026-02-10", "--json"],
        &["tonight", "--on", "2026-02-10"],
    ]
    .iter()
    .map(|args| {
        let ran = folder.ask(args);
        assert_eq!(ran.code, 0, "{args:?} {}", ran.err);
        ran.out
    })
    .collect()
}

#[test]
fn what_is_exported_comes_in_again_equal() {
    let folder = Folder::with_room();
    let out = folder.at("out");
    assert_eq!(folder.ask(&["export", &out]).code, 0);
    let other = Folder::new();
    let ran = run(&["import", &out, "--data", &other.at("data"), "--yes", "--json"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    for file in ran.json()["files"].as_array().unwrap() {
        assert_eq!(file["already"], file["rows"], "{file}");
    }
    assert_eq!(answers(&folder), answers(&other));
    assert_eq!(folder.ask(&["verify", "--json"]).out, other.ask(&["verify", "--json"]).out);
}

#[test]
fn the_exported_sheets_alone_give_the_same_answers() {
    let folder = Folder::with_room();
    let out = folder.at("out");
    assert_eq!(folder.ask(&["export", &out]).code, 0);
    std::fs::remove_file(format!("{out}/journal.txt")).unwrap();
    let other = Folder::new();
    let ran = run(&["import", &out, "--data", &other.at("data"), "--zone", "UTC", "--yes"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let without_held =
        |all: Vec<String>| all.into_iter().filter(|a| !a.contains("\"held\"")).collect::<Vec<_>>();
    assert_eq!(without_held(answers(&folder)), without_held(answers(&other)), "{}", ran.out);
}

/// The journal's text is left out: sheets alone must carry it.
#[test]
fn temperatures_and_where_eggs_lie_survive_the_sheets() {
    let folder = Folder::new();
    let sheet = folder.write("a.csv", "ID,Sex,Hatch date\nF06,0.1,2019-06-01\n");
    let zone = ["--zone", "Europe/Berlin"];
    assert_eq!(folder.ask(&[&["import", &sheet, "--yes"], &zone[..]].concat()).code, 0);
    for words in [
        &["laid", "F06", "6", "0", "incubator", "--day", "2026-03-01"][..],
        &["incubated", "F06", "incubator", "1", "--day", "2026-03-01"],
        &["incubated", "F06", "shelf", "--day", "2026-03-20"],
        &["reading", "incubator", "1", "set", "31.5", "--day", "2026-02-20"],
        &["reading", "incubator", "1", "30.25", "85%", "--at", "2026-03-05T06:30:00Z"],
        &["reading", "shelf", "29.4", "--day", "2026-03-21"],
    ] {
        let ran = folder.ask(&[&["record"], words].concat());
        assert_eq!(ran.code, 0, "{}", ran.err);
    }
    let logged = "Timestamp,Device,Temp (°F),Humidity\n\
        2026-03-22 08:30:15,shelf,85.1,71.4\n2026-03-22 20:30:15,shelf,85.6,70\n";
    let logged = folder.write("logger.csv", logged);
    let ran = folder.ask(&["import", &logged, "--yes", "--json"]);
    assert_eq!((ran.code, &ran.json()["files"][0]["in"]), (0, &Value::from(2)), "{}", ran.out);
    // The same logger, read out again a day later.
    let grown = std::fs::read_to_string(&logged).unwrap() + "2026-03-23 08:30:15,shelf,85.3,70\n";
    let grown = folder.write("logger2.csv", &grown);
    let ran = folder.ask(&["import", &grown, "--yes", "--json"]).json();
    assert_eq!((&ran["files"][0]["in"], &ran["files"][0]["already"]), (&1.into(), &2.into()));

    let of = |folder: &Folder| folder.ask(&["eggs", "--on", "2026-03-25", "--json"]).json();
    let before = of(&folder);
    let eggs = &before["eggs"][0];
    assert_eq!((&eggs["place"], &eggs["warmth"]["readings"]), (&"shelf".into(), &6.into()));
    let out = folder.at("out");
    assert_eq!(folder.ask(&["export", &out]).code, 0);
    std::fs::remove_file(format!("{out}/journal.txt")).unwrap();
    let written = std::fs::read_to_string(format!("{out}/temperatures.csv")).unwrap();
    // Half past eight in Berlin in March, before the clocks change, is half past seven in UTC.
    assert!(written.contains("2026-03-22,07:30:15Z,shelf,29.5,measured,71"), "{written}");
    let other = Folder::new();
    let args = ["import", &out, "--data", &other.at("data"), "--yes"];
    let ran = run(&[&args, &zone[..]].concat());
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert_eq!(of(&other), before);
}

#[test]
fn an_import_is_undone_and_done_again_as_one() {
    let folder = Folder::with_room();
    let full = folder.ask(&["tonight", "--on", "2026-02-10", "--json"]).out;
    assert_eq!(folder.ask(&["undo", "--yes"]).code, 0);
    let empty = folder.ask(&["follicles", "--on", "2026-02-10", "--json"]).json();
    assert_eq!(empty["females"].as_array().unwrap().len(), 0);
    assert_eq!(folder.ask(&["undo", "--yes"]).code, 0);
    assert_eq!(folder.ask(&["tonight", "--on", "2026-02-10", "--json"]).out, full);
    // Undone once more, the sheets can be brought in anew.
    assert_eq!(folder.ask(&["undo", "--yes"]).code, 0);
    let again = run(&["import", &room(), "--data", &folder.at("data"), "--yes", "--json"]).json();
    let animals = again["files"].as_array().unwrap().iter().find(|f| f["kind"] == "animals");
    assert_eq!(animals.unwrap()["held"], 0);
    let females = folder.ask(&["follicles", "--on", "2026-02-10", "--json"]).json();
    assert!(females["females"].as_array().unwrap().len() > 20);
}

#[test]
fn rebuild_counts_what_the_sheets_hold() {
    let folder = Folder::with_room();
    let counts = folder.ask(&["rebuild", "--json"]).json();
    // 55 animals, 384 hatchlings, 25 of them kept and so in both sheets.
    assert_eq!(counts["animals"], 55 + 384 - 25);
    // 73 rows of clutches, two of them not laid yet.
    assert_eq!(counts["clutches"], 71);
    assert_eq!(counts["doubts"], 5);
}
