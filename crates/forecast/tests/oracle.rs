//! The mixture against the dense grid of the testkit: every chance within .02.

use forecast::{Belief, Hyper, Milestone, Model};
use testkit::follicle_grid::{Grid, Look};
use testkit::follicle_rooms::{World, pick, room, source};

use crate::rooms::{cycle, opening, settings};

const NIGHTS: [i32; 8] = [3, 7, 14, 24, 35, 60, 100, 273];

/// A few here; the verification program runs sixty.
const CYCLES: usize = 3;

struct Worst(f64, String);

impl Worst {
    fn compare(&mut self, fast: f64, slow: f64, what: impl Fn() -> String) {
        let off = (fast - slow).abs();
        if off > self.0 {
            *self = Self(off, format!("{}: {fast} for {slow}", what()));
        }
    }
}

fn compare_now(belief: &Belief, free: &Grid, worst: &mut Worst) {
    let mass = free.mass();
    let s = belief.states();
    let ours = [s.resting, s.growing, s.stalled, s.resorbing];
    for (i, (fast, slow)) in ours.iter().zip(free.states()).enumerate() {
        worst.compare(fast.get(), slow / mass, || format!("state {i}"));
    }
    for size in [8.0, 12.0, 17.0, 22.0, 27.0, 32.0, 36.0, 40.0] {
        let fast = belief.chance_between(f64::NEG_INFINITY, size).get();
        worst.compare(fast, free.mass_below(size) / mass, || format!("size below {size}"));
    }
}

fn compare_level(
    belief: &Belief,
    (looks, tonight): (&[Look], i32),
    (size, all): (f64, f64),
    worst: &mut Worst,
) {
    let mut grid = Grid::opening(&settings(&Hyper::default()), Some(size));
    grid.run(looks, tonight);
    let left = grid.mass();
    let outlook = belief.outlook(Milestone::Size(size));
    worst.compare(outlook.passage.passed.get(), 1.0 - left / all, || format!("passed {size}"));
    for nights in NIGHTS {
        grid.pass_to(tonight + nights);
        let slow = (left - grid.mass()) / all;
        let fast = outlook.within(nights.unsigned_abs()).get();
        worst.compare(fast, slow, || format!("{size} mm within {nights} nights"));
    }
}

#[test]
fn every_chance_is_the_grids() {
    let hyper = Hyper::default();
    let model = Model::new(hyper.clone()).unwrap();
    let mut rng = source(11);
    let world =
        World::Shared(Box::new(settings(&hyper)), hyper.ovulation_size, hyper.ovulation_spread);
    let mut all = Worst(0.0, String::new());
    for (i, season) in room(&world, CYCLES, &mut rng).iter().enumerate() {
        let last = season.looks.last().map_or(0, |l| l.day);
        let tonight = (10 + pick(&mut rng, 120)).min(last + 40);
        let cycle = cycle(&season.looks);
        let belief = model.follow(&cycle, opening() + tonight);
        let mut free = Grid::opening(&settings(&hyper), None);
        free.run(&season.looks, tonight);
        let mut worst = Worst(0.0, String::new());
        compare_now(&belief, &free, &mut worst);
        for size in [12.0, 22.0, 32.0, 40.0] {
            let at = (season.looks.as_slice(), tonight);
            compare_level(&belief, at, (size, free.mass()), &mut worst);
        }
        if worst.0 > all.0 {
            all = Worst(worst.0, format!("cycle {i}, {}; {:?}", worst.1, season.looks));
        }
    }
    assert!(all.0 <= 0.02, "{}", all.1);
}
