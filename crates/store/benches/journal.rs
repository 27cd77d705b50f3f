//! Appending to the journal and folding it, at one season's and at ten years' size.

#![expect(clippy::unwrap_used, reason = "a bench that fails should stop")]

use std::hint::black_box;

use criterion::{BatchSize, Criterion, Throughput, criterion_group, criterion_main};
use records::facts::{Added, Fed, LockLooked, Placed, Weighed};
use records::{AnimalId, AsOf, Code, Draft, Fact, Lock, Meal, RecordId, Sex, StayEnd, standing};
use store::Store;
use units::{Day, Grams, Instant, Night, When, Zone};

const ANIMALS: u64 = 60;
const SIZES: [u64; 2] = [12_000, 100_000];

fn id(n: u64) -> RecordId {
    let mut random = [0; 10];
    random[2..].copy_from_slice(&n.to_be_bytes());
    RecordId::made_at(1_700_000_000_000 + n, random)
}

/// A room that weighs, feeds and pairs its sixty animals in turn, some six records a day.
fn drafts(count: u64) -> Vec<Draft> {
    (0..count).map(draft).collect()
}

fn draft(n: u64) -> Draft {
    let day = Day::from_number(18_000 + i32::try_from(n / 6).unwrap());
    let animal = AnimalId(id(n % ANIMALS));
    let (male, female) = (AnimalId(id(n % 12)), AnimalId(id(12 + n % 48)));
    let night = Night::beginning(day);
    let (when, fact) = match n % 4 {
        _ if n < ANIMALS => {
            let sex = if n < 12 { Sex::Male } else { Sex::Female };
            let code = Code::new(&format!("A{n}")).unwrap();
            (When::Undated, Fact::Added(Added { sex: Some(sex), ..Added::with_code(code) }))
        }
        0 => {
            let mass = Grams::from_steps(15_000 + i32::try_from(n % 900).unwrap());
            (When::Day(day), Fact::Weighed(Weighed { animal, mass }))
        }
        1 => {
            let fed = Fed { animal, prey: "rat, weaned".into(), count: 1, meal: Meal::Taken };
            (When::Day(day), Fact::Fed(fed))
        }
        2 => (When::Night(night), Fact::Placed(Placed { male, female, ends: StayEnd::NextNoon })),
        _ => {
            let looked = LockLooked { male, female, night, lock: Lock::NoneSeen };
            (When::Day(day + 1), Fact::LockLooked(looked))
        }
    };
    let written = Instant::from_seconds(1_700_000_000);
    Draft { id: id(n), when, written, who: "Kim".into(), batch: None, source: None, fact }
}

fn room() -> (tempfile::TempDir, Store) {
    let room = tempfile::tempdir().unwrap();
    let store = Store::create(room.path(), &Zone::named("Europe/Berlin").unwrap()).unwrap();
    (room, store)
}

fn journal_append(c: &mut Criterion) {
    let mut group = c.benchmark_group("journal_append");
    group.sample_size(10);
    for size in SIZES {
        group.throughput(Throughput::Elements(size));
        let all = drafts(size);
        group.bench_function(format!("one_batch_{size}"), |b| {
            b.iter_batched(
                || (room(), all.clone()),
                |((room, mut store), drafts)| {
                    store.append(drafts).unwrap();
                    (room, store)
                },
                BatchSize::PerIteration,
            );
        });
    }
    group.throughput(Throughput::Elements(100));
    let all = drafts(100);
    group.bench_function("one_by_one_100", |b| {
        b.iter_batched(
            || (room(), all.clone()),
            |((room, mut store), drafts)| {
                for draft in drafts {
                    store.append(vec![draft]).unwrap();
                }
                (room, store)
            },
            BatchSize::PerIteration,
        );
    });
    group.finish();
}

fn journal_fold(c: &mut Criterion) {
    let mut group = c.benchmark_group("journal_fold");
    group.sample_size(10);
    for size in SIZES {
        group.throughput(Throughput::Elements(size));
        let (folder, mut store) = room();
        store.append(drafts(size)).unwrap();
        group.bench_function(format!("open_and_read_{size}"), |b| {
            b.iter(|| Store::open_read_only(folder.path()).unwrap());
        });
        let zone = store.zone().unwrap();
        group.bench_function(format!("fold_{size}"), |b| {
            b.iter(|| {
                let live = standing(black_box(store.records()));
                records::Colony::fold(&live, &zone, AsOf::end_of_time())
            });
        });
        group.bench_function(format!("verify_{size}"), |b| b.iter(|| store.verify().unwrap()));
    }
    group.finish();
}

criterion_group!(benches, journal_append, journal_fold);
criterion_main!(benches);
