//! Separators, titles, totals, grids, headings mapped by hand.

use super::is;
use crate::told::{file, hints, lines, told};
use sheets::kind::SheetKind;
use sheets::meaning::Meaning;
use sheets::read::read;
use sheets::sheet::{FileHints, Hints};

#[test]
fn separators_encodings_and_frames() {
    is(&[
        ("semicolons", "Date;Animal;g\n2026-02-10;F03;1731\n", "2 2026-02-10 F03 1731 g"),
        ("tabs", "Date\tAnimal\tg\n2026-02-10\tF03\t1731\n", "2 2026-02-10 F03 1731 g"),
        ("bars", "Date|Animal|g\n2026-02-10|F03|1731\n", "2 2026-02-10 F03 1731 g"),
        ("sep line", "sep=;\nDate;Animal;g\n2026-02-10;F03;1731\n", "3 2026-02-10 F03 1731 g"),
        ("mark", "\u{feff}Date,Animal,g\n2026-02-10,F03,1731\n", "2 2026-02-10 F03 1731 g"),
        ("cr only", "Date,Animal,g\r2026-02-10,F03,1731\r", "2 2026-02-10 F03 1731 g"),
        (
            "blanks round cells",
            " Date , Animal , g \n 2026-02-10 ,  F03 , 1731 \n",
            "2 2026-02-10 F03 1731 g",
        ),
        (
            "empty lines",
            "\n\nDate,Animal,g\n\n,,\n2026-02-10,F03,1731\n\n",
            "6 2026-02-10 F03 1731 g",
        ),
        ("no line end", "Date,Animal,g\n2026-02-10,F03,1731", "2 2026-02-10 F03 1731 g"),
        (
            "trailing commas",
            "Date,Animal,g,,,\n2026-02-10,F03,1731,,,\n",
            "2 2026-02-10 F03 1731 g",
        ),
        (
            "titles and totals",
            "My weights,,\nRoom 1,,\nDate,Animal,g\n2026-02-10,F03,1731\nTotal,,1731\nprinted today,,\n",
            "4 2026-02-10 F03 1731 g\n1 aside\n2 aside\n5 aside\n6 aside",
        ),
        (
            "headings repeated on each page",
            "Date,Animal,g\n2026-02-10,F03,1731\nDate,Animal,g\n2026-02-10,F04,1732\n",
            "2 2026-02-10 F03 1731 g\n4 2026-02-10 F04 1732 g\n3 aside",
        ),
        (
            "a line break in a cell",
            "Date,Animal,g,Notes\n2026-02-10,F03,1731,\"shed\ntoday\"\n2026-02-10,F04,1732,\n",
            "2 2026-02-10 F03 1731 g note <shed\ntoday>\n4 2026-02-10 F04 1732 g",
        ),
        (
            "unknown columns are notes",
            "Date,Animal,g,Mood,\n2026-02-10,F03,1731,grumpy,bit me\n",
            "2 2026-02-10 F03 1731 g note <Mood: grumpy> note <bit me>",
        ),
        (
            "known columns that only repeat",
            "Date,Animal,Name,Sex,g\n2026-02-10,F03,Zircon,0.1,1731\n",
            "2 2026-02-10 F03 1731 g",
        ),
        (
            "the same heading twice",
            "Date,Animal,g,g\n2026-02-10,F03,1731,1700\n",
            "2 2026-02-10 F03 1731 g note <g: 1700>",
        ),
        (
            "no headings",
            "2026-02-10,F03,1731\n2026-02-10,M04,812\n2026-02-09,F05,1700\n",
            "1 2026-02-10 F03 1731 g\n2 2026-02-10 M04 812 g\n3 2026-02-09 F05 1700 g",
        ),
        (
            "an unclosed quotation mark",
            "Date,Animal,g\n2026-02-10,F03,\"1731\n2026-02-10,F04,1732\n",
            "2 ? g: \"\"1731\" is no weight of a ball python: write it as a number. ! : A quotation mark opens in this \
             line and never closes: delete it or close it, then import again.\n3 2026-02-10 F04 1732 g",
        ),
    ]);
}

