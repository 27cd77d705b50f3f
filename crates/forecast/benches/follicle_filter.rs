//! Speed of the follicle forecast, a female at a time.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use forecast::{Check, Classes, Cycle, Found, Milestone, Model};
use units::{Day, Millimetres};

/// A season of a female as a keeper writes it: opened in November, seven checks, asked in February.
fn season() -> (Cycle, Day) {
    let opened = Day::from_number(20_396);
    let scan = |after: i32, size: f64| Check {
        day: opened + after,
        found: Found::Scan(Millimetres::new(size).unwrap_or(Millimetres::from_steps(0))),
    };
    let classes = Classes::default();
    let felt = |after: i32, class: usize| Check {
        day: opened + after,
        found: classes.felt(class).unwrap_or(classes.nothing_felt()),
    };
    let checks = vec![
        scan(0, 9.4),
        scan(17, 13.1),
        felt(33, 0),
        scan(47, 19.8),
        scan(61, 20.4),
        felt(74, 1),
        scan(88, 26.3),
    ];
    (Cycle::new(opened, checks), opened + 95)
}

fn follicle(c: &mut Criterion) {
    let model = Model::default();
    let (cycle, today) = season();
    c.bench_function("follicle filter, one female, 7 checks in 14 weeks", |b| {
        b.iter(|| model.follow(black_box(&cycle), black_box(today)));
    });
    let belief = model.follow(&cycle, today);
    c.bench_function("dates of four sizes and ovulation", |b| {
        b.iter(|| {
            let sizes = [12.0, 22.0, 32.0, 40.0].map(Milestone::Size);
            let all = sizes.iter().chain([&Milestone::Ovulation]);
            all.filter_map(|m| black_box(&belief).outlook(*m).date()).count()
        });
    });
    c.bench_function("size tonight", |b| b.iter(|| black_box(&belief).size()));
}

criterion_group!(benches, follicle);
criterion_main!(benches);
