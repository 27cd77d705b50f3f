//! Dirt in the lists of animals and of hatchlings.

use super::dirt::Plant::{Cell, Row};
use super::dirt::Said::{Doubt, Held, Nothing};
use super::dirt::{Dirt, Plant};

const ANIMALS: &str = "animals.csv";
const FEEDING: &str = "feeding.csv";
const HATCHLINGS: &str = "hatchlings.csv";
const PAIRINGS: &str = "pairings.csv";
const WEIGHTS: &str = "weights.csv";

const fn animal(row: &'static str) -> Plant {
    Row(ANIMALS, row, Nothing)
}

pub(super) const DIRT: &[Dirt] = &[
    Dirt {
        name: "animals for the other kinds",
        plants: &[
            animal("Q01,Anise,0.1,2018-06-01,pastel,,,,R9-01,"),
            animal("Q02,Basil,0.1,2018-06-02,enchi,,,,R9-02,"),
            animal("Q07,Dill,0.1,2018-06-07,mojave,,,,R9-07,"),
            animal("Q08,Elder,0.1,2018-06-08,normal,,,,R9-08,"),
            animal("Q09,Fescue,0.1,2018-06-09,normal,,,,R9-09,"),
            animal("Q10,Gorse,0.1,2018-06-10,normal,,,,R9-10,"),
            animal("Q11,Hemp,0.1,2018-06-11,normal,,,,R9-11,"),
            animal("Q12,Iris,0.1,2018-06-12,normal,,,,R9-12,"),
            animal("Q13,Kale,0.1,2018-06-13,normal,,,,R9-13,"),
            animal("Z01,Larch,1.0,2018-06-14,normal,,,,R9-14,"),
            animal("Z02,Maple,1.0,2018-06-15,normal,,,,R9-15,"),
            animal("Z03,Oak,1.0,2018-06-16,normal,,,,R9-16,"),
        ],
    },
    Dirt {
        name: "a re-tag in the notes, later rows under the new code",
        plants: &[
            animal("Q03,Birch,0.1,2018-06-03,pastel,,,,R9-03,re-tagged Q33 on 2024-05-01"),
            Row(FEEDING, "2023-05-01,Q03,small rat,1,yes", Nothing),
            Row(FEEDING, "2024-06-01,Q33,small rat,1,yes", Nothing),
            Row(WEIGHTS, "2024-06-02,Q33,1500", Nothing),
        ],
    },
    Dirt {
        name: "a row under the old code after the re-tag",
        plants: &[Row(FEEDING, "2024-07-01,Q03,small rat,1,yes", Held)],
    },
    Dirt {
        name: "a death in the notes, rows after it",
        plants: &[
            animal("Q04,Cedar,0.1,2018-06-04,pastel,,,,R9-04,died 2024-09-01"),
            Row(FEEDING, "2024-08-20,Q04,small rat,1,no", Nothing),
            Row(FEEDING, "2024-09-20,Q04,small rat,1,yes", Doubt),
            Row(WEIGHTS, "2024-10-01,Q04,1400", Doubt),
            Row(PAIRINGS, "2024-12-03,Z02,Q04,", Doubt),
        ],
    },
    Dirt {
        name: "a code given twice",
        plants: &[
            animal("Q05,Ash,0.1,2018-06-05,pastel,,,,R9-05,"),
            Row(ANIMALS, "Q05,Elm,0.1,2019-07-05,enchi,,,,R9-25,", Held),
        ],
    },
    Dirt {
        name: "a code given again after its bearer left",
        plants: &[
            animal("Q06,Fern,0.1,2016-06-06,pastel,,,,R9-06,sold 2022-03-01"),
            animal("Q06,Moss,0.1,2023-06-06,enchi,,,,R9-06,"),
            animal("Q23,Senna,0.1,2023-06-23,enchi,,,,R9-27,"),
            animal("Q23,Tansy,0.1,2016-06-23,pastel,,,,R9-27,sold 2022-03-01"),
            Row(FEEDING, "2021-05-05,Q23,small rat,1,yes", Nothing),
            Row(FEEDING, "2024-05-05,Q23,small rat,1,yes", Nothing),
            Row(FEEDING, "2021-05-05,Q06,small rat,1,yes", Nothing),
            Row(FEEDING, "2024-05-05,Q06,small rat,1,yes", Nothing),
        ],
    },
    Dirt {
        name: "an unknown sire",
        plants: &[Row(ANIMALS, "Q17,Quince,0.1,2023-06-17,pastel,Z99,Q01,,R9-20,", Held)],
    },
    Dirt {
        name: "an unknown word for the sex",
        plants: &[Row(ANIMALS, "Q18,Rue,2.3,2023-06-18,pastel,,,,R9-21,", Held)],
    },
    Dirt {
        name: "a hatch date to come",
        plants: &[Row(ANIMALS, "Q19,Sage,0.1,2093-06-19,pastel,,,,R9-22,", Held)],
    },
    Dirt {
        name: "other signs for the sex",
        plants: &[
            animal("Q20,Thyme,female,2018-06-20,pastel,,,,R9-23,"),
            animal("Q21,Yew,♂,2018-06-21,pastel,,,,R9-24,"),
            animal("Q22,Zinnia,unsexed,2018-06-22,pastel,,,,R9-26,"),
        ],
    },
    Dirt {
        name: "a hatchling's weight without its point",
        plants: &[Row(HATCHLINGS, "2025-08-03,C25-67,C25-67-7,F10,M03,1.0,enchi,640,", Held)],
    },
    Dirt {
        name: "a hatchling without a code",
        plants: &[Row(HATCHLINGS, "2025-08-03,C25-67,,F10,M03,1.0,enchi,64,", Held)],
    },
    Dirt {
        name: "another sex in the list than among the hatchlings",
        plants: &[Cell { file: ANIMALS, row: "M19,Linnet", from: "1.0", to: "0.1", said: Held }],
    },
    Dirt {
        name: "another hatch date in the list than among the hatchlings",
        plants: &[Cell {
            file: ANIMALS,
            row: "M18,Spinel",
            from: "2024-05-23",
            to: "2024-05-24",
            said: Held,
        }],
    },
    Dirt {
        name: "a female as sire",
        plants: &[Row(ANIMALS, "Q14,Nutmeg,0.1,2023-06-14,pastel,Q01,Q02,,R9-17,", Doubt)],
    },
    Dirt {
        name: "a male as dam",
        plants: &[Row(ANIMALS, "Q15,Orris,0.1,2023-06-15,pastel,Z01,Z02,,R9-18,", Doubt)],
    },
    Dirt {
        name: "a sire younger than its young",
        plants: &[Row(ANIMALS, "Q16,Poppy,0.1,2017-06-16,pastel,Z01,F10,,R9-19,", Doubt)],
    },
];
