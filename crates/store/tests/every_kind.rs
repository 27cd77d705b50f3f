//! One made-up draft of each kind of fact, in the order of a season.

use records::facts::{
    Added, Borrowed, CameBack, Change, Changed, Checked, Corrected, Fed, HatchedOut, Held,
    Incubated, Laid, Left, LockLooked, Looked, Moved, Noted, Ovulated, Placed, Planned, Reading,
    Retagged, Retracted, Set, SexTold, Shed, TakenOut, Target, Tested, Treated, Weighed,
};
use records::words::{Certainty, Choice, EggsKept};
use records::{
    AnimalId, BatchId, ClutchId, Code, Draft, Fact, Found, LabFound, Leaving, Lock, Meal, Place,
    PlannedMale, ReadingKind, RecordId, Sex, ShedKind, Source, StayEnd, Tub,
};
use units::{Celsius, Day, Grams, Instant, Millimetres, Night, Probability, When};

/// Number of kinds; the match makes a new kind fail to compile until it is counted here.
pub const KINDS: usize = 34;

pub fn place(fact: &Fact) -> usize {
    match fact {
        Fact::Added(_) => 0,
        Fact::Changed(_) => 1,
        Fact::SexTold(_) => 2,
        Fact::Retagged(_) => 3,
        Fact::Moved(_) => 4,
        Fact::Left(_) => 5,
        Fact::CameBack(_) => 6,
        Fact::Borrowed(_) => 7,
        Fact::Weighed(_) => 8,
        Fact::Fed(_) => 9,
        Fact::Shed(_) => 10,
        Fact::InBlue(_) => 11,
        Fact::Quarantine(_) => 12,
        Fact::Treatment(_) => 13,
        Fact::Checked(_) => 14,
        Fact::Placed(_) => 15,
        Fact::TakenOut(_) => 16,
        Fact::LockLooked(_) => 17,
        Fact::WarmedUp(_) => 18,
        Fact::Settled(_) => 19,
        Fact::Ovulated(_) => 20,
        Fact::Resorbed(_) => 21,
        Fact::Laid(_) => 22,
        Fact::HatchedOut(_) => 23,
        Fact::Looked(_) => 24,
        Fact::Planned(_) => 25,
        Fact::Noted(_) => 26,
        Fact::Set(_) => 27,
        Fact::Held(_) => 28,
        Fact::Corrected(_) => 29,
        Fact::Retracted(_) => 30,
        Fact::Tested(_) => 31,
        Fact::Incubated(_) => 32,
        Fact::Reading(_) => 33,
    }
}

pub fn id(n: u64) -> RecordId {
    let mut random = [0; 10];
    random[2..].copy_from_slice(&n.to_be_bytes());
    RecordId::made_at(1_760_000_000_000 + n, random)
}

pub fn day(text: &str) -> Day {
    text.parse().unwrap()
}

pub fn draft(n: u64, when: When, fact: Fact) -> Draft {
    let written = Instant::from_seconds(1_760_000_000 + i64::try_from(n).unwrap());
    Draft { id: id(n), when, written, who: "Kim".into(), batch: None, source: None, fact }
}

fn animal(n: u64) -> AnimalId {
    AnimalId(id(n))
}

/// Every kind at least once, every optional field once told and once not.
pub fn every_kind() -> Vec<Draft> {
    let mut all = added();
    all.extend(identity());
    all.extend(care());
    all.extend(breeding());
    all.extend(laying());
    all.extend(desk());
    all
}

