//! Random drafts of every kind, as wild as the types allow.

use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use records::facts::*;
use records::words::{Certainty, Choice, EggsKept};
use records::{
    AnimalId, BatchId, ClutchId, Code, Draft, Fact, Found, LabFound, Leaving, Lock, Meal, Place,
    PlannedMale, ReadingKind, RecordId, Sex, ShedKind, Source, StayEnd, Tub,
};
use units::{Celsius, Day, Grams, Instant, Millimetres, Night, Probability, When};

fn id() -> impl Strategy<Value = RecordId> {
    any::<[u8; 16]>().prop_map(RecordId::from_bytes)
}

fn animal() -> impl Strategy<Value = AnimalId> {
    id().prop_map(AnimalId)
}

fn words() -> impl Strategy<Value = String> {
    prop_oneof![any::<String>(), "[ -~]{0,12}", Just(String::from("a\u{0}b\r\n\"'\\</script>"))]
}

fn code() -> impl Strategy<Value = Code> {
    "[!-~äß0-9]{1,12}".prop_map(|t| Code::new(&t).unwrap())
}

fn tub() -> impl Strategy<Value = Tub> {
    "[!-~]{1,12}".prop_map(|t| Tub::new(&t).unwrap())
}

fn place() -> impl Strategy<Value = Place> {
    "[!-~]{1,12}".prop_map(|t| Place::new(&t).unwrap())
}

/// Days of years 1 to 9999: what four digits can write.
fn day() -> impl Strategy<Value = Day> {
    (-719_162i32..2_932_896).prop_map(Day::from_number)
}

fn when() -> impl Strategy<Value = When> {
    prop_oneof![
        day().prop_map(When::Day),
        day().prop_map(|d| When::Night(Night::beginning(d))),
        instant().prop_map(When::Instant),
        Just(When::Undated),
    ]
}

fn instant() -> impl Strategy<Value = Instant> {
    (-60_000_000_000i64..250_000_000_000).prop_map(Instant::from_seconds)
}

fn grams() -> impl Strategy<Value = Grams> {
    any::<i32>().prop_map(Grams::from_steps)
}

fn one_of<T: Copy + std::fmt::Debug + 'static>(all: &'static [T]) -> impl Strategy<Value = T> {
    proptest::sample::select(all)
}

fn identity() -> BoxedStrategy<Fact> {
    let added = (
        (code(), of(words()), of(one_of(Sex::ALL)), of(day()), of(words())),
        (of(animal()), of(animal()), of(words()), of(tub())),
    )
        .prop_map(|((code, name, sex, hatched, genes), (sire, dam, clutch, tub))| {
            Fact::Added(Added { code, name, sex, hatched, genes, sire, dam, clutch, tub })
        });
    let change = prop_oneof![
        words().prop_map(Change::Name),
        day().prop_map(Change::Hatched),
        words().prop_map(Change::Genes),
        animal().prop_map(Change::Sire),
        animal().prop_map(Change::Dam),
    ];
    prop_oneof![
        added,
        (animal(), change).prop_map(|(animal, change)| Fact::Changed(Changed { animal, change })),
        (animal(), one_of(Sex::ALL), of(words()))
            .prop_map(|(animal, sex, how)| Fact::SexTold(SexTold { animal, sex, how })),
        (animal(), code()).prop_map(|(animal, code)| Fact::Retagged(Retagged { animal, code })),
        (animal(), tub()).prop_map(|(animal, tub)| Fact::Moved(Moved { animal, tub })),
        (animal(), one_of(Leaving::ALL), of(words()))
            .prop_map(|(animal, how, to)| Fact::Left(Left { animal, how, to })),
        animal().prop_map(|animal| Fact::CameBack(CameBack { animal })),
        (animal(), words(), of(day()), of(words())).prop_map(|(animal, owner, due, share)| {
            Fact::Borrowed(Borrowed { animal, owner, due, share })
        }),
    ]
    .boxed()
}

fn care() -> BoxedStrategy<Fact> {
    let treated = || {
        (animal(), any::<bool>(), of(words())).prop_map(|(animal, begins, what)| Treated {
            animal,
            begins,
            what,
        })
    };
    prop_oneof![
        (animal(), grams()).prop_map(|(animal, mass)| Fact::Weighed(Weighed { animal, mass })),
        (animal(), words(), any::<u16>(), one_of(Meal::ALL))
            .prop_map(|(animal, prey, count, meal)| Fact::Fed(Fed { animal, prey, count, meal })),
        (animal(), one_of(ShedKind::ALL))
            .prop_map(|(animal, kind)| Fact::Shed(Shed { animal, kind })),
        animal().prop_map(Fact::InBlue),
        treated().prop_map(Fact::Quarantine),
        treated().prop_map(Fact::Treatment),
        (of(animal()), words()).prop_map(|(animal, text)| Fact::Noted(Noted { animal, text })),
    ]
    .boxed()
}

