//! Every reported chance within .02 of a dense grid, over sixty random cycles; ovulation, whose
//! threshold the grid has to try one by one, over four.

use forecast::{Belief, Hyper, Milestone, Model, Passage};
use testkit::follicle_grid::{Grid, Look};
use testkit::follicle_rooms::{pick, room, source};

use crate::made::{cycle, opening, settings, shared};

const CYCLES: usize = 60;
const OVULATING: usize = 4;
const LIMIT: f64 = 0.02;
const NIGHTS: [i32; 8] = [3, 7, 14, 24, 35, 60, 100, 273];

pub fn check() -> bool {
    let hyper = Hyper::default();
    let model = Model::default();
    let mut rng = source(11);
    let (mut worst, mut sum, mut ovulation): (f64, f64, f64) = (0.0, 0.0, 0.0);
    for (i, season) in room(&shared(&hyper), CYCLES, &mut rng).iter().enumerate() {
        let last = season.looks.last().map_or(0, |l| l.day);
        let tonight = (10 + pick(&mut rng, 120)).min(last + 40);
        let belief = model.follow(&cycle(&season.looks), opening() + tonight);
        let off = farthest(&hyper, &belief, &season.looks, tonight);
        worst = worst.max(off);
        #[expect(clippy::cast_precision_loss, reason = "sixty")]
        let share = 1.0 / CYCLES as f64;
        sum += off * share;
        if i < OVULATING {
            ovulation = ovulation.max(ovulation_off(&hyper, &belief, &season.looks, tonight));
        }
    }
    println!("Chances against the dense grid, {CYCLES} cycles:");
    println!("  farthest off in the worst cycle {worst:.4}, in a mean cycle {sum:.4}");
    println!("  ovulation, {OVULATING} cycles: farthest off {ovulation:.4} (limit {LIMIT})");
    worst <= LIMIT && ovulation <= LIMIT
}

fn farthest(hyper: &Hyper, belief: &Belief, looks: &[Look], tonight: i32) -> f64 {
    let settings = settings(hyper);
    let mut free = Grid::opening(&settings, None);
    free.run(looks, tonight);
    let mass = free.mass();
    let s = belief.states();
    let mut pairs: Vec<(f64, f64)> = [s.resting, s.growing, s.stalled, s.resorbing]
        .iter()
        .zip(free.states())
        .map(|(fast, slow)| (fast.get(), slow / mass))
        .collect();
    for size in [8.0, 12.0, 17.0, 22.0, 27.0, 32.0, 36.0, 40.0] {
        let fast = belief.chance_between(f64::NEG_INFINITY, size).get();
        pairs.push((fast, free.mass_below(size) / mass));
    }
    for size in [12.0, 22.0, 32.0, 40.0] {
        let outlook = belief.outlook(Milestone::Size(size));
        let mut grid = Grid::opening(&settings, Some(size));
        grid.run(looks, tonight);
        let left = grid.mass();
        pairs.push((outlook.passage.passed.get(), 1.0 - left / mass));
        for nights in NIGHTS {
            grid.pass_to(tonight + nights);
            let slow = (left - grid.mass()) / mass;
            pairs.push((outlook.within(nights.unsigned_abs()).get(), slow));
        }
    }
    pairs.iter().map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
}

/// Her threshold is one of the whole millimetres within three spreads of the mean, and above
/// whatever she had reached when last looked at.
fn ovulation_off(hyper: &Hyper, belief: &Belief, looks: &[Look], tonight: i32) -> f64 {
    let settings = settings(hyper);
    let seen = looks.iter().map(|l| l.day).filter(|d| *d <= tonight).max();
    let (mut not_by_check, mut not_now, mut not_later) = (0.0, 0.0, 0.0);
    let mut off = -9.0;
    while off <= 9.0 {
        let z = off / hyper.ovulation_spread;
        let share = (-0.5_f64 * z * z).exp();
        let mut grid = Grid::opening(&settings, Some((hyper.ovulation_size + off).round()));
        grid.run(looks, seen.unwrap_or(0));
        not_by_check += share * grid.mass();
        grid.pass_to(tonight);
        not_now += share * grid.mass();
        grid.pass_to(tonight + 273);
        not_later += share * grid.mass();
        off += 1.0;
    }
    let Passage { passed, ahead, .. } = belief.chance_of_ovulation();
    let slow = (1.0 - not_now / not_by_check, (not_now - not_later) / not_by_check);
    (passed.get() - slow.0).abs().max((ahead.get() - slow.1).abs())
}