fn added() -> Vec<Draft> {
    let (dam, sire) = (animal(2), animal(3));
    let code = |text: &str| Code::new(text).unwrap();
    let bare = Added::with_code(code("F01"));
    let full = Added {
        code: code("C25-01-1"),
        name: Some("Zoë \"the small\"".into()),
        sex: Some(Sex::Female),
        hatched: Some(day("2025-08-02")),
        genes: Some("Pastel 66% het Clown".into()),
        sire: Some(sire),
        dam: Some(dam),
        clutch: Some("C25-01".into()),
        tub: Some(Tub::new("R1-03").unwrap()),
    };
    let mut father = draft(3, When::Undated, Fact::Added(Added::with_code(code("M01"))));
    father.batch = Some(BatchId(id(900)));
    father.source = Some(Source { file: "animals, all.csv".into(), line: 7 });
    vec![
        draft(
            1,
            When::Undated,
            Fact::Set(Set { name: "zone".into(), value: "Europe/Berlin".into() }),
        ),
        draft(2, When::Undated, Fact::Added(bare)),
        father,
        draft(4, When::Day(day("2025-08-02")), Fact::Added(full)),
    ]
}

fn identity() -> Vec<Draft> {
    let (dam, sire, young) = (animal(2), animal(3), animal(4));
    let code = |text: &str| Code::new(text).unwrap();
    let on = |text: &str| When::Day(day(text));
    let changed =
        |n, change| draft(n, on("2025-10-01"), Fact::Changed(Changed { animal: young, change }));
    vec![
        changed(5, Change::Name("Zoé".into())),
        changed(6, Change::Hatched(day("2025-08-03"))),
        changed(7, Change::Genes("Pastel het Clown".into())),
        changed(8, Change::Sire(sire)),
        changed(9, Change::Dam(dam)),
        draft(
            10,
            on("2025-10-02"),
            Fact::SexTold(SexTold { animal: young, sex: Sex::Male, how: Some("probed".into()) }),
        ),
        draft(
            11,
            When::Undated,
            Fact::SexTold(SexTold { animal: sire, sex: Sex::Male, how: None }),
        ),
        draft(12, on("2025-11-01"), Fact::Retagged(Retagged { animal: young, code: code("M09") })),
        draft(
            13,
            on("2025-11-01"),
            Fact::Moved(Moved { animal: young, tub: Tub::new("R2-11").unwrap() }),
        ),
        draft(
            14,
            on("2025-11-02"),
            Fact::Left(Left { animal: young, how: Leaving::Lent, to: Some("Robin".into()) }),
        ),
        draft(15, on("2025-12-01"), Fact::CameBack(CameBack { animal: young })),
        draft(
            16,
            on("2025-12-02"),
            Fact::Left(Left { animal: young, how: Leaving::Sold, to: None }),
        ),
        draft(
            17,
            on("2025-10-05"),
            Fact::Borrowed(Borrowed {
                animal: sire,
                owner: "Robin".into(),
                due: Some(day("2026-04-01")),
                share: Some("every third".into()),
            }),
        ),
        draft(
            18,
            on("2025-10-05"),
            Fact::Borrowed(Borrowed {
                animal: sire,
                owner: "Robin".into(),
                due: None,
                share: None,
            }),
        ),
    ]
}

fn care() -> Vec<Draft> {
    let (dam, sire) = (animal(2), animal(3));
    let evening = When::Instant("2026-01-10T19:40:00Z".parse().unwrap());
    let grams = |g: f64| Grams::new(g).unwrap();
    let treated =
        |begins, what: Option<&str>| Treated { animal: sire, begins, what: what.map(Into::into) };
    let fed = |count, meal| Fact::Fed(Fed { animal: dam, prey: "rat, weaned".into(), count, meal });
    let shed = |kind| Fact::Shed(Shed { animal: dam, kind });
    let on = |text: &str| When::Day(day(text));
    vec![
        draft(20, evening, Fact::Weighed(Weighed { animal: dam, mass: grams(1731.0) })),
        draft(21, on("2026-01-10"), Fact::Weighed(Weighed { animal: sire, mass: grams(866.5) })),
        draft(22, on("2026-01-11"), fed(1, Meal::Taken)),
        draft(23, on("2026-01-18"), fed(2, Meal::Refused)),
        draft(24, on("2026-01-19"), Fact::InBlue(dam)),
        draft(25, on("2026-01-25"), shed(ShedKind::Ordinary)),
        draft(26, on("2026-04-01"), shed(ShedKind::PreLay)),
        draft(27, on("2026-04-02"), shed(ShedKind::CannotTell)),
        draft(28, on("2025-10-05"), Fact::Quarantine(treated(true, Some("new here")))),
        draft(29, on("2025-12-05"), Fact::Quarantine(treated(false, None))),
        draft(30, on("2025-12-06"), Fact::Treatment(treated(true, Some("mites")))),
        draft(31, on("2025-12-20"), Fact::Treatment(treated(false, None))),
        draft(
            32,
            on("2026-01-02"),
            Fact::Noted(Noted { animal: Some(dam), text: "scar\nleft side".into() }),
        ),
        draft(
            33,
            on("2026-01-02"),
            Fact::Noted(Noted { animal: None, text: "probe 3 <moved>".into() }),
        ),
    ]
}

