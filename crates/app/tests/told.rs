//! Sheets that are told by hand how they are to be read.

use serde_json::Value;

use crate::program::{Folder, Ran};

fn counts(ran: &Ran, file: &str) -> (u64, u64) {
    let all = ran.json();
    let one = all["files"].as_array().unwrap().iter().find(|f| f["file"] == file).unwrap().clone();
    let n = |name: &str| one.get(name).and_then(Value::as_u64).unwrap();
    assert_eq!(n("rows"), n("in") + n("already") + n("doubt") + n("held") + n("unreadable"));
    (n("in"), n("held"))
}

fn with_animals() -> Folder {
    let folder = Folder::new();
    let animals = folder.write("animals.csv", "id,sex\nF1,female\nF2,female\nM1,male\n");
    assert_eq!(folder.ask(&["import", &animals, "--zone", "UTC", "--yes"]).code, 0);
    folder
}

#[test]
fn columns_and_kinds_are_told_by_name_or_place() {
    let folder = with_animals();
    let odd = "Critter,When seen,Heft,Lamp\nF1,2026-01-05,2100,on\nF2,2026-01-05,2200,off\n";
    let path = folder.write("odd.csv", odd);
    let other = folder.write("other.csv", "Date,Animal,g\n2026-01-06,F1,2110\n");
    let base = ["import", &path, &other, "--json"];
    let ask = |more: &[&str]| folder.ask(&[&base[..], more].concat());
    assert_eq!(counts(&ask(&[]), "odd.csv").0, 0);
    let named = ask(&[
        "--kind",
        "odd.csv=weights",
        "--map",
        "Critter=animal",
        "--map",
        "odd.csv:When seen=date",
        "--map",
        "odd.csv:HEFT=weight",
    ]);
    assert_eq!(counts(&named, "odd.csv"), (2, 0), "{}", named.out);
    assert_eq!(counts(&named, "other.csv"), (1, 0), "{}", named.out);
    let bare = folder.write("bare.csv", "F1,2026-01-07,2120\nF2,2026-01-07,2210\n");
    let placed = folder.ask(&[
        "import",
        &bare,
        "--json",
        "--kind",
        "bare.csv=weights",
        "--map",
        "bare.csv:column 1=animal",
        "--map",
        "bare.csv:column 2=date",
        "--map",
        "bare.csv:column 3=weight",
    ]);
    assert_eq!(counts(&placed, "bare.csv"), (2, 0), "{}", placed.out);
}

#[test]
fn what_is_not_there_is_refused_with_what_is() {
    let folder = with_animals();
    let path = folder.write("w.csv", "Date,Animal,g\n2026-01-06,F1,2110\n");
    for (option, value, says) in [
        ("--map", "Heft=weight", "Date, Animal, g"),
        ("--map", "g=heft", "animal, name, sex"),
        ("--map", "g", "HEADING=MEANING"),
        ("--map", "w.csv:column 9=note", "Date, Animal, g"),
        ("--kind", "w.csv=wombats", "follicle checks"),
        ("--kind", "x.csv=weights", "w.csv"),
        ("--empty-lock", "maybe", "none-seen, not-looked"),
        ("--decimal", "w.csv=semicolon", "comma, point"),
        ("--year", "soon", "a year"),
    ] {
        let ran = folder.ask(&["import", &path, "--yes", option, value]);
        assert_eq!(ran.code, 1, "{option} {value}: {}", ran.out);
        assert!(ran.err.contains(says), "{option} {value}: {}", ran.err);
    }
}

#[test]
fn empty_lock_cells_are_what_the_keeper_says() {
    let folder = with_animals();
    let path =
        folder.write("n.csv", "Night,Male,Female,Lock\n2026-01-05,M1,F1,\n2026-01-06,M1,F1,yes\n");
    for (how, word) in [("none-seen", "none seen"), ("n.csv=not-looked", "not looked")] {
        let data = folder.at(how);
        let animals = folder.at("animals.csv");
        let args = ["import", &animals, &path, "--data", &data, "--zone", "UTC", "--yes"];
        let ran = crate::program::run(&[&args[..], &["--empty-lock", how]].concat());
        assert_eq!(ran.code, 0, "{}", ran.err);
        let to = folder.at(&format!("out {word}"));
        assert_eq!(crate::program::run(&["export", &to, "--data", &data]).code, 0);
        let journal = std::fs::read_to_string(format!("{to}/journal.txt")).unwrap();
        assert!(journal.contains(&word.replace(' ', "_")) || journal.contains(word), "{word}");
    }
}

