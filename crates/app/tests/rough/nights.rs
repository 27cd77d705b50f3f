//! Dirt in nights.

use super::dirt::Dirt;
use super::dirt::Plant::Row;
use super::dirt::Said::{Doubt, Held, Nothing};

const PAIRINGS: &str = "pairings.csv";

pub(super) const DIRT: &[Dirt] = &[
    Dirt {
        name: "two males in a night",
        plants: &[
            Row(PAIRINGS, "2025-11-03,Z01,Q01,", Nothing),
            Row(PAIRINGS, "2025-11-03,Z02,Q01,", Doubt),
        ],
    },
    Dirt {
        name: "a male with two females",
        plants: &[
            Row(PAIRINGS, "2025-11-05,Z01,Q01,", Nothing),
            Row(PAIRINGS, "2025-11-05,Z01,Q02,", Doubt),
        ],
    },
    Dirt {
        name: "male and female swapped",
        plants: &[Row(PAIRINGS, "2025-11-07,Q02,Z02,", Doubt)],
    },
    Dirt {
        name: "an unknown word for a lock",
        plants: &[Row(PAIRINGS, "2025-11-08,Z01,Q02,boing", Held)],
    },
    Dirt {
        name: "other words for a lock",
        plants: &[
            Row(PAIRINGS, "2025-11-09,Z01,Q02,LOCKED", Nothing),
            Row(PAIRINGS, "2025-11-10,Z01,Q02,maybe", Nothing),
            Row(PAIRINGS, "2025-11-11,Z01,Q02,didn't look", Nothing),
        ],
    },
    Dirt {
        name: "cells missing at the end of a row",
        plants: &[Row(PAIRINGS, "2025-11-12,Z01,Q02", Nothing)],
    },
    Dirt {
        name: "a cell too many",
        plants: &[Row(PAIRINGS, "2025-11-18,Z01,Q02,,warm night", Nothing)],
    },
    Dirt { name: "no male", plants: &[Row(PAIRINGS, "2025-11-13,,Q02,", Held)] },
    Dirt { name: "an unknown female", plants: &[Row(PAIRINGS, "2025-11-14,Z01,Q99,", Held)] },
    Dirt {
        name: "one night with two answers",
        plants: &[
            Row(PAIRINGS, "2025-11-16,Z02,Q07,lock", Nothing),
            Row(PAIRINGS, "2025-11-16,Z02,Q07,none", Held),
        ],
    },
    Dirt {
        name: "a night with nothing but its date",
        plants: &[Row(PAIRINGS, "2025-11-17,,,lock", Held)],
    },
];
