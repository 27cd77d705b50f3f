//! Animals and their notes.

use super::{is, rows};

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