fn breeding() -> Vec<Draft> {
    let (male, female) = (animal(3), animal(2));
    let millimetres = |mm: f64| Millimetres::new(mm).unwrap();
    let night = |text: &str| Night::beginning(day(text));
    let on = |text: &str| When::Day(day(text));
    let checked = |found| Fact::Checked(Checked { female, found });
    let looked =
        |evening, lock| Fact::LockLooked(LockLooked { male, female, night: night(evening), lock });
    let planned = |male, choice, weight| Fact::Planned(Planned { female, male, choice, weight });
    vec![
        draft(40, on("2026-01-05"), planned(PlannedMale::Animal(male), Choice::First, 1.0)),
        draft(
            41,
            on("2026-01-05"),
            planned(PlannedMale::Carrying("het Clown".into()), Choice::Second, 0.35),
        ),
        draft(42, on("2026-01-06"), checked(Found::NothingFelt)),
        draft(43, on("2026-01-20"), checked(Found::Felt("grape".into()))),
        draft(
            44,
            on("2026-02-09"),
            checked(Found::Scan(vec![millimetres(22.5), millimetres(21.0), millimetres(13.25)])),
        ),
        draft(
            45,
            When::Night(night("2026-02-10")),
            Fact::Placed(Placed { male, female, ends: StayEnd::NextNoon }),
        ),
        draft(46, on("2026-02-11"), looked("2026-02-10", Lock::Seen)),
        draft(
            47,
            When::Night(night("2026-02-14")),
            Fact::Placed(Placed { male, female, ends: StayEnd::Open }),
        ),
        draft(48, on("2026-02-15"), looked("2026-02-14", Lock::Suspected)),
        draft(49, on("2026-02-16"), looked("2026-02-15", Lock::NoneSeen)),
        draft(50, on("2026-02-17"), looked("2026-02-16", Lock::NotLooked)),
        draft(
            51,
            When::Instant("2026-02-17T07:15:00Z".parse().unwrap()),
            Fact::TakenOut(TakenOut { male, female }),
        ),
        draft(52, on("2026-03-01"), Fact::WarmedUp(female)),
        draft(53, on("2026-03-05"), Fact::Settled(female)),
        draft(
            54,
            on("2026-03-12"),
            Fact::Ovulated(Ovulated { female, certainty: Certainty::Seen, sire: Some(male) }),
        ),
        draft(
            55,
            on("2025-03-12"),
            Fact::Ovulated(Ovulated { female, certainty: Certainty::Suspected, sire: None }),
        ),
        draft(56, on("2024-03-12"), Fact::Resorbed(female)),
    ]
}

