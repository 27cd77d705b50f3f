//! Sheets whose headings are renamed, reordered, dropped and abbreviated are still what they are.

use proptest::prelude::*;
use sheets::heading::VARIANTS;
use sheets::kind::SheetKind;
use sheets::meaning::Meaning::{self, *};
use sheets::read::read;

use crate::told::{file, hints};

/// A sheet: its kind, what its columns mean, two rows, and which columns it can do without.
struct Known {
    kind: SheetKind,
    columns: &'static [Meaning],
    rows: [&'static [&'static str]; 2],
    spare: &'static [usize],
}

const KNOWN: &[Known] = &[
    Known {
        kind: SheetKind::Animals,
        columns: &[Animal, Name, Sex, Hatched, Genes, Sire, Dam, Weight, Tub],
        rows: [
            &["F23", "Nettle", "0.1", "2021-07-04", "Enchi", "M08", "F22", "2096", "R2-03"],
            &["M09", "Campion", "1.0", "2021-06-29", "Mojave", "M03", "F14", "993", "R3-05"],
        ],
        spare: &[1, 3, 5, 6, 7, 8],
    },
    Known {
        kind: SheetKind::Weights,
        columns: &[Date, Animal, Weight],
        rows: [&["2020-04-01", "F08", "1734"], &["2020-04-04", "M07", "928"]],
        spare: &[],
    },
    Known {
        kind: SheetKind::Feedings,
        columns: &[Date, Animal, Prey, Count, Taken],
        rows: [
            &["2020-03-05", "M05", "small rat", "1", "yes"],
            &["2020-03-06", "F10", "rat", "2", "refused"],
        ],
        spare: &[2, 3],
    },
    Known {
        kind: SheetKind::Checks,
        columns: &[Date, Animal, How, Size],
        rows: [&["2020-11-08", "F07", "scan", "16.0"], &["2020-11-13", "F06", "felt", "pea"]],
        spare: &[2],
    },
    Known {
        kind: SheetKind::Nights,
        columns: &[Night, Male, Female, Lock],
        rows: [&["2020-11-04", "M01", "F10", ""], &["2020-11-06", "M04", "F07", "lock"]],
        spare: &[3],
    },
    Known {
        kind: SheetKind::Clutches,
        columns: &[Female, Male, Ovulation, PrelayShed, Laid, Eggs, Slugs, HatchedOn, Hatchlings],
        rows: [
            &["F10", "M01", "2021-01-24", "2021-02-11", "2021-03-11", "7", "2", "2021-05-09", "4"],
            &["F07", "M04", "2021-01-26", "2021-02-16", "2021-03-21", "4", "0", "2021-05-19", "3"],
        ],
        spare: &[1, 2, 3, 6, 7, 8],
    },
    Known {
        kind: SheetKind::Hatchlings,
        columns: &[Date, Clutch, Hatchling, Dam, Sire, Sex, Look, Weight, Kept],
        rows: [
            &["2021-05-09", "C21-01", "C21-01-1", "F10", "M01", "0.1", "normal", "66", ""],
            &[
                "2021-07-04",
                "C21-03",
                "C21-03-2",
                "F22",
                "M08",
                "0.1",
                "enchi",
                "59",
                "kept as F23",
            ],
        ],
        spare: &[3, 4, 5, 7],
    },
    Known {
        kind: SheetKind::Temperatures,
        columns: &[Date, Time, Place, Temperature, ReadOrSet, Humidity],
        rows: [
            &["2021-05-09", "08:30", "box 1", "31.2 °C", "read", "85"],
            &["2021-05-10", "19:00", "box 1", "31.5 °C", "set", ""],
        ],
        spare: &[1, 4, 5],
    },
];

fn variants(meaning: Meaning) -> &'static [&'static str] {
    VARIANTS.iter().find(|(m, _)| *m == meaning).map_or(&[], |(_, list)| list)
}

/// Units in a heading change the reading of its numbers, and that is right.
fn keeps_units(phrase: &str) -> bool {
    !phrase.split(' ').any(|w| matches!(w, "kg" | "oz" | "cm"))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]
    #[test]
    fn renamed_reordered_dropped(
        which in 0usize..8,
        seed in prop::collection::vec(any::<prop::sample::Index>(), 9),
        order in Just((0..9usize).collect::<Vec<_>>()).prop_shuffle(),
        drop in prop::collection::vec(prop::bool::weighted(0.3), 9),
        capitals in any::<bool>(),
    ) {
        let known = &KNOWN[which];
        let kept: Vec<usize> = order
            .into_iter()
            .filter(|at| *at < known.columns.len() && !(drop[*at] && known.spare.contains(at)))
            .collect();
        let names: Vec<String> = kept
            .iter()
            .map(|at| {
                let list: Vec<&str> =
                    variants(known.columns[*at]).iter().copied().filter(|p| keeps_units(p)).collect();
                let name = list[seed[*at].index(list.len())];
                if capitals { name.to_uppercase() } else { name.to_owned() }
            })
            .collect();
        let row = |cells: &[&str]| kept.iter().map(|at| cells[*at]).collect::<Vec<_>>().join(",");
        let body = format!("{}\n{}\n", row(known.rows[0]), row(known.rows[1]));
        let plain: Vec<&str> = kept.iter().map(|at| variants(known.columns[*at])[0]).collect();
        let renamed = read(&[file(&format!("{}\n{body}", names.join(",")))], &hints());
        let usual = read(&[file(&format!("{}\n{body}", plain.join(",")))], &hints());
        prop_assert_eq!(renamed.sheets[0].kind, Some(known.kind), "{:?}", names);
        prop_assert_eq!(usual.sheets[0].kind, Some(known.kind), "{:?}", plain);
        for (a, b) in renamed.sheets[0].rows.iter().zip(&usual.sheets[0].rows) {
            prop_assert_eq!(&a.data, &b.data, "{:?}", names);
            prop_assert!(a.problems.is_empty(), "{:?} {:?}", names, a.problems);
        }
    }
}
