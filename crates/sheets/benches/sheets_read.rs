//! Rows a second from bytes to typed rows, on a made-up folder of five sheets.

use std::fmt::Write as _;
use std::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use sheets::read::read;
use sheets::sheet::{FileIn, Hints};
use units::Day;

const ROWS: usize = 20_000;

/// The shares of a room's sheets: most rows are feedings.
fn folder() -> Vec<FileIn> {
    let mut feedings = String::from("Date,Animal,Prey,Qty,Ate\r\n");
    let mut nights = String::from("Night,Male,Female,Lock\r\n");
    let mut checks = String::from("Date,Female,How,Size (mm)\r\n");
    let mut weights = String::from("Date,Animal,g\r\n");
    for n in 0..ROWS {
        let day = Day::from_number(18_000 + i32::try_from(n / 20).unwrap_or(0));
        let animal = n % 40;
        let _ = match n % 20 {
            0 | 1 => writeln!(
                nights,
                "{day},M{:02},F{animal:02},{}\r",
                n % 12,
                if n % 3 == 0 { "lock" } else { "" }
            ),
            2 => writeln!(checks, "{day},F{animal:02},scan,{}.{}\r", 5 + n % 35, n % 10),
            3 => writeln!(weights, "{day},F{animal:02},\"1,{:03}\"\r", n % 1000),
            _ => writeln!(
                feedings,
                "{day},F{animal:02},small rat,1,{}\r",
                if n % 5 == 0 { "refused" } else { "yes" }
            ),
        };
    }
    let files = [
        ("feeding.csv", feedings),
        ("pairings.csv", nights),
        ("follicles.csv", checks),
        ("weights.csv", weights),
    ];
    files
        .into_iter()
        .map(|(name, text)| FileIn { name: name.to_owned(), bytes: text.into_bytes() })
        .collect()
}

fn sheets_read(c: &mut Criterion) {
    let files = folder();
    let hints = Hints::default();
    let rows: usize = read(&files, &hints).sheets.iter().map(|s| s.rows.len()).sum();
    assert_eq!(rows, ROWS);
    let mut group = c.benchmark_group("sheets_read");
    group.throughput(Throughput::Elements(rows as u64));
    group.bench_function("folder", |b| b.iter(|| read(black_box(&files), &hints)));
    group.finish();
}

criterion_group!(benches, sheets_read);
criterion_main!(benches);
