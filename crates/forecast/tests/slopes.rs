//! Derivatives of a cycle's likelihood along every setting, against differences of the likelihood
//! itself.

use forecast::follicle::fit::{Asked, Outcome, Parameter, Season};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use testkit::follicle_grid::{Look, Seen};

use crate::rooms::{cycle, opening};

/// Half the widths over which differences are taken. Light tracks are drawn together otherwise at every
/// step, so that the likelihood jumps by some 1e-8 and more: one width or another has no jump in it.
const STEPS: [f64; 4] = [1e-3, 1e-4, 1e-5, 1e-6];

/// Two cycles of one female as they come: growth from some day on, seen by scan and by hand.
fn cycles() -> impl Strategy<Value = Vec<Season>> {
    let look = (1i32..28, -2.0f64..2.0, any::<bool>());
    let end = prop_oneof![
        Just(Outcome::Unknown),
        (0.0f64..6.0).prop_map(|within| Outcome::Ovulated(opening() + 170, within)),
        Just(Outcome::Resorbed(opening() + 160)),
        Just(Outcome::Quiet(opening() + 150)),
    ];
    let locks = prop::collection::vec(0i32..120, 0..3);
    let growth = (5.0f64..11.0, 0.0f64..3.0, 0i32..60);
    let one = (growth, prop::collection::vec(look, 1..7), end, locks, -2.0f64..2.0);
    prop::collection::vec(one, 2).prop_map(|both| both.into_iter().map(season).collect())
}

type Made = ((f64, f64, i32), Vec<(i32, f64, bool)>, Outcome, Vec<i32>, f64);

fn season(((rest, rate, from), looks, outcome, locks, fed): Made) -> Season {
    let mut day = 0;
    let looks: Vec<Look> = looks
        .into_iter()
        .map(|(gap, off, is_felt)| {
            day += gap;
            let mm = rest + rate * f64::from((day - from).max(0)) / 7.0 + off;
            Look {
                day,
                seen: if is_felt { felt(mm) } else { Seen::Scan((mm * 10.0).round() / 10.0) },
            }
        })
        .collect();
    let mut cycle = cycle(&looks);
    cycle.locks = locks.into_iter().map(|day| opening() + day).collect();
    Season { cycle, outcome, fed }
}

fn felt(mm: f64) -> Seen {
    const CUTS: [f64; 5] = [f64::NEG_INFINITY, 9.0, 16.0, 28.0, f64::INFINITY];
    let at = CUTS.partition_point(|cut| *cut <= mm);
    Seen::Felt(CUTS[at - 1], CUTS[at], 2.5)
}

/// How many slopes differences tell, and how many they do not.
fn compared(seasons: Vec<Season>, away: &[f64]) -> (usize, Vec<String>) {
    let asked = Asked::everything();
    let females = [seasons];
    let at: Vec<f64> =
        asked.free.iter().zip(away).map(|((_, p), z)| p.mean + z * p.spread).collect();
    let ln = |k: usize, by: f64, cycle: usize| {
        let mut moved = at.clone();
        moved[k] += by;
        asked.scores(&females, &moved)[cycle].ln
    };
    let (mut told, mut others) = (0, Vec::new());
    for (cycle, score) in asked.scores(&females, &at).iter().enumerate() {
        for (k, slope) in score.slopes.iter().enumerate() {
            let is_told = STEPS.iter().any(|h| {
                let difference = (ln(k, *h, cycle) - ln(k, -h, cycle)) / (2.0 * h);
                (slope - difference).abs() < 1e-4 * (1.0 + slope.abs())
            });
            if is_told {
                told += 1;
            } else {
                others.push(format!("{:?} {slope}", Parameter::ALL[k]));
            }
        }
    }
    (told, others)
}

#[test]
fn slopes_are_what_differences_say() {
    let mut runner = TestRunner::deterministic();
    let made = (cycles(), prop::collection::vec(-0.6f64..0.6, Parameter::ALL.len()));
    let (mut told, mut others) = (0, Vec::new());
    for _ in 0..200 {
        let (seasons, away) = made.new_tree(&mut runner).unwrap().current();
        let (some, rest) = compared(seasons, &away);
        told += some;
        others.extend(rest);
    }
    println!("{told} told, {}", others.len());
    assert!(100 * others.len() < told, "{told} told, but not {others:?}");
}

/// What is reckoned with slopes is what is reckoned without.
#[test]
fn a_score_is_the_likelihood() {
    let looks = [(0, 8.0), (21, 12.5), (35, 17.1), (60, 24.0)];
    let looks = looks.map(|(day, mm)| Look { day, seen: Seen::Scan(mm) });
    let season = Season { cycle: cycle(&looks), outcome: Outcome::Quiet(opening() + 60), fed: 0.0 };
    let asked = Asked::everything();
    let at: Vec<f64> = asked.free.iter().map(|(_, prior)| prior.mean).collect();
    let scores = asked.scores(&[vec![season.clone()]], &at);
    let alone = forecast::follicle::fit::of_female(&asked.settings(&at), &[season]);
    assert!((scores[0].ln - alone).abs() < 1e-12);
}
