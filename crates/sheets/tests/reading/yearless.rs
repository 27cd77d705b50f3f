//! Grids whose dates across have no year.

use crate::told::{file, hints, lines, sheet};
use sheets::kind::SheetKind;
use sheets::meaning::Meaning;
use sheets::read::read;
use sheets::sheet::FileHints;

fn remark(text: &str) -> (String, String) {
    let read = sheet(read(&[file(text)], &hints()));
    assert!(read.grid, "{read:?}");
    (lines(&read), read.remarks.join(" "))
}

#[test]
fn the_newest_run_before_today_is_taken_and_said() {
    let (rows, said) = remark("Snake;12 Nov;10 Dec;3 Feb\nF01;1900;;2000\n");
    assert_eq!(rows, "weights\n2 2025-11-12 F01 1900 g\n2 2026-02-03 F01 2000 g");
    assert!(said.contains("2025-11-12 to 2026-02-03") && said.contains("give the year"), "{said}");
}

#[test]
fn numbers_show_their_order_like_other_dates() {
    let (rows, _) = remark("Snake,02/10,01/27,01/13\nF01,1900,1910,1920\n");
    assert!(rows.contains("2026-02-10 F01 1900") && rows.contains("2026-01-13 F01 1920"), "{rows}");
    let (rows, _) = remark("Snake;3.2.;27.1.;13.1.\nF01;1900;1910;1920\n");
    assert!(rows.contains("2026-02-03 F01 1900") && rows.contains("2026-01-13 F01 1920"), "{rows}");
    let (rows, said) = remark("Snake,02/03,02/04,02/05\nF01,1900,1910,1920\n");
    assert!(rows.contains("? 02/03") && said.contains("day or month first"), "{rows} {said}");
    // Another sheet of the folder decides it.
    let both = [
        file("Snake,02/03,02/04,02/05\nF01,1900,1910,1920\n"),
        file("Date,Animal,g\n15/01/2026,F01,1800\n"),
    ];
    let read = read(&both, &hints());
    assert!(lines(&read.sheets[0]).contains("2025-03-02 F01 1900"), "{}", lines(&read.sheets[0]));
}

#[test]
fn a_year_above_the_table_decides_where_it_leaves_one_reading() {
    let (rows, said) = remark("Weights 2019,,,\nSnake,3 Mar,10 Mar,17 Mar\nF01,1900,1910,1920\n");
    assert!(
        rows.contains("2019-03-17 F01 1920") && said.contains("2019 stands above"),
        "{rows} {said}"
    );
    let (rows, said) = remark("Weights 2019,,,\nSnake,3 Dec,10 Dec,7 Jan\nF01,1900,1910,1920\n");
    assert!(rows.contains("? 3 Dec") && said.contains("first or of the last"), "{rows} {said}");
}

#[test]
fn a_year_by_hand_goes_before_everything() {
    let mut told = hints();
    told.general.year = Some(2020);
    let sheet = sheet(read(&[file("2023,,\nSnake,3 Dec,7 Jan\nF01,1900,1910\n")], &told));
    assert!(lines(&sheet).contains("2021-01-07 F01 1910"), "{}", lines(&sheet));
}

#[test]
fn columns_are_told_by_place_before_heading_and_the_keeper_before_the_cells() {
    let mut told = hints();
    let columns = [(0, Meaning::Date), (1, Meaning::Animal), (2, Meaning::Weight)].into();
    let own = FileHints { kind: Some(SheetKind::Weights), columns, ..FileHints::default() };
    told.files.insert("some.csv table 1".into(), own);
    let sheet = sheet(read(&[file("2026-01-05,F01,1900,x\n2026-01-06,F02,2000,y\n")], &told));
    let rows = lines(&sheet);
    assert!(rows.contains("1 2026-01-05 F01 1900 g") && rows.contains("note <x>"), "{rows}");
}

#[test]
fn every_kind_and_meaning_is_in_the_docs() {
    let docs = include_str!("../../../../docs/import.md");
    for kind in SheetKind::ALL {
        assert!(docs.contains(&format!("`{kind}`")), "{kind}");
    }
    for meaning in Meaning::ALL {
        assert!(docs.contains(&format!("`{meaning}`")), "{meaning}");
    }
}
