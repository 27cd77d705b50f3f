//! The whole track record of ten seasons of 200 females: every forecast asked again and scored, what
//! is learned learned anew for each season. Must stay below ten seconds. And the evenings alone, asked
//! of what a room without history goes by.
#![expect(
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "how many forecasts the time is for; a bench stops at the first surprise"
)]

mod seasons;

use std::hint::black_box;

use answers::RoomForecasts;
use answers::track::{back_test, track};
use criterion::{Criterion, criterion_group, criterion_main};

fn ten_seasons_of_200(c: &mut Criterion) {
    let colony = seasons::journal(10, 200, 200, 1.0, 2026).on_evening_of(seasons::end_of(10));
    let record = track(&colony);
    println!("{} forecasts scored", record.past.len());
    let mut group = c.benchmark_group("back_test");
    group.sample_size(10);
    group.bench_function("ten_seasons_of_200", |b| b.iter(|| track(black_box(&colony))));
    let usual = |_| RoomForecasts::usual();
    let evenings = |colony| back_test(colony, &usual);
    group.bench_function("evenings_alone", |b| b.iter(|| evenings(black_box(&colony))));
    group.finish();
}

criterion_group!(benches, ten_seasons_of_200);
criterion_main!(benches);