fn breeding() -> BoxedStrategy<Fact> {
    let pair = || (animal(), animal());
    let found = prop_oneof![
        vec(any::<i32>().prop_map(Millimetres::from_steps), 1..4).prop_map(Found::Scan),
        words().prop_map(Found::Felt),
        Just(Found::NothingFelt),
    ];
    let planned = prop_oneof![
        animal().prop_map(PlannedMale::Animal),
        words().prop_map(PlannedMale::Carrying),
    ];
    prop_oneof![
        (animal(), found).prop_map(|(female, found)| Fact::Checked(Checked { female, found })),
        (pair(), one_of(StayEnd::ALL))
            .prop_map(|((male, female), ends)| { Fact::Placed(Placed { male, female, ends }) }),
        pair().prop_map(|(male, female)| Fact::TakenOut(TakenOut { male, female })),
        (pair(), day(), one_of(Lock::ALL)).prop_map(|((male, female), evening, lock)| {
            let night = Night::beginning(evening);
            Fact::LockLooked(LockLooked { male, female, night, lock })
        }),
        animal().prop_map(Fact::WarmedUp),
        animal().prop_map(Fact::Settled),
        (animal(), one_of(Certainty::ALL), of(animal())).prop_map(|(female, certainty, sire)| {
            Fact::Ovulated(Ovulated { female, certainty, sire })
        }),
        animal().prop_map(Fact::Resorbed),
        (animal(), planned, one_of(Choice::ALL), 0.0..=100.0).prop_map(
            |(female, male, choice, weight)| Fact::Planned(Planned {
                female,
                male,
                choice,
                weight
            })
        ),
    ]
    .boxed()
}

fn clutch() -> BoxedStrategy<Fact> {
    prop_oneof![
        (
            (animal(), of(animal()), of(words())),
            (of(any::<u16>()), of(any::<u16>()), of(grams()), of(one_of(EggsKept::ALL)))
        )
            .prop_map(|((female, sire, clutch), (eggs, slugs, mass, kept))| {
                Fact::Laid(Laid { female, sire, clutch, eggs, slugs, mass, kept })
            }),
        (id(), of(any::<u16>())).prop_map(|(clutch, hatchlings)| {
            Fact::HatchedOut(HatchedOut { clutch: ClutchId(clutch), hatchlings })
        }),
        (animal(), words()).prop_map(|(animal, look)| Fact::Looked(Looked { animal, look })),
        (id(), place()).prop_map(|(clutch, place)| {
            Fact::Incubated(Incubated { clutch: ClutchId(clutch), place })
        }),
        (place(), one_of(ReadingKind::ALL), any::<i32>(), of(0..=100_u8)).prop_map(
            |(place, kind, steps, humidity)| {
                let celsius = Celsius::from_steps(steps);
                Fact::Reading(Reading { place, kind, celsius, humidity })
            }
        ),
        (animal(), words(), one_of(LabFound::ALL), of(words()), of(0.0..0.5)).prop_map(
            |(animal, gene, found, lab, error)| {
                let error = error.and_then(|e| Probability::new(e).ok());
                Fact::Tested(Tested { animal, gene, found, lab, error })
            }
        ),
    ]
    .boxed()
}

fn desk() -> BoxedStrategy<Fact> {
    let target =
        prop_oneof![id().prop_map(Target::Record), id().prop_map(|b| Target::Batch(BatchId(b))),];
    prop_oneof![
        (words(), words()).prop_map(|(name, value)| Fact::Set(Set { name, value })),
        (
            (words(), vec(words(), 0..4), vec(words(), 0..4)),
            (words(), words(), any::<bool>(), words()),
            of(proptest::collection::btree_map(words(), words(), 0..3)),
        )
            .prop_map(
                |((sheet, headings, cells), (column, value, readable, why), read_as)| {
                    Fact::Held(Held {
                        sheet,
                        headings,
                        cells,
                        column,
                        value,
                        readable,
                        why,
                        read_as,
                    })
                }
            ),
        (target, words()).prop_map(|(what, why)| Fact::Retracted(Retracted { what, why })),
    ]
    .boxed()
}

fn fact() -> impl Strategy<Value = Fact> {
    let plain = prop_oneof![identity(), care(), breeding(), clutch(), desk()].boxed();
    let corrected = (id(), when(), plain.clone()).prop_map(|(record, when, fact)| {
        Fact::Corrected(Corrected { record, when, fact: Box::new(fact) })
    });
    prop_oneof![9 => plain, 1 => corrected]
}

pub fn draft() -> impl Strategy<Value = Draft> {
    let source = (words(), any::<u32>()).prop_map(|(file, line)| Source { file, line });
    ((id(), when(), instant(), words()), (of(id()), of(source), fact())).prop_map(
        |((id, when, written, who), (batch, source, fact))| Draft {
            id,
            when,
            written,
            who,
            batch: batch.map(BatchId),
            source,
            fact,
        },
    )
}
