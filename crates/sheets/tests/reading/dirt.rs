//! Dirty sheets by hand: what each says, or the sentence that asks.

use crate::told::{file, hints, lines, told};
use records::words::Lock;
use sheets::kind::SheetKind;
use sheets::meaning::Meaning;
use sheets::read::read;
use sheets::sheet::{DateOrder, FileHints, FileIn, Hints};

/// The rows only, without the kind.
fn rows(text: &str) -> String {
    told(text).split_once('\n').map(|(_, rows)| rows.to_owned()).unwrap_or_default()
}

fn weights(body: &str) -> String {
    rows(&format!("Date,Animal,g\n{body}"))
}

fn is(cases: &[(&str, &str, &str)]) {
    for (name, text, wanted) in cases {
        assert_eq!(rows(text), *wanted, "{name}");
    }
}

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
fn numbers() {
    for (cell, wanted) in [
        ("\"1,731\"", "1731 g"),
        ("1.731", "1731 g"),
        ("1731g", "1731 g"),
        ("1731 grams", "1731 g"),
        ("1.731 kg", "1731 g"),
        ("\"1,731 kg\"", "1731 g"),
        ("1'731", "1731 g"),
        ("1 731", "1731 g"),
        ("~1731", "1731 g"),
        ("\"66,5\"", "66.5 g"),
        ("66.5", "66.5 g"),
        ("1731.0", "1731 g"),
        ("61 oz", "1729.3 g"),
        ("3.8 lb", "1723.7 g"),
        ("\"1.731,5\"", "1731.5 g"),
        ("\"1,731.5\"", "1731.5 g"),
        ("1731.", "1731 g"),
    ] {
        assert_eq!(
            weights(&format!("2026-02-10,F03,{cell}\n")),
            format!("2 2026-02-10 F03 {wanted}"),
            "{cell}"
        );
    }
    for (cell, why) in [
        ("8858", "8,858 g is no possible"),
        ("\"8,858\"", "8,858 g is no possible"),
        ("8.858", "8.86 g is no possible"),
        ("17", "17 g is no possible"),
        ("0", "0 g is no possible"),
        ("-1731", "-1,731 g is no possible"),
        ("heavy", "\"heavy\" is no weight"),
        ("1e9", "1,000,000,000 g"),
        ("22 mm", "mm is no unit"),
        ("1.2.3", "is no weight"),
        ("", "There is no weight"),
        ("#REF!", "is no weight"),
        ("17310", "a digit too many"),
    ] {
        let told = weights(&format!("2026-02-10,F03,{cell}\n"));
        assert!(told.starts_with("2 ? g: ") && told.contains(why), "{cell}: {told}");
    }
    is(&[
        (
            "kilograms nobody named",
            "Date,Animal,Weight\n2026-02-10,F03,1.7\n2026-02-10,F04,1.65\n2026-02-10,F05,2.1\n",
            "2 2026-02-10 F03 1700 g\n3 2026-02-10 F04 1650 g\n4 2026-02-10 F05 2100 g",
        ),
        (
            "centimetres in the heading",
            "Date,Female,Size (cm)\n2026-02-10,F03,2.2\n2026-02-10,F04,\"1,65\"\n",
            "2 2026-02-10 F03 22 mm\n3 2026-02-10 F04 16.5 mm",
        ),
        (
            "centimetres nobody named",
            "Date,Female,Follicle\n2026-02-10,F03,2.2\n2026-02-10,F04,1.65\n2026-02-10,F05,3.1\n",
            "2 2026-02-10 F03 22 mm\n3 2026-02-10 F04 16.5 mm\n4 2026-02-10 F05 31 mm",
        ),
        (
            "eggs",
            "Female,Male,Laid,Eggs,Slugs\nF10,M01,2025-03-11,80,0\nF11,M01,2025-03-12,7.5,0\n",
            "2 ? Eggs: 80 is no possible number of eggs (0 to 20). Look it up and correct it.\n\
             3 ? Eggs: 7.5 is no number of eggs: write a whole number.",
        ),
        (
            "slugs outside the eggs are another's business",
            "Female,Male,Laid,Eggs,Slugs\nF10,M01,2025-03-11,2,5\n",
            "2 _ F10 M01 _ _ 2025-03-11 _ 2/5/_ _g",
        ),
        (
            "prey",
            "Date,Animal,Prey,Qty,Ate\n2026-02-10,F03,rat,0,yes\n",
            "2 ? Qty: 0 is no possible number of prey (1 to 20). Look it up and correct it.",
        ),
    ]);
}

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

