//! What an undo without an id withdraws, what it says, and when it asks first.

use crate::program::{Folder, run};

fn animals(folder: &Folder, n: usize) -> String {
    let rows: String = (1..=n).map(|n| format!("K{n},0.1,2019-05-01\n")).collect();
    let list = folder.write("a.csv", &format!("ID,Sex,Hatch date\n{rows}"));
    let data = folder.at("data");
    let ran = run(&["import", &list, "--data", &data, "--zone", "UTC", "--yes"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    ran.out
}

fn count(folder: &Folder) -> i64 {
    folder.ask(&["rebuild", "--json"]).json()["standing"].as_i64().unwrap()
}

#[test]
fn the_last_thing_written_goes_and_not_the_last_import() {
    let folder = Folder::new();
    animals(&folder, 30);
    let before = count(&folder);
    folder.ask(&["record", "weighed", "K7", "1500", "--day", "2020-05-02"]);
    let said = folder.ask(&["undo"]);
    assert_eq!((said.code, count(&folder)), (1, before + 1), "said first, and nothing is done");
    assert!(said.err.contains("It would withdraw weighed K7, 2020-05-02"), "{}", said.err);
    assert!(said.err.contains("Done once more, undo takes that back"), "{}", said.err);
    let undone = folder.ask(&["undo", "--yes"]);
    assert_eq!(undone.code, 0, "{}", undone.err);
    assert!(undone.out.contains("weighed K7, 2020-05-02"), "{}", undone.out);
    assert_eq!(count(&folder), before);
    // The way back that it names works word for word.
    assert!(undone.out.contains("To bring it back: clutchwright undo "), "{}", undone.out);
    let id = undone.out.trim().rsplit(' ').next().unwrap();
    let back = folder.ask(&["undo", id]);
    assert!(back.out.contains("Brought back: weighed K7"), "{}", back.out);
    assert_eq!(count(&folder), before + 1);
}

#[test]
fn records_go_only_by_their_id_or_when_it_is_said() {
    let folder = Folder::new();
    let out = animals(&folder, 30);
    let before = count(&folder);
    let refused = folder.ask(&["undo"]);
    assert_eq!(refused.code, 1);
    assert!(refused.err.contains("30 records of a.csv"), "{}", refused.err);
    assert!(refused.err.contains("--yes"), "{}", refused.err);
    assert_eq!(count(&folder), before);
    let batch = out.trim().rsplit(' ').next().unwrap();
    assert_eq!(folder.ask(&["undo", batch]).code, 0, "the id that import prints");
    assert_eq!(count(&folder), before - 30);
    assert_eq!(folder.ask(&["undo", "--yes"]).code, 0);
    assert_eq!(count(&folder), before);
    // A few are said first as well.
    let few = Folder::new();
    animals(&few, 3);
    let said = few.ask(&["undo"]);
    assert_eq!((said.code, count(&few)), (1, 4), "{}", said.out);
    assert!(said.err.contains("3 records of a.csv"), "{}", said.err);
    let json = few.ask(&["undo", "--json"]);
    assert_eq!((json.code, count(&few)), (1, 4), "{}", json.out);
    assert!(json.err.contains("--yes"), "{}", json.err);
}

#[test]
fn nothing_is_brought_back_beside_what_came_in_again() {
    let folder = Folder::new();
    animals(&folder, 3);
    let undone = folder.ask(&["undo", "--yes"]);
    let id = undone.out.trim().rsplit(' ').next().unwrap().to_owned();
    animals(&folder, 3);
    let refused = folder.ask(&["undo", &id]);
    assert_eq!(refused.code, 1, "{}", refused.out);
    assert!(refused.err.contains("imported again"), "{}", refused.err);
    assert_eq!(folder.ask(&["rebuild", "--json"]).json()["animals"], 3);
}

#[test]
fn a_new_folder_keeps_its_zone() {
    let folder = Folder::new();
    let list = folder.write("a.csv", "ID,Sex\nK1,0.1\n");
    let data = folder.at("data");
    run(&["import", &list, "--data", &data, "--zone", "Europe/Berlin", "--yes"]);
    assert_eq!(folder.ask(&["undo", "--yes"]).code, 0);
    assert_eq!(folder.ask(&["tonight", "--json"]).code, 0);
}
