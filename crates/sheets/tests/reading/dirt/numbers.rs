//! Numbers, units, limits.

use super::{is, weights};

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
