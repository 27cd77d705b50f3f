//! Workbooks made by a general-purpose library; see files/README.md.

use crate::told::{hints, lines, sheet};
use sheets::read::read;
use sheets::sheet::{FileIn, Hints};

fn file(name: &str, bytes: &[u8]) -> FileIn {
    FileIn { name: name.to_owned(), bytes: bytes.to_vec() }
}

#[test]
fn every_worksheet_is_a_table_of_its_own() {
    let reading = read(&[file("room.xlsx", include_bytes!("files/room.xlsx"))], &hints());
    assert_eq!(reading.refused, []);
    let tabs: Vec<_> = reading.sheets.iter().map(|s| s.tab.as_deref().unwrap_or("")).collect();
    assert_eq!(tabs, ["Scale", "Food"]);
    assert_eq!(
        lines(&reading.sheets[0]),
        "weights\n2 2026-02-10 F03 1731 g\n3 2026-02-09 M04 812.5 g\n4 2026-02-08 F05 1999 g"
    );
    // openpyxl writes no value for a formula: the cell is empty until a spreadsheet program computes it.
    assert_eq!(
        lines(&reading.sheets[1]),
        "feedings\n2 2026-02-10 F03 1 small rat taken\n3 2026-02-10 M04 1 small rat refused"
    );
}

#[test]
fn days_may_count_from_1904() {
    let reading = read(&[file("from1904.xlsx", include_bytes!("files/from1904.xlsx"))], &hints());
    assert_eq!(lines(&sheet(reading)), "weights\n2 2026-02-10 F03 1731 g\n3 2026-02-10 M04 812 g");
}

#[test]
fn a_grid_with_a_title_and_totals() {
    let reading = read(&[file("grid.xlsx", include_bytes!("files/grid.xlsx"))], &hints());
    assert_eq!(
        lines(&sheet(reading)),
        "weights\n3 2026-01-10 F03 1700 g\n3 2026-02-10 F03 1731 g\n4 2026-02-10 M04 812 g\n1 aside\n5 aside"
    );
}

#[test]
fn damaged_workbooks_say_what_to_do() {
    let whole = include_bytes!("files/room.xlsx");
    for cut in [4, 30, whole.len() / 2, whole.len() - 1] {
        let reading = read(&[file("cut.xlsx", &whole[..cut])], &hints());
        assert!(reading.sheets.is_empty());
        assert!(reading.refused[0].why.contains("save it again"), "{:?}", reading.refused);
    }
    let old = read(&[file("old.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1....")], &Hints::default());
    assert!(old.refused[0].why.contains(".xlsx"));
}

#[test]
fn flipped_bytes_never_stop_the_program() {
    let whole = include_bytes!("files/grid.xlsx");
    for at in (0..whole.len()).step_by(7) {
        let mut bytes = whole.to_vec();
        bytes[at] ^= 0x55;
        let reading = read(&[file("flipped.xlsx", &bytes)], &hints());
        assert!(reading.sheets.len() + reading.refused.len() >= 1);
    }
}
