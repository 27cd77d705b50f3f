//! What cannot be done is refused with a way out.

use crate::program::{Folder, run};

#[test]
fn wrong_usage_is_two_and_a_refusal_is_one() {
    assert_eq!(run(&["no-such-command"]).code, 2);
    assert_eq!(run(&["import"]).code, 2);
    let folder = Folder::new();
    let ran = folder.ask(&["tonight", "--json"]);
    assert_eq!(ran.code, 1);
    let error: serde_json::Value = serde_json::from_str(&ran.err).unwrap();
    for key in ["error", "where", "do"] {
        assert!(!error[key].as_str().unwrap().is_empty(), "{error}");
    }
    let bad_day = Folder::with_room().ask(&["tonight", "--on", "2026-02-30"]);
    assert_eq!(bad_day.code, 1);
    assert!(bad_day.err.contains("2026-02-30"), "{}", bad_day.err);
}

#[test]
fn a_file_with_nothing_in_it_is_refused() {
    let folder = Folder::new();
    for (name, text) in [("empty.csv", ""), ("words.csv", "nothing to see here\n")] {
        let path = folder.write(name, text);
        let ran = folder.ask(&["import", &path, "--yes"]);
        assert_eq!(ran.code, 1, "{name}: {} {}", ran.out, ran.err);
    }
    assert!(!std::path::Path::new(&folder.at("data")).exists());
}

#[test]
fn a_typing_error_is_asked_about_with_near_codes() {
    let folder = Folder::with_room();
    let path = folder.write("w.csv", "Date,Animal,g\n2026-02-01,F0l,1900\n2026-02-01,F01,2300\n");
    let answer = folder.ask(&["import", &path, "--yes", "--json"]).json();
    let file = &answer["files"][0];
    assert_eq!((file["in"].as_u64(), file["held"].as_u64()), (Some(1), Some(1)), "{answer}");
    assert!(answer["questions"][0]["why"].as_str().unwrap().contains("F01"), "{answer}");
}

#[test]
fn another_value_for_the_same_day_is_held_and_nothing_is_overwritten() {
    let folder = Folder::with_room();
    let text = "Date,Animal,g\n2025-10-12,F35,1163\n2025-10-12,F35,1063\n";
    let path = folder.write("w.csv", text);
    let file = folder.ask(&["import", &path, "--yes", "--json"]).json()["files"][0].clone();
    assert_eq!((file["held"].as_u64(), file["already"].as_u64()), (Some(1), Some(1)), "{file}");
}

#[test]
fn a_code_given_twice_in_one_list_is_held() {
    let folder = Folder::new();
    let text = "ID,Name,Sex,Hatch date\nK1,Moss,0.1,2019-05-01\nK1,Fern,1.0,2020-06-01\n";
    let path = folder.write("a.csv", text);
    let file = folder.ask(&["import", &path, "--yes", "--json"]).json()["files"][0].clone();
    assert_eq!((file["in"].as_u64(), file["held"].as_u64()), (Some(1), Some(1)), "{file}");
}

#[test]
fn two_identical_rows_are_two_events_and_a_grown_sheet_adds_only_what_is_new() {
    let folder = Folder::new();
    let animals = folder.write("a.csv", "ID,Sex,Hatch date\nK1,0.1,2019-05-01\n");
    folder.ask(&["import", &animals, "--yes"]);
    let head = "Date,Animal,Prey,Qty,Ate\n";
    let twice = "2026-01-05,K1,small rat,1,yes\n2026-01-05,K1,small rat,1,yes\n";
    let path = folder.write("f.csv", &format!("{head}{twice}"));
    let first = folder.ask(&["import", &path, "--yes", "--json"]).json()["files"][0].clone();
    assert_eq!((first["in"].as_u64(), first["doubt"].as_u64()), (Some(1), Some(1)), "{first}");
    let grown = format!("{head}{twice}2026-01-12,K1,small rat,1,no\n");
    let path = folder.write("f.csv", &grown);
    let second = folder.ask(&["import", &path, "--yes", "--json"]).json()["files"][0].clone();
    assert_eq!((second["in"].as_u64(), second["already"].as_u64()), (Some(1), Some(2)), "{second}");
}
