//! Dirt in feedings, weights and follicle checks.

use super::dirt::Dirt;
use super::dirt::Plant::Row;
use super::dirt::Said::{Doubt, Held, Nothing};

const FEEDING: &str = "feeding.csv";
const FOLLICLES: &str = "follicles.csv";
const WEIGHTS: &str = "weights.csv";

pub(super) const DIRT: &[Dirt] = &[
    Dirt {
        name: "a feeding written twice",
        plants: &[
            Row(FEEDING, "2025-10-01,Q01,small rat,1,yes", Nothing),
            Row(FEEDING, "2025-10-01,Q01,small rat,1,yes", Doubt),
        ],
    },
    Dirt {
        name: "a day past the end of its month",
        plants: &[Row(WEIGHTS, "2026-02-30,Q01,1500", Held)],
    },
    Dirt {
        name: "swapped day and month",
        plants: &[Row(FEEDING, "2025-25-10,Q01,small rat,1,yes", Held)],
    },
    Dirt {
        name: "a letter O for a zero",
        plants: &[Row(FEEDING, "2025-10-03,Q1O,small rat,1,yes", Held)],
    },
    Dirt { name: "a small l for a one", plants: &[Row(WEIGHTS, "2025-10-03,Q0l,1500", Held)] },
    Dirt {
        name: "a weight no animal has",
        plants: &[Row(WEIGHTS, "2025-10-04,Q01,\"9,250\"", Held)],
    },
    Dirt {
        name: "grams without their point",
        plants: &[Row(WEIGHTS, "2025-10-05,Q01,15005", Held)],
    },
    Dirt { name: "a weight below zero", plants: &[Row(WEIGHTS, "2025-10-06,Q01,-1500", Held)] },
    Dirt { name: "a weight of zero", plants: &[Row(WEIGHTS, "2025-10-07,Q01,0", Held)] },
    Dirt { name: "a word for a weight", plants: &[Row(WEIGHTS, "2025-10-08,Q01,heavy", Held)] },
    Dirt {
        name: "one day with two weights",
        plants: &[
            Row(WEIGHTS, "2025-10-09,Q02,1500", Nothing),
            Row(WEIGHTS, "2025-10-09,Q02,1510", Held),
        ],
    },
    Dirt {
        name: "a weight with a digit lost",
        plants: &[
            Row(WEIGHTS, "2025-10-09,Q07,1500", Nothing),
            Row(WEIGHTS, "2025-10-20,Q07,150", Doubt),
        ],
    },
    Dirt {
        name: "a weight with its unit",
        plants: &[Row(WEIGHTS, "2025-10-21,Q08,1500 g", Nothing)],
    },
    Dirt {
        name: "a fact before hatching",
        plants: &[Row(FEEDING, "2017-10-01,Q01,small rat,1,yes", Doubt)],
    },
    Dirt { name: "a day to come", plants: &[Row(FEEDING, "2062-10-01,Q01,small rat,1,yes", Held)] },
    Dirt { name: "the year 1025", plants: &[Row(FEEDING, "1025-10-01,Q01,small rat,1,yes", Held)] },
    Dirt {
        name: "an unknown word for eaten",
        plants: &[Row(FEEDING, "2025-10-10,Q01,small rat,1,purple", Held)],
    },
    Dirt {
        name: "other words for eaten",
        plants: &[
            Row(FEEDING, "2025-10-11,Q01,small rat,1,TRUE", Nothing),
            Row(FEEDING, "2025-10-12,Q01,small rat,1,Nope", Nothing),
            Row(FEEDING, "2025-10-13,Q01,small rat,1,took it", Nothing),
        ],
    },
    Dirt { name: "no animal", plants: &[Row(FEEDING, "2025-10-14,,small rat,1,yes", Held)] },
    Dirt { name: "no date", plants: &[Row(FEEDING, ",Q01,small rat,1,yes", Held)] },
    Dirt { name: "no weight", plants: &[Row(WEIGHTS, "2025-10-15,Q01,", Held)] },
    Dirt {
        name: "blanks around cells",
        plants: &[Row(FEEDING, " 2025-10-16 , Q01  ,  small rat,1 , yes ", Nothing)],
    },
    Dirt {
        name: "a code in small letters",
        plants: &[Row(FEEDING, "2025-10-17,q01,small rat,1,yes", Nothing)],
    },
    Dirt { name: "half a rat", plants: &[Row(FEEDING, "2025-10-18,Q01,small rat,0.5,yes", Held)] },
    Dirt {
        name: "a male in a follicle check",
        plants: &[Row(FOLLICLES, "2025-11-01,Z01,scan,14.0", Doubt)],
    },
    Dirt {
        name: "millimetres without their point",
        plants: &[Row(FOLLICLES, "2025-11-02,Q01,scan,185", Held)],
    },
    Dirt {
        name: "an unknown word for what was felt",
        plants: &[Row(FOLLICLES, "2025-11-03,Q01,felt,plum", Held)],
    },
    Dirt { name: "a word for a scan", plants: &[Row(FOLLICLES, "2025-11-04,Q01,scan,pea", Held)] },
    Dirt {
        name: "one day with two scans",
        plants: &[
            Row(FOLLICLES, "2025-11-05,Q02,scan,14.0", Nothing),
            Row(FOLLICLES, "2025-11-05,Q02,scan,19.0", Held),
        ],
    },
    Dirt {
        name: "a follicle below zero",
        plants: &[Row(FOLLICLES, "2025-11-06,Q01,scan,-12.0", Held)],
    },
];
