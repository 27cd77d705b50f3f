//! How often dates hold. Every female-season is asked once, on an evening chosen without a look at
//! the truth; a date is scored where its own condition came true: not passed by then, and reached
//! within forty weeks. (Scoring only females known not to have passed, or dates of those who pass
//! soon, would flatter or shame the forecast by selection.)

use forecast::{Belief, Hyper, Milestone, Model};
use testkit::follicle_rooms::{Season, World, pick, room, source};

use crate::made::{cycle, opening, shared};

/// Rooms of forty, so that an evening's common error is shared by many.
const ROOM: usize = 40;
const SHARED_ROOMS: usize = 17;
const FOREIGN_ROOMS: usize = 9;

#[derive(Default)]
struct Tally {
    seasons: usize,
    dates: usize,
    below: usize,
    within: usize,
    above: usize,
    brier: f64,
    asked: usize,
}

impl Tally {
    #[expect(clippy::cast_precision_loss, reason = "a few thousand")]
    fn held(&self) -> f64 {
        self.within as f64 / self.dates.max(1) as f64
    }

    #[expect(clippy::cast_precision_loss, reason = "a few thousand")]
    fn print(&self, name: &str) {
        let share = |n: usize| 100.0 * n as f64 / self.dates.max(1) as f64;
        println!(
            "  {name:<34} {:>5} seasons {:>5} dates: {:>4.1} % before, {:>4.1} % held, \
             {:>4.1} % after; Brier of ahead {:.3}",
            self.seasons,
            self.dates,
            share(self.below),
            share(self.within),
            share(self.above),
            self.brier / self.asked.max(1) as f64,
        );
    }
}

pub fn check() -> bool {
    println!("\nDates of simulated female-seasons, 80 % intervals:");
    let own = run(&shared(&Hyper::default()), SHARED_ROOMS, 2026);
    own.print("the model's own equations");
    let foreign = run(&World::Foreign, FOREIGN_ROOMS, 2027);
    foreign.print("foreign equations");
    let n = own.dates + foreign.dates;
    #[expect(clippy::cast_precision_loss, reason = "a few thousand")]
    let all = (own.within + foreign.within) as f64 / n.max(1) as f64;
    println!("  together: {:.1} % of {n} dates held", 100.0 * all);
    (0.75..=0.85).contains(&all)
        && (0.75..=0.85).contains(&own.held())
        && (0.72..=0.88).contains(&foreign.held())
}

fn run(world: &World, rooms: usize, seed: u64) -> Tally {
    let model = Model::default();
    let mut rng = source(seed);
    let mut tally = Tally::default();
    for _ in 0..rooms {
        for season in room(world, ROOM, &mut rng) {
            let tonight = pick(&mut rng, 150);
            let belief = model.follow(&cycle(&season.looks), opening() + tonight);
            tally.seasons += 1;
            score(&season, &belief, tonight, &mut tally);
        }
    }
    tally
}

fn score(season: &Season, belief: &Belief, tonight: i32, tally: &mut Tally) {
    let sizes = [12.0, 22.0, 32.0, 40.0].map(|s| (Milestone::Size(s), season.passes(s)));
    for (milestone, truth) in sizes.into_iter().chain([(Milestone::Ovulation, season.ovulated)]) {
        let outlook = belief.outlook(milestone);
        let comes = truth.filter(|day| (tonight + 1..=tonight + 273).contains(day));
        let hit = if comes.is_some() { 1.0 } else { 0.0 };
        tally.asked += 1;
        tally.brier += (outlook.passage.ahead.get() - hit).powi(2);
        if let (Some(day), Some(date)) = (comes, outlook.date()) {
            let day = opening() + day;
            tally.dates += 1;
            if day < date.low {
                tally.below += 1;
            } else if day > date.high {
                tally.above += 1;
            } else {
                tally.within += 1;
            }
        }
    }
}
