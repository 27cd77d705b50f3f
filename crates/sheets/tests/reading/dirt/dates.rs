//! Dates and their order.

use super::weights;
use crate::told::{file, hints, lines};
use sheets::read::read;
use sheets::sheet::{DateOrder, FileIn};

#[test]
fn dates() {
    let asked = |cell: &str| weights(&format!("{cell},F03,1731\n"));
    for cell in [
        "2026/2/10",
        "10 Feb 2026",
        "\"Feb 10, 2026\"",
        "Tue 10 Feb 2026",
        "46063",
        "2026-02-10 21:30",
        "20260210",
        "10-Feb-26",
    ] {
        assert_eq!(asked(cell), "2 2026-02-10 F03 1731 g", "{cell}");
    }
    for (cell, why) in [
        ("2026-02-30", "\"2026-02-30\" is on no calendar: correct the date."),
        ("2026-13-02", "with day and month swapped it would be 2026-02-13"),
        ("2026-02-12", "2026-02-12 is still to come on 2026-02-11"),
        ("1926-02-10", "1926-02-10 lies before 1990"),
        ("3/4/2024", "can be 2024-04-03 or 2024-03-04: say whether day or month comes first"),
        ("yesterday", "\"yesterday\" is no date"),
        ("10 Feb", "is no date"),
        ("", "There is no date"),
        ("31.11.2025", "on no calendar"),
    ] {
        let told = asked(cell);
        assert!(told.starts_with("2 ? Date: ") && told.contains(why), "{cell}: {told}");
    }
    assert_eq!(asked("13/02/2025"), "2 2025-02-13 F03 1731 g");
    assert_eq!(asked("02/13/2025"), "2 2025-02-13 F03 1731 g");
    assert_eq!(asked("4/4/24"), "2 2024-04-04 F03 1731 g");
    // The first of December is still to come, so only one reading is possible.
    assert_eq!(asked("1/12/2026"), "2 2026-01-12 F03 1731 g");
    assert_eq!(asked("12/1/2026"), "2 2026-01-12 F03 1731 g");
}

#[test]
fn the_whole_column_decides_then_the_folder() {
    assert_eq!(
        weights("3/4/2024,F03,1731\n25/4/2024,F03,1741\n"),
        "2 2024-04-03 F03 1731 g\n3 2024-04-25 F03 1741 g"
    );
    assert_eq!(
        weights("3/4/2024,F03,1731\n4/25/2024,F03,1741\n"),
        "2 2024-03-04 F03 1731 g\n3 2024-04-25 F03 1741 g"
    );
    let mixed = weights("3/4/2024,F03,1731\n25/4/2024,F03,1741\n4/25/2024,F03,1751\n");
    assert!(
        mixed.contains("2 ? Date")
            && mixed.contains("3 2024-04-25")
            && mixed.contains("4 2024-04-25"),
        "{mixed}"
    );
    let body: String = (13..26).map(|d| format!("{d}/4/2024,F03,1731\n")).collect();
    let slip = weights(&format!("{body}4/25/2024,F03,1751\n"));
    assert!(slip.contains("15 ? Date: \"4/25/2024\" does not fit this column, which has the day first; with day and month swapped it would be 2024-04-25"), "{slip}");

    let open = file("Date,Animal,g\n3/4/2024,F03,1731\n");
    let plain = FileIn { name: "b".into(), ..file("Night,Male,Female\n25/12/2024,M01,F03\n") };
    let both = read(&[open.clone(), plain], &hints());
    assert_eq!(lines(&both.sheets[0]), "weights\n2 2024-04-03 F03 1731 g");
    assert_eq!(both.sheets[0].columns[0].why, "Like the dates of the other sheets.");

    let mut said = hints();
    said.general.dates = Some(DateOrder::Mdy);
    assert_eq!(lines(&read(&[open], &said).sheets[0]), "weights\n2 2024-03-04 F03 1731 g");
}