fn laying() -> Vec<Draft> {
    let on = |text: &str| When::Day(day(text));
    let known = Laid {
        female: animal(2),
        sire: Some(animal(3)),
        clutch: Some("C26-01".into()),
        eggs: Some(7),
        slugs: Some(1),
        mass: Some(Grams::new(581.4).unwrap()),
        kept: Some(EggsKept::Incubator),
    };
    let uncounted = Laid {
        female: animal(2),
        sire: None,
        clutch: None,
        eggs: None,
        slugs: None,
        mass: None,
        kept: None,
    };
    let hatched =
        |hatchlings| Fact::HatchedOut(HatchedOut { clutch: ClutchId(id(60)), hatchlings });
    vec![
        draft(60, on("2026-04-28"), Fact::Laid(known)),
        draft(61, on("2025-04-28"), Fact::Laid(uncounted)),
        draft(62, on("2026-06-24"), hatched(Some(6))),
        draft(63, on("2026-06-24"), hatched(None)),
        draft(
            64,
            on("2026-06-30"),
            Fact::Looked(Looked { animal: animal(4), look: "Pastel Clown".into() }),
        ),
        draft(65, on("2026-07-10"), tested("clown", LabFound::Carries, true)),
        draft(66, on("2026-07-10"), tested("piebald", LabFound::Lacks, false)),
        draft(67, on("2026-07-11"), tested("pinstripe", LabFound::OneCopy, false)),
        draft(68, When::Undated, tested("pinstripe", LabFound::TwoCopies, false)),
        draft(90, on("2026-04-28"), incubated("Incubator 1")),
        draft(91, on("2026-05-02"), incubated("incubator 2, shelf b")),
        draft(
            92,
            When::Instant("2026-04-29T05:30:00Z".parse().unwrap()),
            reading(ReadingKind::Measured, 31.25, Some(88)),
        ),
        draft(93, on("2026-04-27"), reading(ReadingKind::Set, 31.0, None)),
    ]
}

fn incubated(place: &str) -> Fact {
    let place = Place::new(place).unwrap();
    Fact::Incubated(Incubated { clutch: ClutchId(id(60)), place })
}

fn reading(kind: ReadingKind, celsius: f64, humidity: Option<u8>) -> Fact {
    let place = Place::new("Incubator 1").unwrap();
    Fact::Reading(Reading { place, kind, celsius: Celsius::new(celsius).unwrap(), humidity })
}

fn tested(gene: &str, found: LabFound, is_full: bool) -> Fact {
    let error = Probability::new(0.004).ok();
    Fact::Tested(Tested {
        animal: animal(4),
        gene: gene.into(),
        found,
        lab: is_full.then(|| "shed skin, sequenced".into()),
        error: error.filter(|_| is_full),
    })
}

fn desk() -> Vec<Draft> {
    let corrected = Corrected {
        record: id(20),
        when: When::Day(day("2026-01-11")),
        fact: Box::new(Fact::Weighed(Weighed {
            animal: animal(2),
            mass: Grams::new(1713.0).unwrap(),
        })),
    };
    let held = Held {
        sheet: "weights".into(),
        headings: vec!["Date".into(), "ID".into(), "g".into()],
        cells: vec!["2026-01-10".into(), "F01".into(), "8,858".into()],
        column: "g".into(),
        value: "8,858".into(),
        readable: true,
        why: "8,858 g is no ball python: write the mass again".into(),
        read_as: None,
    };
    let retracted = |what, why: &str| Fact::Retracted(Retracted { what, why: why.into() });
    vec![
        draft(70, When::Undated, Fact::Corrected(corrected)),
        draft(71, When::Undated, Fact::Held(held)),
        draft(
            72,
            When::Undated,
            Fact::Set(Set { name: "female_least_grams".into(), value: "1600".into() }),
        ),
        draft(73, When::Undated, retracted(Target::Record(id(63)), "")),
        draft(74, When::Undated, retracted(Target::Batch(BatchId(id(900))), "wrong file")),
    ]
}

#[test]
fn covers_every_kind() {
    let seen: std::collections::BTreeSet<usize> =
        every_kind().iter().map(|d| place(&d.fact)).collect();
    assert_eq!(seen.len(), KINDS);
}