#[test]
fn animals_and_their_notes() {
    let animal =
        |cells: &str| rows(&format!("ID,Sex,Hatch date,Genes,Sire,Dam,Tub,Notes\n{cells}\n"));
    for (sex, word) in [
        ("1.0", "male"),
        ("0.1", "female"),
        ("0.0.1", "_"),
        ("m", "male"),
        ("Female", "female"),
        ("♂", "male"),
        ("", "_"),
        ("?", "_"),
        ("\"0,1\"", "female"),
    ] {
        assert_eq!(
            animal(&format!("F03,{sex},,,,,,")),
            format!("2 F03 _ {word} _ [_] _x_ _g _"),
            "{sex}"
        );
    }
    assert!(animal("F03,girlish,,,,,,").contains("? Sex: \"girlish\" is no sex: write 1.0 (male)"));
    for (note, wanted) in [
        ("sold 2022-07-16", " sold 2022-07-16 to _"),
        ("Sold to Kim 16 Jul 2022", " sold 2022-07-16 to Kim"),
        ("died 3/13/24", " died 2024-03-13 to _"),
        ("re-tagged M25 2024-03-01", " became M25 2024-03-01"),
        ("formerly M09 until 2024-03-01", " was M09 2024-03-01"),
        ("on loan to Sam", " lent _ to Sam"),
        ("nearly sold in 2022", ""),
    ] {
        assert_eq!(
            animal(&format!("F03,0.1,,,,,,{note}")),
            format!("2 F03 _ female _ [_] _x_ _g _{wanted}"),
            "{note}"
        );
    }
    assert!(animal("F03,0.1,,,,,,died 3/4/24").contains("can be 2024-04-03 or 2024-03-04"));
    assert_eq!(animal("F03,0.1,1995-06-01,,?,unknown,,"), "2 F03 _ female 1995-06-01 [_] _x_ _g _");
    assert!(animal("F03,0.1,1895-06-01,,,,,").contains("lies before 1956"));
    assert!(animal(",0.1,2020-06-01,,,,,").contains("There is no code of the animal"));
    is(&[
        (
            "state and date in columns of their own",
            "ID,Sex,Status,Date sold\nF03,0.1,sold,2022-07-16\nF04,0.1,active,\n",
            "2 F03 _ female _ [_] _x_ _g _ sold 2022-07-16 to _\n3 F04 _ female _ [_] _x_ _g _",
        ),
        (
            "rack and tub apart",
            "ID,Sex,Rack,Tub\nF03,0.1,R1,03\n",
            "2 F03 _ female _ [_] _x_ _g R1-03",
        ),
        (
            "named only",
            "Name,Sex,Morph\nZircon,0.1,Clown\n",
            "2 Zircon _ female _ [Clown] _x_ _g _",
        ),
        (
            "lines between racks",
            "ID,Sex,Morph\nRack 1,,\nF03,0.1,Clown\nF04,,\nR2,,\n",
            "3 F03 _ female _ [Clown] _x_ _g _\n4 F04 _ _ _ [_] _x_ _g _\n2 aside\n5 aside",
        ),
    ]);
}

#[test]
fn answers_locks_and_felt_words() {
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
    ] {
        assert_eq!(check(how, size), format!("2 2026-02-10 F03 {wanted}"), "{how} {size}");
    }
    for (how, size, why) in [
        ("felt", "marble", "none of the classes"),
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

#[test]
fn clutches_hatchlings_and_plans() {
    is(&[
        (
            "laid as a count",
            "Female,Male,Ovulation,Laid,Hatched\nF10,M01,2025-01-24,7,5\nF11,M02,2025-01-25,6,4\n",
            "2 _ F10 M01 2025-01-24 _ _ _ 7/_/5 _g\n3 _ F11 M02 2025-01-25 _ _ _ 6/_/4 _g",
        ),
        (
            "dam and sire",
            "Clutch ID,Dam,Sire,Date laid,# eggs,Bad eggs,Clutch weight\nC25-01,F10,M01,2025-03-11,7,1,612\n",
            "2 C25-01 F10 M01 _ _ 2025-03-11 _ 7/1/_ 612g",
        ),
        (
            "laid before ovulation",
            "Female,Male,Ovulation,Laid\nF10,M01,2025-03-24,2025-03-11\n",
            "2 ? Laid: The laying (2025-03-11) comes before the ovulation (2025-03-24): correct one of the dates.",
        ),
        (
            "hatchlings by other names",
            "Born,From clutch,Baby ID,Mother,Father,Gender,Visual,Hatch weight,Holdback\n2025-07-04,C25-03,B1,F22,M08,?,pastel,59,yes\n2025-07-04,C25-03,B2,F22,M08,f,pastel,61,F40\n",
            "2 2025-07-04 C25-03 B1 M08xF22 _ [pastel] 59g kept _\n3 2025-07-04 C25-03 B2 M08xF22 female [pastel] 61g kept F40",
        ),
        (
            "a hatchling as heavy as its mother",
            "Date,Clutch,Hatchling,Weight\n2025-07-04,C25-03,B1,1731\n",
            "2 ? Weight: 1,731 g is no possible weight of a hatchling (20 to 250 g). Perhaps a digit too many, or a decimal point was lost. Look it up and correct it.",
        ),
        (
            "plans",
            "Female,Male or gene,Choice,Weight\nF01,M04,first,2\nF02,Clown,2nd,\nF03,,1,1\nF04,M05,third,1\n",
            "2 F01 either M04 first 2\n3 F02 either Clown second 1\n4 ? : No column of this sheet was recognised as male or gene wanted for her: say which one it is.\n5 ? Choice: \"third\" is no choice: write first or second.",
        ),
        (
            "pairs without nights are plans",
            "Male,Female\nM04,F01\nM05,F02\n",
            "2 F01 M04 first 1\n3 F02 M05 first 1",
        ),
    ]);
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
