//! Everything about 2,000 females on one evening of February: sizes, states, dates of four sizes,
//! ovulation, and the chain to the first meal of the young, each female with a rate of her own. A
//! page asks this; it must stay below 400 ms on two cores.
#![expect(clippy::unwrap_used, reason = "a bench stops at the first surprise")]

use std::hint::black_box;

use answers::{RoomForecasts, follicles};
use criterion::{Criterion, criterion_group, criterion_main};
use records::facts::{Added, Checked, Weighed};
use records::{AnimalId, AsOf, Code, Colony, Draft, Fact, Found, Live, RecordId, Sex};
use units::{Day, Grams, Instant, Millimetres, When, Zone};

const FEMALES: i32 = 2000;

struct Journal(Vec<Live>);

impl Journal {
    fn write(&mut self, day: Day, fact: Fact) -> RecordId {
        let n = self.0.len() as u64 + 1;
        let draft = Draft {
            id: RecordId::from_bytes(u128::from(n).to_be_bytes()),
            when: When::Day(day),
            written: Instant::from_seconds(0),
            who: String::new(),
            batch: None,
            source: None,
            fact,
        };
        self.0.push(Live::of(&draft, n));
        draft.id
    }
}

/// Two seasons before the one asked about, and seven checks in it, one of them felt.
fn made() -> Colony {
    let mut journal = Journal(Vec::new());
    let born = Day::new(2019, 7, 1).unwrap();
    for k in 0..FEMALES {
        let mut added = Added::with_code(Code::new(&format!("F{k}")).unwrap());
        added.sex = Some(Sex::Female);
        added.hatched = Some(born);
        let female = AnimalId(journal.write(born, Fact::Added(added)));
        let mass = Grams::new(1800.0).unwrap();
        journal.write(born + 1500, Fact::Weighed(Weighed { animal: female, mass }));
        let rate = 1.4 + 0.001 * f64::from(k % 1200);
        for (year, n) in [(2023, 7), (2024, 7), (2025, 7)] {
            let opened = Day::new(year, 11, 3).unwrap();
            for check in 0..n {
                let after = 14 * check + k % 5;
                let size = 8.0 + rate * f64::from(after) / 7.0 + f64::from((k + check) % 3);
                let size =
                    Found::Scan(vec![Millimetres::new((size * 10.0).round() / 10.0).unwrap()]);
                let found = if check == 3 { Found::Felt("marble".to_owned()) } else { size };
                journal.write(opened + after, Fact::Checked(Checked { female, found }));
            }
        }
    }
    let zone = Zone::named("UTC").unwrap();
    let day = Day::new(2026, 2, 12).unwrap();
    Colony::fold(&journal.0, &zone, AsOf::evening_of(day, &zone))
}

fn two_thousand_females(c: &mut Criterion) {
    let colony = made();
    let room = RoomForecasts::learned(&colony);
    let mut group = c.benchmark_group("collection");
    group.sample_size(10);
    group.bench_function("2000 females, everything", |b| {
        b.iter(|| {
            let all = follicles(black_box(&colony), &room);
            assert!(all.len() == usize::try_from(FEMALES).unwrap());
            all
        });
    });
    group.bench_function("learning growth from the newest finished cycles", |b| {
        let finished = RoomForecasts::finished(&colony, colony.as_of.day);
        b.iter(|| black_box(&finished).learn());
    });
    group.finish();
}

criterion_group!(benches, two_thousand_females);
criterion_main!(benches);
