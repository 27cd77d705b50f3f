//! How well sizes on coming days are foreseen: 80 % intervals at every horizon, an even spread of
//! the truth over the forecasts, and the score beside two simpler ways of foreseeing.
//!
//! Every female is asked once, on an evening chosen without a look at the truth, while nobody has
//! seen her ovulate; her size then goes on as if she did not, for the model says nothing else.

use forecast::calibration::crps::by_share;
use forecast::{Belief, Cycle, Hyper, Model};
use testkit::follicle_grid::{Look, Seen};
use testkit::follicle_rooms::{Season, World, pick, room, source};

use crate::made::{cycle, opening, shared};
use crate::report::Report;

/// Nights ahead.
pub const HORIZONS: [i32; 9] = [3, 7, 10, 14, 21, 30, 40, 50, 60];
const ROOM: usize = 40;
const SEASONS: usize = 2_000;
/// For the spread of the truth: the distance of 2,000 perfect forecasts would exceed .02 in two
/// cases of five.
const MANY: usize = 20_000;

/// What a way of foreseeing must do.
pub struct Bounds {
    /// Share of 80 % intervals that hold.
    pub held: (f64, f64),
    /// Farthest from an even spread; none where the world's equations are others.
    pub distance: Option<f64>,
    /// Largest part of the Brier score that is owed to chances being off the mark.
    pub off_the_mark: f64,
}

pub const OWN: Bounds = Bounds { held: (0.77, 0.83), distance: Some(0.02), off_the_mark: 0.002 };
pub const FOREIGN: Bounds = Bounds { held: (0.72, 0.88), distance: None, off_the_mark: 0.03 };

pub fn check(report: &mut Report) {
    println!("\nSizes on coming days, {SEASONS} female-seasons at each horizon, 80 % intervals:");
    run("own equations", &shared(&Hyper::default()), &OWN, 2041, report);
    run("foreign equations", &World::Foreign, &FOREIGN, 2042, report);
    run("foreign, unwatched when shrinking", &World::ForeignUnwatched, &FOREIGN, 2043, report);
}

/// One asked: the season and the evening.
pub struct Asked {
    pub season: Season,
    pub tonight: i32,
}

/// Female-seasons with an evening each.
pub fn asked(world: &World, n: usize, seed: u64) -> Vec<Asked> {
    let mut rng = source(seed);
    let mut all = Vec::with_capacity(n);
    while all.len() < n {
        for season in room(world, ROOM, &mut rng) {
            let tonight = pick(&mut rng, 150);
            if season.ovulated.is_none_or(|day| day > tonight) {
                all.push(Asked { season, tonight });
            }
        }
    }
    all.truncate(n);
    all
}

impl Asked {
    /// What is known by then.
    pub fn known(&self) -> Vec<Look> {
        self.season.looks.iter().copied().filter(|look| look.day <= self.tonight).collect()
    }

    fn size_on(&self, day: i32) -> f64 {
        usize::try_from(day).ok().and_then(|i| self.season.sizes.get(i)).copied().unwrap_or(0.0)
    }
}

