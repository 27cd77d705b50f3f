//! Dirt in clutches.

use super::dirt::Dirt;
use super::dirt::Plant::{Cell, Row};
use super::dirt::Said::{Doubt, Held, Nothing};

const CLUTCHES: &str = "clutches.csv";

pub(super) const DIRT: &[Dirt] = &[
    Dirt {
        name: "a male that lays",
        plants: &[Row(CLUTCHES, "Z03,Z01,2025-01-10,2025-01-31,2025-03-01,6,1,,", Doubt)],
    },
    Dirt {
        name: "slugs counted outside eggs",
        plants: &[Row(CLUTCHES, "Q08,Z01,2025-01-11,2025-02-01,2025-03-02,3,5,,", Doubt)],
    },
    Dirt {
        name: "more hatchlings than eggs",
        plants: &[Row(
            CLUTCHES,
            "Q09,Z01,2025-01-12,2025-02-02,2025-03-03,4,0,2025-05-01,6",
            Doubt,
        )],
    },
    Dirt {
        name: "hatched before laying",
        plants: &[Row(
            CLUTCHES,
            "Q10,Z01,2025-01-13,2025-02-03,2025-03-04,6,0,2025-02-20,5",
            Doubt,
        )],
    },
    Dirt {
        name: "ovulation after laying",
        plants: &[Row(CLUTCHES, "Q11,Z01,2025-03-20,,2025-03-05,6,0,,", Held)],
    },
    Dirt {
        name: "two clutches too close",
        plants: &[
            Row(CLUTCHES, "Q12,Z01,2025-01-14,,2025-03-06,6,0,,", Nothing),
            Row(CLUTCHES, "Q12,Z01,,,2025-04-20,5,0,,", Doubt),
        ],
    },
    Dirt {
        name: "day and month of a laying swapped",
        plants: &[Row(
            CLUTCHES,
            "Q13,Z01,2025-01-15,2025-02-05,2025-07-03,6,0,2025-05-03,5",
            Doubt,
        )],
    },
    Dirt {
        name: "more eggs than any clutch",
        plants: &[Row(CLUTCHES, "Q13,Z01,2024-01-15,2024-02-05,2024-03-07,77,0,,", Held)],
    },
    Dirt {
        name: "a broken egg in the count",
        plants: &[Row(CLUTCHES, "Q13,Z01,2023-01-15,2023-02-05,2023-03-07,6.5,0,,", Held)],
    },
    Dirt {
        name: "a clutch of nobody",
        plants: &[Row(CLUTCHES, ",Z01,2023-01-15,2023-02-05,2023-03-08,6,0,,", Held)],
    },
    Dirt {
        name: "a clutch of a sire nobody knows",
        plants: &[Row(CLUTCHES, "Q13,Z77,2022-01-15,2022-02-05,2022-03-07,6,0,,", Held)],
    },
    Dirt {
        name: "another count than the hatchlings listed",
        plants: &[Cell {
            file: CLUTCHES,
            row: "F23,M09,2025-04-04",
            from: "6",
            to: "5",
            said: Doubt,
        }],
    },
];
