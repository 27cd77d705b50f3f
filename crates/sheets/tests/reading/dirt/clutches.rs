//! Clutches, hatchlings and plans.

use super::is;

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
            "2 F01 either M04 first 2\n3 F02 either Clown second 1\n4 ? male: No column of this sheet was recognised as male or gene wanted for her: say which one it is, or what it is in all these rows.\n5 ? Choice: \"third\" is no choice: write first or second.",
        ),
        (
            "pairs without nights are plans",
            "Male,Female\nM04,F01\nM05,F02\n",
            "2 F01 M04 first 1\n3 F02 M05 first 1",
        ),
    ]);
}