#[expect(clippy::cast_precision_loss, reason = "a few thousand")]
fn run(name: &str, world: &World, bounds: &Bounds, seed: u64, report: &mut Report) {
    println!(" {name}:");
    let model = Model::default();
    let few = asked(world, SEASONS, seed);
    let cycles: Vec<Cycle> = few.iter().map(|a| cycle(&a.known())).collect();
    let mut score = [0.0; 4];
    for nights in HORIZONS {
        let (mut below, mut held) = (0usize, 0usize);
        let mut here = [0.0; 4];
        for (a, cycle) in few.iter().zip(&cycles) {
            let belief = model.follow(cycle, opening() + a.tonight + nights);
            let truth = a.size_on(a.tonight + nights);
            let size = belief.size();
            below += usize::from(truth < size.low.get());
            held += usize::from(truth >= size.low.get() && truth <= size.high.get());
            here[0] += crps(&belief, truth);
            let line = straight_line(&a.known(), a.tonight + nights);
            here[1] += (line - truth).abs();
            here[2] += (a_month_between(&a.known(), a.tonight + nights) - truth).abs();
            here[3] += (size.median.get() - truth).abs();
        }
        let n = few.len() as f64;
        let (below, held) = (below as f64 / n, held as f64 / n);
        let good = (bounds.held.0..=bounds.held.1).contains(&held);
        here.iter_mut().for_each(|s| *s /= n);
        score.iter_mut().zip(here).for_each(|(sum, s)| *sum += s / HORIZONS.len() as f64);
        report.line(
            good,
            &format!(
                "{nights:>3} nights: {:.1} % held, {:.1} % smaller, {:.1} % larger; score {:.2} mm, \
                 line {:.2}, a month {:.2}",
                100.0 * held,
                100.0 * below,
                100.0 * (1.0 - held - below),
                here[0],
                here[1],
                here[2],
            ),
        );
    }
    for (i, what) in [(1, "straight line"), (2, "a month between sizes")] {
        let better = 1.0 - score[0] / score[i];
        let text = format!("score {:.0} % better than {what}", 100.0 * better);
        report.line(better >= 0.25, &text);
    }
    report.tell(&format!("error of the median {:.2} mm", score[3]));
    spread(&model, world, bounds, seed + 100, report);
}

/// One value per female: the share of her forecast below the truth, at a horizon of her own.
#[expect(clippy::cast_precision_loss, reason = "a few thousand")]
fn spread(model: &Model, world: &World, bounds: &Bounds, seed: u64, report: &mut Report) {
    let many = asked(world, MANY, seed);
    let mut shares: Vec<f64> = many
        .iter()
        .enumerate()
        .map(|(i, a)| {
            let nights = 3 + i32::try_from(i % 58).unwrap_or(0);
            let belief = model.follow(&cycle(&a.known()), opening() + a.tonight + nights);
            belief.chance_between(f64::NEG_INFINITY, a.size_on(a.tonight + nights)).get()
        })
        .collect();
    shares.sort_by(f64::total_cmp);
    let n = shares.len() as f64;
    let off = |(i, u): (usize, &f64)| (u - i as f64 / n).abs().max((u - (i + 1) as f64 / n).abs());
    let distance = shares.iter().enumerate().map(off).fold(0.0, f64::max);
    let text = format!("{MANY} females, one value each: distance from even {distance:.4}");
    match bounds.distance {
        Some(limit) => report.line(distance <= limit, &text),
        None => report.tell(&text),
    }
}

fn crps(belief: &Belief, truth: f64) -> f64 {
    let share = |size: f64| belief.chance_between(f64::NEG_INFINITY, size).get();
    by_share(share, (-10.0, 110.0), 6.0, truth)
}

/// The middle of what was seen; open classes end at 4 and 40 mm.
pub fn middle(look: &Look) -> f64 {
    match look.seen {
        Seen::Scan(size) => size,
        Seen::Felt(from, to, _) => {
            if from.is_infinite() {
                4.0
            } else if to.is_infinite() {
                40.0
            } else {
                0.5 * (from + to)
            }
        }
    }
}

/// The line through the last two checks, drawn on; with one check, 2 mm a week (common practice,
/// no source: 1-3).
pub fn straight_line(known: &[Look], day: i32) -> f64 {
    let (last, slope) = last_and_slope(known);
    last.1 + slope * f64::from(day - last.0)
}

/// Day and size of the last check, and mm a day.
pub fn last_and_slope(known: &[Look]) -> ((i32, f64), f64) {
    let [.., last] = known else { return ((0, 8.0), 2.0 / 7.0) };
    let here = (last.day, middle(last));
    match known {
        [.., before, last] if last.day > before.day => {
            (here, (here.1 - middle(before)) / f64::from(last.day - before.day))
        }
        _ => (here, 2.0 / 7.0),
    }
}

/// About a month between the sizes of the trade, 12, 22, 32 and 40 mm (common practice, no source).
pub fn a_month_between(known: &[Look], day: i32) -> f64 {
    let (last, _) = last_and_slope(known);
    last.1 + 10.0 / 30.4 * f64::from(day - last.0)
}