#[test]
fn a_keepers_own_felt_words_are_read() {
    let folder = with_animals();
    let path = folder.write("f.csv", "Date,Female,How,Size\n2026-01-05,F1,felt,knuckle\n");
    assert_eq!(counts(&folder.ask(&["import", &path, "--json"]), "f.csv"), (0, 1));
    let held = folder.ask(&["import", &path, "--yes"]);
    assert_eq!(held.code, 0);
    let words =
        "When,Fact,Animal,Value\n2026-01-01,setting,,\"felt_words=Knuckle = 1, thumb = 0\"\n";
    let set = folder.ask(&["import", &folder.write("set.csv", words), "--yes"]);
    assert_eq!(set.code, 0, "{}", set.err);
    let again = folder.ask(&["import", &path, "--yes", "--json"]);
    assert_eq!(counts(&again, "f.csv"), (1, 0), "{}", again.out);
    let waiting = folder.ask(&["doubts", "--json"]).json();
    assert_eq!(waiting["held"].as_array().unwrap().len(), 0, "what was held came in");
}

#[test]
fn a_grid_without_years_says_what_it_took_or_is_told() {
    let folder = with_animals();
    let grid = "Animal,12 Nov,10 Dec,3 Feb\nF1,1900,1950,2000\nF2,2100,,2180\n";
    let path = folder.write("grid.csv", grid);
    let ran = folder.ask(&["import", &path, "--json", "--year", "2023"]);
    assert_eq!(counts(&ran, "grid.csv"), (5, 0), "{}", ran.out);
    let remark = ran.json()["files"][0]["remarks"][0].as_str().unwrap().to_owned();
    assert!(remark.contains("2023-11-12 to 2024-02-03: you said so"), "{remark}");
    let path = folder.write("Weights 2022-23.csv", grid);
    let ran = folder.ask(&["import", &path]);
    assert!(ran.out.contains("2022-11-12 to 2023-02-03: 2022/23 stands above them"), "{}", ran.out);
    let path = folder.write("Weights 2022.csv", grid);
    let asked = folder.ask(&["import", &path, "--yes", "--json"]);
    assert_eq!(counts(&asked, "Weights 2022.csv"), (0, 5));
    let why = asked.json()["questions"][0]["why"].as_str().unwrap().to_owned();
    assert!(why.contains("first or of the last") && why.contains("--year"), "{why}");
    // One date may be answered by itself, for every row below it.
    let held = folder.ask(&["doubts", "--json"]).json();
    let rows = held["held"].as_array().unwrap().clone();
    let id = rows.iter().find(|r| r["value"] == "12 Nov").unwrap()["record"].as_str().unwrap();
    let one = folder.ask(&["answer", id, "12 Nov 2021", "--all", "--json"]).json();
    assert_eq!((&one["verdict"], &one["written"]), (&"in".into(), &2.into()), "{one}");
    let told = folder.ask(&["import", &path, "--yes", "--json", "--year", "Weights 2022.csv=2021"]);
    assert_eq!(counts(&told, "Weights 2022.csv"), (3, 0), "{}", told.out);
    let waiting = folder.ask(&["doubts", "--json"]).json();
    assert_eq!(waiting["held"].as_array().unwrap().len(), 0, "what was held came in");
}

