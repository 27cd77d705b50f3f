//! Words for meals, locks and follicles.

use super::rows;
use crate::told::{file, hints, lines};
use records::words::Lock;
use sheets::read::read;
use sheets::sheet::FileHints;

#[test]
fn answers() {
    let fed = |cells: &[&str]| {
        let body: String = cells.iter().map(|c| format!("2026-02-10,F03,rat,1,{c}\n")).collect();
        rows(&format!("Date,Animal,Prey,Qty,Ate\n{body}"))
    };
    assert_eq!(fed(&["x"]), "2 2026-02-10 F03 1 rat taken");
    assert_eq!(fed(&["✓", "x"]), "2 2026-02-10 F03 1 rat taken\n3 2026-02-10 F03 1 rat refused");
    assert_eq!(
        fed(&["refused", "x"]),
        "2 2026-02-10 F03 1 rat refused\n3 2026-02-10 F03 1 rat taken"
    );
    assert!(fed(&["yes", "no", "x"]).contains("4 ? Ate: A cross can mean eaten or refused"));
    assert!(fed(&["regurgitated"]).contains("brought up again"));
    assert!(fed(&["1/2"]).contains("says neither eaten nor refused"));
    assert!(fed(&[""]).contains("There is no word for eaten or refused in this row"));
    assert_eq!(
        rows(
            "Date,Animal,Prey,Refused\n2026-02-10,F03,rat,\n2026-02-10,F04,rat,yes\n2026-02-10,F05,rat,no\n"
        ),
        "2 2026-02-10 F03 1 rat taken\n3 2026-02-10 F04 1 rat refused\n4 2026-02-10 F05 1 rat taken"
    );
    assert!(
        rows("Date,Animal,Prey\n2026-02-10,F03,rat\n")
            .contains("No column of this sheet was recognised as word for eaten or refused")
    );
}

#[test]
fn locks() {
    let night = |cell: &str| rows(&format!("Night,Male,Female,Lock\n2026-02-10,M01,F03,{cell}\n"));
    for (cell, wanted) in [
        ("lock", "seen"),
        ("L", "seen"),
        ("x", "seen"),
        ("Locked!", "seen"),
        ("?", "suspected"),
        ("maybe", "suspected"),
        ("no", "none seen"),
        ("none", "none seen"),
        ("didn't look", "not looked"),
        ("Didn’t look", "not looked"),
        ("not checked", "not looked"),
        ("", "none seen (empty)"),
        ("-", "none seen (empty)"),
    ] {
        assert_eq!(night(cell), format!("2 2026-02-10 M01 F03 {wanted}"), "{cell}");
    }
    assert!(night("purple").contains("\"purple\" is no word for a lock"));
    assert_eq!(rows("Night,Male,Female\n2026-02-10,M01,F03\n"), "2 2026-02-10 M01 F03 _");
    assert_eq!(rows("Date,Pair,Lock\n2026-02-10,M01 x F03,yes\n"), "2 2026-02-10 M01 F03 seen");
    let mut said = hints();
    said.files.insert(
        "some.csv".into(),
        FileHints { empty_lock: Some(Lock::NotLooked), ..FileHints::default() },
    );
    assert_eq!(
        lines(&read(&[file("Night,Male,Female,Lock\n2026-02-10,M01,F03,\n")], &said).sheets[0]),
        "nights\n2 2026-02-10 M01 F03 not looked (empty)"
    );
}

#[test]
fn felt_words_and_sizes() {
    let check = |how: &str, size: &str| {
        rows(&format!("Date,Female,How,Size (mm)\n2026-02-10,F03,{how},{size}\n"))
    };
    for (how, size, wanted) in [
        ("scan", "20x18", "20+18 mm"),
        ("scan", "20/18", "20+18 mm"),
        ("scan", "\"20, 18\"", "20+18 mm"),
        ("scan", "\"20,5\"", "20.5 mm"),
        ("US", "20-18", "20+18 mm"),
        ("scan", "2.2 cm", "22 mm"),
        ("", "16.0", "16 mm"),
        ("", "Pea", "felt Pea (0)"),
        ("palpated", "hen's egg", "felt hen's egg (2)"),
        ("felt", "Nothing felt", "nothing felt"),
        ("felt", "like a python egg", "felt like a python egg (3)"),
        ("felt", "marble-ping pong", "felt marble-ping pong (1)"),
        ("felt", "hen egg to python egg", "felt hen egg to python egg (2)"),
    ] {
        assert_eq!(check(how, size), format!("2 2026-02-10 F03 {wanted}"), "{how} {size}");
    }
    for (how, size, why) in [
        ("felt", "marble", "none of the classes"),
        ("felt", "pea to hen egg", "which two neighbours"),
        ("felt", "22", "none of the classes"),
        ("felt", "", "There is no size"),
        ("scan", "pea", "no size of a scan"),
        ("scan", "nothing", "not the same as nothing felt"),
        ("guess", "22", "no way of checking"),
        ("scan", "108.0", "108 mm is no possible"),
        ("scan", "-5", "no possible"),
        ("scan", ">20", "is no size"),
    ] {
        let told = check(how, size);
        assert!(told.starts_with("2 ? ") && told.contains(why), "{how} {size}: {told}");
    }
}
