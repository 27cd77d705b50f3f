//! Sheets may come in any order, and again after an undo.

use serde_json::Value;

use crate::program::{Folder, room, run};

const FILES: [&str; 7] =
    ["animals", "clutches", "feeding", "follicles", "hatchlings", "pairings", "weights"];

fn import(folder: &Folder, what: &str) -> Value {
    let data = folder.at("data");
    let ran = run(&["import", what, "--data", &data, "--zone", "UTC", "--yes", "--json"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    ran.json()
}

fn sum(answer: &Value, verdict: &str) -> u64 {
    answer["files"].as_array().unwrap().iter().map(|f| f[verdict].as_u64().unwrap()).sum()
}

/// What is told of the room, but for the ids of records.
fn answers(folder: &Folder) -> Vec<Value> {
    let asked = [
        &["tonight", "--on", "2026-02-10", "--json"][..],
        &["follicles", "--on", "2026-02-10", "--json"],
        &["feeding", "--on", "2026-02-10", "--json"],
        &["doubts", "--on", "2026-02-10", "--json"],
    ];
    let mut all: Vec<Value> = asked
        .iter()
        .map(|args| {
            let ran = folder.ask(args);
            assert_eq!(ran.code, 0, "{args:?} {}", ran.err);
            ran.json()
        })
        .collect();
    for held in all[3]["held"].as_array_mut().into_iter().flatten() {
        held["record"] = Value::Null;
        // It names the near codes that were known when the row was held.
        held["why"] = Value::Null;
    }
    // Lists of feeding and of doubts go by the order in which records came in.
    all[2] = in_order(&all[2]);
    all[3] = in_order(&all[3]);
    all
}

fn in_order(answer: &Value) -> Value {
    match answer {
        Value::Object(fields) => {
            fields.iter().map(|(name, value)| (name.clone(), in_order(value))).collect()
        }
        Value::Array(all) => {
            let mut all: Vec<Value> = all.iter().map(in_order).collect();
            all.sort_by_key(ToString::to_string);
            Value::Array(all)
        }
        other => other.clone(),
    }
}

/// Without the ids of records, which are others after an undo.
fn unnumbered(answer: &Value) -> Value {
    match answer {
        Value::Object(fields) => {
            let kept = fields.iter().filter(|(name, _)| *name != "records");
            Value::Object(kept.map(|(name, value)| (name.clone(), unnumbered(value))).collect())
        }
        Value::Array(all) => Value::Array(all.iter().map(unnumbered).collect()),
        other => other.clone(),
    }
}

#[test]
fn the_sheets_come_in_in_any_order() {
    let whole = answers(&Folder::with_room());
    let orders: [&[usize]; 3] =
        [&[4, 0, 6, 5, 3, 2, 1], &[6, 5, 3, 1, 2, 4, 0], &[2, 4, 6, 1, 0, 3, 5]];
    for order in orders {
        let folder = Folder::new();
        for at in order {
            import(&folder, &format!("{}/{}.csv", room(), FILES[*at]));
        }
        for (one_by_one, at_once) in answers(&folder).iter().zip(&whole) {
            assert!(one_by_one == at_once, "{order:?}\n{one_by_one}\n{at_once}");
        }
        let again = import(&folder, &room());
        assert_eq!((sum(&again, "in"), sum(&again, "doubt")), (0, 0), "{order:?}");
        assert_eq!(again["waited"].as_array().unwrap().len(), 0);
    }
}

#[test]
fn animals_first_and_then_the_whole_folder() {
    let folder = Folder::new();
    import(&folder, &format!("{}/animals.csv", room()));
    let all = import(&folder, &room());
    assert_eq!(sum(&all, "held"), 3, "{all}");
    assert_eq!(answers(&folder), answers(&Folder::with_room()));
}

#[test]
fn after_an_undo_the_same_sheets_say_the_same_again() {
    let folder = Folder::new();
    let first = import(&folder, &room());
    let before = answers(&folder);
    assert_eq!(folder.ask(&["undo", "--yes"]).code, 0);
    let second = import(&folder, &room());
    for verdict in ["in", "already", "doubt", "held", "unreadable"] {
        assert_eq!(sum(&second, verdict), sum(&first, verdict), "{verdict}");
    }
    let held = folder.ask(&["doubts", "--json"]).json()["held"].as_array().unwrap().len();
    assert_eq!(held, 3);
    assert_eq!(unnumbered(&answers(&folder)[2]), unnumbered(&before[2]));
    let third = import(&folder, &room());
    assert_eq!((sum(&third, "in"), sum(&third, "doubt")), (0, 0));
    assert_eq!(sum(&third, "held"), 3);
}

const LIST: &str = "ID,Sex,Hatch date\nF01,0.1,2018-07-01\nM01,1.0,2018-07-01\n";
const YOUNG: &str = "Date,Clutch,Hatchling,Dam,Sire,Sex,Kept\n";

#[test]
fn a_kept_hatchling_that_cannot_be_told_is_one_question() {
    let folder = Folder::new();
    let list = format!("{LIST}F23,0.1,2021-07-05\n");
    import(&folder, &folder.write("animals.csv", &list));
    let young = format!("{YOUNG}2021-07-04,C1,C1-1,F01,M01,0.1,kept as F23\n");
    let answer = import(&folder, &folder.write("young.csv", &young));
    assert_eq!(sum(&answer, "held"), 1, "{answer}");
    // Nothing that names F23 has to wait for it.
    let fed = folder.write("fed.csv", "Date,Animal,Prey,Ate\n2022-01-01,F23,rat,yes\n");
    assert_eq!(sum(&import(&folder, &fed), "in"), 1);
    // The list is corrected: the row can be taken, and what waited is settled.
    let other = Folder::new();
    import(&other, &other.write("animals.csv", &list.replace("07-05", "07-04")));
    let answer = import(&other, &other.write("young.csv", &young));
    assert_eq!(sum(&answer, "in"), 1, "{answer}");
    assert_eq!(other.ask(&["rebuild", "--json"]).json()["animals"], 3);
}

#[test]
fn two_hatchlings_kept_as_one_animal_are_a_question() {
    let folder = Folder::new();
    import(&folder, &folder.write("animals.csv", LIST));
    let rows = "2021-07-04,C1,C1-1,F01,M01,0.1,kept as F23\n\
                2021-07-04,C1,C1-2,F01,M01,0.1,kept as F23\n";
    let answer = import(&folder, &folder.write("young.csv", &format!("{YOUNG}{rows}")));
    assert_eq!((sum(&answer, "in"), sum(&answer, "held")), (1, 1), "{answer}");
}
