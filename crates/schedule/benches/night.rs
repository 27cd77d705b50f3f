//! One night of a large collection: the assignment alone, and the whole plan with its reasons.
//!
//! `cargo bench -p clutchwright-schedule --bench night`

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use schedule::assignment::assign;
use schedule::{
    Choice, Female, Follicles, Keeping, LockOutcome, Male, NightTogether, PastNight, PlannedPair,
    Room, Rules, Size, Weighing, tonight,
};
use units::{Grams, Probability};

#[path = "draws/mod.rs"]
mod draws;
use draws::SplitMix64;

fn night_100x400(c: &mut Criterion) {
    for kind in draws::KINDS {
        let worth = draws::matrix(kind, 100, 400, 1);
        c.bench_function(&format!("night_100x400/{kind}"), |b| {
            b.iter(|| assign(100, 400, black_box(&worth)));
        });
    }
    let room = room(100, 400);
    let rules = Rules::default();
    c.bench_function("night_100x400/whole plan", |b| b.iter(|| tonight(black_box(&room), &rules)));
}

fn keeping(grams: i32) -> Keeping {
    let weight = Some(Weighing { mass: Grams::from_steps(grams * 10), age_days: 9 });
    Keeping { in_house: true, quarantine: false, treatment: false, weight }
}

/// A room with a third of its females below the first band, three planned males for each.
fn room(males: usize, females: usize) -> Room {
    let mut draws = SplitMix64(7);
    let mut room = Room::default();
    for _ in 0..males {
        let nights = (0..40).map(|n| PastNight {
            ago: 3 * n + 1 + u32::try_from(draws.draw() % 3).unwrap_or(0),
            lock: if draws.draw().is_multiple_of(3) {
                LockOutcome::Seen
            } else {
                LockOutcome::NoneSeen
            },
        });
        room.males.push(Male {
            nights: nights.collect(),
            keeping: keeping(900),
            weight_at_opening: Some(Grams::from_steps(9500)),
            in_blue: false,
        });
    }
    for female in 0..females {
        let mut bands = || {
            let main = draws.unit();
            let mut chances = [0.0; 4];
            chances[usize::try_from(draws.draw() % 4).unwrap_or(0)] = main;
            chances[3] += (1.0 - main) / 2.0;
            chances.map(Probability::clamped)
        };
        let nights = (0..8)
            .map(|_| NightTogether { in_band: bands(), lock: LockOutcome::NoneSeen })
            .collect();
        let follicles =
            Follicles { in_band: bands(), leaves: (0..7).map(|_| bands()).collect(), nights };
        room.females.push(Female {
            keeping: keeping(2000),
            ovulated: false,
            resorbing: Probability::ZERO,
            laid_this_season: false,
            second_clutch: false,
            in_shed: false,
            size: Size::Followed(follicles),
        });
        let mut any_male = || usize::try_from(draws.draw()).unwrap_or(0) % males;
        let males = vec![any_male(), any_male(), any_male()];
        room.planned.push(PlannedPair { female, males, choice: Choice::First, weight: 1.0 });
    }
    room
}

criterion_group!(benches, night_100x400);
criterion_main!(benches);
