//! What our own export writes is read back equal, whatever it holds.

use proptest::option::of;
use proptest::prelude::*;
use records::RecordId;
use records::words::{Choice, EggsKept, Leaving, Lock, Meal, ReadingKind, Sex};
use sheets::clock::TimeOfDay;
use sheets::export;
use sheets::kind::SheetKind;
use sheets::read::read;
use sheets::rows::*;
use sheets::sheet::{FileIn, Hints};
use units::{Celsius, Day, Grams, Millimetres, Night, When};

fn day() -> impl Strategy<Value = Day> {
    (7_400i32..20_400).prop_map(Day::from_number)
}

fn code() -> impl Strategy<Value = String> {
    "[A-Z][0-9]{1,3}(-[0-9]{1,2})?"
}

/// Any text, formula signs, quotes and blanks at its ends included.
fn words() -> impl Strategy<Value = String> {
    "[ =+@'\"a-zA-Z-]{0,2}[ -~\n,;ä♀]{0,20}[a-z%][ ']{0,2}"
}

fn grams(least: i32, most: i32) -> impl Strategy<Value = Grams> {
    (least * 10..most * 10).prop_map(Grams::from_steps)
}

fn sex() -> impl Strategy<Value = Option<Sex>> {
    of(prop::sample::select(Sex::ALL))
}

fn animal() -> impl Strategy<Value = RowData> {
    let left = (prop::sample::select(Leaving::ALL), of(day()), of(words()))
        .prop_map(|(how, day, to)| Departure { how, day, to });
    let retag = prop_oneof![
        (code(), of(day())).prop_map(|(code, day)| Retag::Became { code, day }),
        (code(), of(day())).prop_map(|(code, day)| Retag::Was { code, day }),
    ];
    let first =
        (code(), of(words()), sex(), of(day()), of(words()), of(code()), of(code()), of(code()));
    let second =
        (of(grams(20, 6000)), of(day()), of("R[0-9]-[0-9]{2}"), of(words()), of(left), of(retag));
    (first, second).prop_map(|(a, b)| {
        let (code, name, sex, hatched, genes, sire, dam, clutch) = a;
        let (grams, weighed, tub, notes, left, retag) = b;
        RowData::Animal(AnimalRow {
            code,
            name,
            sex,
            hatched,
            genes,
            sire,
            dam,
            clutch,
            grams,
            weighed,
            tub,
            notes,
            left,
            retag,
        })
    })
}

fn check() -> impl Strategy<Value = RowData> {
    let scan = prop::collection::vec((100i32..6000).prop_map(Millimetres::from_steps), 1..4)
        .prop_map(Found::Scan);
    let felt = prop_oneof![
        Just(("pea", Some(0))),
        Just(("python egg", Some(3))),
        Just(("thumb", None)),
        Just(("like 2 plums", None)),
    ];
    let felt = felt.prop_map(|(word, class)| Found::Felt { word: word.to_owned(), class });
    (day(), code(), prop_oneof![scan, felt, Just(Found::NothingFelt)])
        .prop_map(|(day, code, found)| RowData::Check(CheckRow { day, code, found }))
}

fn clutch() -> impl Strategy<Value = RowData> {
    let days = (of(day()), 1i32..30, 1i32..60, 1i32..90, any::<[bool; 3]>());
    let kept = of(prop::sample::select(EggsKept::ALL));
    let weighed = (of(grams(40, 2500)), kept);
    let counts = (of(0u16..=20), of(0u16..=20), of(0u16..=21), of(code()), weighed);
    (code(), of(code()), days, counts).prop_map(|(female, male, days, counts)| {
        let (first, a, b, c, has) = days;
        let later = |n: i32, has: bool| first.filter(|_| has).map(|d| d + n);
        let (eggs, slugs, hatchlings, clutch_code, (mass, kept)) = counts;
        RowData::Clutch(ClutchRow {
            female,
            male,
            ovulation: first,
            prelay_shed: later(a, has[0]),
            laid: later(a + b, has[1]),
            eggs,
            slugs,
            hatched_on: later(a + b + c, has[2]),
            hatchlings,
            clutch_code,
            mass,
            kept,
        })
    })
}

fn hatchling() -> impl Strategy<Value = RowData> {
    let kept = of(of(code()).prop_map(|code| Kept { code }));
    (
        of(day()),
        of(code()),
        code(),
        of(code()),
        of(code()),
        sex(),
        of(words()),
        of(grams(20, 250)),
        kept,
    )
        .prop_map(|(day, clutch, code, dam, sire, sex, look, grams, kept)| {
            RowData::Hatchling(HatchlingRow {
                day,
                clutch,
                code,
                dam,
                sire,
                sex,
                look,
                grams,
                kept,
            })
        })
}