#[test]
fn one_answer_serves_all_rows_that_ask_the_same() {
    let folder = with_animals();
    let feeding = "Date,Animal,Prey,Ate\n03.02.2026,F1O,rat,y\n04.02.2026,F1O,rat,perhaps\n14.02.2026,F1,rat,y\n";
    let path = folder.write("f.csv", feeding);
    let ran = folder.ask(&["import", &path, "--yes", "--json"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let held = folder.ask(&["doubts", "--json"]).json();
    let rows = held["held"].as_array().unwrap().clone();
    let id = rows.iter().find(|r| r["value"] == "F1O").unwrap()["record"].as_str().unwrap();
    // The order of day and month is kept from the whole sheet, where the third row decided it.
    let good = folder.ask(&["answer", id, "F1", "--all", "--json"]).json();
    assert_eq!(good["verdict"], "in", "{good}");
    // The other row asks on: its meal cannot be read.
    let left = folder.ask(&["doubts", "--json"]).json();
    let left = left["held"].as_array().unwrap();
    assert_eq!(left.len(), 1, "{left:?}");
    assert_eq!(left[0]["value"], "perhaps");
}

#[test]
fn a_cell_of_a_grid_is_held_and_answered_alone() {
    let folder = with_animals();
    let grid = "Animal,12 Nov 2025,10 Dec 2025\nF1,1900,19500\nF9,2100,2180\n";
    let path = folder.write("grid.csv", grid);
    let ran = folder.ask(&["import", &path, "--yes", "--json"]);
    assert_eq!(counts(&ran, "grid.csv"), (1, 3), "{}", ran.out);
    let waiting = || folder.ask(&["doubts", "--json"]).json()["held"].as_array().unwrap().clone();
    let id = |value: &str| {
        let rows = waiting();
        rows.iter().find(|r| r["value"] == value).unwrap()["record"].as_str().unwrap().to_owned()
    };
    let heavy = folder.ask(&["answer", &id("19500"), "1950", "--json"]).json();
    assert_eq!((&heavy["verdict"], &heavy["written"]), (&"in".into(), &1.into()), "{heavy}");
    let both = folder.ask(&["answer", &id("F9"), "F2", "--all", "--json"]).json();
    assert_eq!((&both["verdict"], &both["written"]), (&"in".into(), &2.into()), "{both}");
    assert_eq!(waiting().len(), 0);
    let again = folder.ask(&["import", &path, "--json"]);
    assert_eq!(counts(&again, "grid.csv"), (0, 0), "{}", again.out);
    // Dates down, animals across: the animal stands above the cell.
    let across = "Date,F1,F8\n2025-10-01,1880,2090\n2025-10-15,1890,2095\n";
    let path = folder.write("across.csv", across);
    assert_eq!(counts(&folder.ask(&["import", &path, "--yes", "--json"]), "across.csv"), (2, 2));
    let told = folder.ask(&["answer", &id("F8"), "F2", "--all", "--json"]).json();
    assert_eq!((&told["verdict"], &told["written"]), (&"in".into(), &2.into()), "{told}");
    assert_eq!(waiting().len(), 0);
}

#[test]
fn a_row_against_the_records_is_settled_by_correcting_them_or_leaving_it() {
    let folder = with_animals();
    let first = folder.write("a.csv", "Date,Animal,g\n2026-01-05,F1,1900\n");
    assert_eq!(folder.ask(&["import", &first, "--yes"]).code, 0);
    let other = folder.write("b.csv", "Date,Animal,g\n2026-01-05,F1,1910 g\n");
    let ran = folder.ask(&["import", &other, "--yes", "--json"]);
    assert_eq!(counts(&ran, "b.csv"), (0, 1));
    let held = folder.ask(&["doubts", "--json"]).json();
    let row = &held["held"][0];
    assert_eq!(row["column"], "g", "{row}");
    let id = row["record"].as_str().unwrap();
    assert_eq!(folder.ask(&["answer", id, "1920"]).code, 1, "it still clashes");
    let same = folder.ask(&["answer", id, "1900", "--json"]).json();
    assert_eq!(same["verdict"], "already there", "{same}");
}

#[test]
fn a_logger_that_names_no_place_is_asked_about_once_for_each_file() {
    let folder = Folder::new();
    let rows = |first: f64| -> String {
        let row = |n: u32| format!("2026-02-{:02},08:00,{:.1}\n", n, first + 0.1 * f64::from(n));
        (1..=20).map(row).collect()
    };
    let head = "Date,Time,Temperature C\n";
    let one = folder.write("one.csv", &format!("{head}{}", rows(30.0)));
    let two = folder.write("two.csv", &format!("{head}{}", rows(28.0)));
    let shown = folder.ask(&["import", &one, &two, "--zone", "UTC"]).out;
    assert_eq!(shown.matches("recognised as place").count(), 2, "{shown}");
    assert!(shown.contains("one.csv line 2 and 19 more rows, held"), "{shown}");
    folder.ask(&["import", &one, &two, "--zone", "UTC", "--yes"]);
    let held = || {
        let doubts = folder.ask(&["doubts", "--json"]).json();
        let held = doubts["held"].as_array().cloned().unwrap_or_default();
        held.iter().map(|row| row["record"].as_str().unwrap().to_owned()).collect::<Vec<_>>()
    };
    let waiting = held();
    assert_eq!(waiting.len(), 40);
    let answered = folder.ask(&["answer", &waiting[0], "incubator 1", "--all"]);
    assert!(answered.out.contains("20 of 20 rows answered, 20 records"), "{}", answered.err);
    let left = held();
    assert_eq!(left.len(), 20, "the other logger lies elsewhere");
    folder.ask(&["answer", &left[0], "Incubator 2", "--all"]);
    assert_eq!(held().len(), 0);
    let out = folder.at("out");
    assert_eq!(folder.ask(&["export", &out]).code, 0);
    let sheet =
        std::fs::read_to_string(std::path::Path::new(&out).join("temperatures.csv")).unwrap();
    assert_eq!(sheet.matches("incubator 1").count(), 20, "{sheet}");
    assert_eq!(sheet.matches("Incubator 2").count(), 20, "{sheet}");
    assert!(sheet.contains("30.1") && sheet.contains("28.1"), "{sheet}");
    let undo = folder.ask(&["undo", "--yes"]);
    assert_eq!((undo.code, held().len()), (0, 20), "one undo takes one answer back");
}