#[test]
fn mapping_by_hand() {
    let text = "Tag und Zeit;Wer;Wieviel\n2026-02-10;F03;1731\n";
    let told = told(text);
    assert!(told.starts_with("not recognised\n"), "{told}");
    let mut said = hints();
    let headings =
        [("tag und zeit", Meaning::Date), ("WER", Meaning::Animal), ("Wieviel", Meaning::Weight)];
    let headings = headings.into_iter().map(|(h, m)| (h.to_owned(), m)).collect();
    said.files.insert("some.csv".into(), FileHints { headings, ..FileHints::default() });
    assert_eq!(lines(&read(&[file(text)], &said).sheets[0]), "weights\n2 2026-02-10 F03 1731 g");
}

#[test]
fn two_tables_in_one_file() {
    let text =
        "Date,Animal,g\n2026-02-10,F03,1731\n\nNight,Male,Female,Lock\n2026-02-10,M01,F03,lock\n";
    let reading = read(&[file(text)], &Hints::default());
    assert_eq!(
        reading.sheets.iter().map(lines).collect::<Vec<_>>(),
        ["weights\n2 2026-02-10 F03 1731 g", "nights\n5 2026-02-10 M01 F03 seen"]
    );
}
#[test]
fn grids() {
    is(&[
        (
            "animals down, dates across",
            "Animal,2026-01-10,2026-02-10\nF03,1700,1731\nM04,,812\n",
            "2 2026-01-10 F03 1700 g\n2 2026-02-10 F03 1731 g\n3 2026-02-10 M04 812 g",
        ),
        (
            "no heading over the animals",
            ",10/01/2026,25/01/2026\nF03,\"1,700\",1731\nM05,,\n",
            "2 2026-01-10 F03 1700 g\n2 2026-01-25 F03 1731 g\n3 aside",
        ),
        (
            "dates down, animals across",
            "Date,F03,M04\n2026-01-10,1700,\n2026-02-10,1731,812\n",
            "2 2026-01-10 F03 1700 g\n3 2026-02-10 F03 1731 g\n3 2026-02-10 M04 812 g",
        ),
        (
            "meals",
            "Snake,2026-02-03,2026-02-10\nF03,ate,refused\nM04,2,small rat ate\nM05,yes,ate\n",
            "2 2026-02-03 F03 1 _ taken\n2 2026-02-10 F03 1 _ refused\n3 2026-02-03 M04 2 _ taken\n3 2026-02-10 M04 1 small rat taken\n4 2026-02-03 M05 1 _ taken\n4 2026-02-10 M05 1 _ taken",
        ),
        (
            "follicles",
            "Female,2026-01-10,2026-02-10\nF03,pea,16.5\nF04,nothing,hen egg\n",
            "2 2026-01-10 F03 felt pea (0)\n2 2026-02-10 F03 16.5 mm\n3 2026-01-10 F04 nothing felt\n3 2026-02-10 F04 felt hen egg (2)",
        ),
        (
            "one cell is impossible",
            "Animal,2026-01-10,2026-02-10\nF03,1700,8858\n",
            "2 2026-01-10 F03 1700 g\n2 ? 2026-02-10: 8,858 g is no possible weight of a ball python (20 to 6,000 g). Perhaps a digit too many, or a decimal point was lost. Look it up and correct it.",
        ),
    ]);
    let open = told("Animal,2026-01-10,2026-02-10\nF03,22,24\n");
    assert!(
        open.starts_with("not recognised\n2 ? : A grid whose cells can mean several things"),
        "{open}"
    );
    let mut said = hints();
    said.general.kind = Some(SheetKind::Checks);
    let sheet = &read(&[file("Animal,2026-01-10,2026-02-10\nF03,22,24\n")], &said).sheets[0];
    assert_eq!(lines(sheet), "follicle checks\n2 2026-01-10 F03 22 mm\n2 2026-02-10 F03 24 mm");
}