fn plan() -> impl Strategy<Value = RowData> {
    let male = prop_oneof![
        code().prop_map(PlanMale::Code),
        words().prop_map(PlanMale::Carrying),
        words().prop_map(PlanMale::Either),
    ];
    (of(day()), code(), male, prop::sample::select(Choice::ALL), 1u32..10_000).prop_map(
        |(day, female, male, choice, w)| {
            RowData::Plan(PlanRow { day, female, male, choice, weight: f64::from(w) / 100.0 })
        },
    )
}

fn temperature() -> impl Strategy<Value = RowData> {
    let time = (0u32..86_400, of(-840i32..=840));
    let time = time.prop_map(|(seconds, offset)| TimeOfDay { seconds, offset });
    let place = prop_oneof![Just("incubator 1"), Just("hot spot R1-03"), Just("=room")];
    let kind = prop::sample::select(ReadingKind::ALL);
    let celsius = (0i32..=6000).prop_map(Celsius::from_steps);
    (day(), of(time), place, kind, celsius, of(0u8..=100)).prop_map(
        |(day, time, place, kind, celsius, humidity)| {
            let place = place.to_owned();
            RowData::Temperature(TemperatureRow { day, time, place, kind, celsius, humidity })
        },
    )
}

fn fact() -> impl Strategy<Value = RowData> {
    let when = prop_oneof![
        day().prop_map(When::Day),
        day().prop_map(|d| When::Night(Night::beginning(d))),
        Just(When::Undated),
        (0i64..2_000_000_000).prop_map(|s| When::Instant(units::Instant::from_seconds(s))),
    ];
    let kind =
        prop::sample::select(vec!["shed", "in blue", "setting", "note", "moved", "re-tagged"]);
    (when, kind, of(code()), of(code()), of(words()), of(words())).prop_map(
        |(when, fact, animal, other, value, note)| {
            RowData::Fact(FactRow { when, fact: fact.to_owned(), animal, other, value, note })
        },
    )
}

fn row(kind: SheetKind) -> BoxedStrategy<RowData> {
    match kind {
        SheetKind::Animals => animal().boxed(),
        SheetKind::Weights => (day(), code(), grams(20, 6000))
            .prop_map(|(day, code, grams)| {
                RowData::Weight(WeightRow { day: Some(day), code, grams })
            })
            .boxed(),
        SheetKind::Feedings => {
            (day(), code(), of(words()), 1u16..=20, prop::sample::select(Meal::ALL))
                .prop_map(|(day, code, prey, count, meal)| {
                    RowData::Feeding(FeedingRow { day, code, prey, count, meal })
                })
                .boxed()
        }
        SheetKind::Checks => check().boxed(),
        SheetKind::Nights => (day(), code(), code(), of(prop::sample::select(Lock::ALL)))
            .prop_map(|(day, male, female, lock)| {
                RowData::Night(NightRow {
                    night: Night::beginning(day),
                    male,
                    female,
                    lock,
                    empty_lock: false,
                })
            })
            .boxed(),
        SheetKind::Clutches => clutch().boxed(),
        SheetKind::Hatchlings => hatchling().boxed(),
        SheetKind::Plans => plan().boxed(),
        SheetKind::Temperatures => temperature().boxed(),
        SheetKind::Facts => fact().boxed(),
    }
}

fn ids() -> impl Strategy<Value = Vec<RecordId>> {
    prop::collection::vec(any::<[u8; 16]>().prop_map(RecordId::of_digest), 1..4)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]
    #[test]
    fn export_then_read(
        (kind, rows) in prop::sample::select(SheetKind::ALL)
            .prop_flat_map(|kind| (Just(kind), prop::collection::vec((row(kind), ids()), 1..6)))
    ) {
        let text = export::csv(kind, rows.iter().map(|(row, ids)| (row, ids.as_slice())));
        let file = FileIn { name: "export".to_owned(), bytes: text.clone().into_bytes() };
        let reading = read(&[file], &Hints::default());
        prop_assert_eq!(&reading.refused, &vec![]);
        let sheet = &reading.sheets[0];
        prop_assert_eq!(sheet.kind, Some(kind));
        prop_assert_eq!(sheet.rows.len(), rows.len(), "{}", text);
        for (read, (row, ids)) in sheet.rows.iter().zip(&rows) {
            prop_assert!(read.problems.is_empty(), "{:?}\n{}", read.problems, text);
            prop_assert_eq!(read.data.as_ref(), Some(row), "{}", text);
            prop_assert_eq!(&read.record_ids, ids);
            prop_assert!(read.notes.is_empty(), "{:?}", read.notes);
        }
    }

    #[test]
    fn no_cell_of_an_export_is_a_formula(text in "\\PC{0,20}") {
        let quoted = export::quoted(&text);
        prop_assert!(!quoted.starts_with(['=', '+', '-', '@']));
        prop_assert_eq!(export::unquoted(&quoted), text);
    }
}
