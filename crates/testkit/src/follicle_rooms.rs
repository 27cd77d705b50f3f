//! Made-up seasons of made-up females, with the truth beside what a keeper would have written.

use rand::{Rng, RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal, StudentT};

use crate::follicle_grid::{GridSettings, Look, Seen};

/// One female-season: what was seen and what was true. Days count from the opening of the cycle.
#[derive(Clone, Debug)]
pub struct Season {
    /// The checks, in order of time.
    pub looks: Vec<Look>,
    /// Size on the evening of each day, mm; it goes on as if she did not ovulate.
    pub sizes: Vec<f64>,
    /// Her own rate while she grows, mm a week, where her world knows such a thing.
    pub rate: Option<f64>,
    /// Largest size so far on the evening of each day, mm.
    pub largest: Vec<f64>,
    /// The day on whose evening she has ovulated, if she does.
    pub ovulated: Option<i32>,
}

impl Season {
    /// The first evening on which her follicles are past `size`.
    #[must_use]
    pub fn passes(&self, size: f64) -> Option<i32> {
        let day = self.largest.iter().position(|x| *x > size)?;
        i32::try_from(day).ok()
    }
}

/// Which world the room lives in.
#[derive(Clone, Debug)]
pub enum World {
    /// The model's own equations with these constants, ovulation at this mean and spread.
    Shared(Box<GridSettings>, f64, f64),
    /// Curved growth, heavy-tailed errors, one error per evening in common, two in five never
    /// begin, resorption in a straight line. Shares no equation with the model.
    Foreign,
    /// The same, but half never begin, and a female who is seen after she has begun to shrink is
    /// not looked at again.
    ForeignUnwatched,
}

const DAYS: usize = 420;

/// The room's random source for a seed.
#[must_use]
pub fn source(seed: u64) -> ChaCha8Rng {
    ChaCha8Rng::seed_from_u64(seed)
}

/// A room of `n` females whose cycles all opened on one evening. Checks fall on common evenings,
/// twice a week; each female is looked at about every seventeen days until she ovulates.
#[must_use]
pub fn room(world: &World, n: usize, rng: &mut ChaCha8Rng) -> Vec<Season> {
    let shared: Vec<f64> = (0..DAYS).map(|_| normal(rng)).collect();
    (0..n)
        .map(|_| {
            let mut season = match world {
                World::Shared(s, mean, spread) => own_growth(s, *mean, *spread, rng),
                World::Foreign => foreign_growth(0.4, rng),
                World::ForeignUnwatched => foreign_growth(0.5, rng),
            };
            season.looks = looks(world, &season, &shared, rng);
            season
        })
        .collect()
}

fn normal(rng: &mut ChaCha8Rng) -> f64 {
    StandardNormal.sample(rng)
}

fn chance(rng: &mut ChaCha8Rng, p: f64) -> bool {
    rng.random::<f64>() < p
}

/// Millimetres below her largest by which a keeper sees that she shrinks.
const SHRINKS: f64 = 2.0;

fn looks(world: &World, season: &Season, shared: &[f64], rng: &mut ChaCha8Rng) -> Vec<Look> {
    let size = &season.sizes;
    let gives_up = matches!(world, World::ForeignUnwatched);
    let mut looks = Vec::new();
    let mut day = 0;
    while let Ok(i) = usize::try_from(day)
        && i < 200
        && season.ovulated.is_none_or(|o| day < o)
    {
        let seen = if chance(rng, 0.7) {
            Seen::Scan((size[i] + scan_error(world, shared[i], rng)).max(0.0))
        } else {
            felt(size[i] + 2.0 * normal(rng))
        };
        looks.push(Look { day, seen });
        if gives_up && size[i] < season.largest[i] - SHRINKS {
            break;
        }
        // Evenings of the round: days 0, 3, 7, 10, 14 ...
        let next = day + 10 + i32::from(rng.random::<u8>() % 15);
        day = next / 7 * 7 + if next % 7 < 3 { 0 } else { 3 };
    }
    looks
}

fn scan_error(world: &World, shared: f64, rng: &mut ChaCha8Rng) -> f64 {
    match world {
        World::Shared(s, ..) => {
            let times = if chance(rng, s.scan_gross) { s.scan_gross_times } else { 1.0 };
            s.scan_own * times * normal(rng) + s.scan_shared * shared
        }
        World::Foreign | World::ForeignUnwatched => {
            let own: f64 = StudentT::new(3.0).map_or(0.0, |t| t.sample(rng));
            0.9 * own.clamp(-12.0, 12.0) + shared
        }
    }
}

/// Cuts at 8, 17, 27 and 36 mm, as in the sheets of keepers (common practice, no source).
fn felt(size: f64) -> Seen {
    let cuts = [f64::NEG_INFINITY, 8.0, 17.0, 27.0, 36.0, f64::INFINITY];
    let i = cuts.iter().rposition(|c| *c <= size).unwrap_or(0);
    Seen::Felt(cuts[i], cuts[i + 1], 2.0)
}

#[derive(Clone, Copy, PartialEq)]
enum State {
    Never,
    Resting,
    Growing,
    Stalled,
    Resorbing,
}

/// A season nobody has looked at yet.
fn own_growth(s: &GridSettings, mean: f64, spread: f64, rng: &mut ChaCha8Rng) -> Season {
    let mut x = s.rest_size + s.rest_spread * normal(rng);
    let rate = s.rate + s.rate_spread * normal(rng);
    let threshold = mean + spread * normal(rng);
    let mut state = if chance(rng, s.never_starts) { State::Never } else { State::Resting };
    let mut largest = x;
    if state == State::Resting && chance(rng, s.begun_before) {
        state = State::Growing;
        let mut u: f64 = rng.random();
        let weeks = s.head_starts.iter().find(|(_, p)| {
            u -= p;
            u < 0.0
        });
        x += rate * weeks.map_or(1.0, |w| w.0)
            + s.wobble * weeks.map_or(1.0, |w| w.0).sqrt() * normal(rng);
        largest = largest.max(x);
    }
    let (mut sizes, mut tops) = (Vec::new(), Vec::new());
    let mut ovulated = None;
    for day in 0..DAYS {
        if day > 0 {
            let day_long = 1.0_f64 / 7.0;
            match state {
                State::Growing => {
                    let from = x;
                    let sd = s.wobble * day_long.sqrt();
                    x += rate * day_long + sd * normal(rng);
                    // Largest size of a Brownian bridge between two evenings.
                    let u: f64 = rng.random::<f64>().max(1e-300);
                    let d = x - from;
                    largest =
                        largest.max(0.5 * (from + x + (d * d - 2.0 * sd * sd * u.ln()).sqrt()));
                }
                State::Resorbing => {
                    let kept = s.resorb_keeps.powf(day_long);
                    x = s.rest_size
                        + (x - s.rest_size) * kept
                        + s.resorb_wobble * day_long.sqrt() * normal(rng);
                }
                _ => {}
            }
        }
        if day % 7 == 0 {
            state = switched(s, state, rng);
        }
        if ovulated.is_none() && largest > threshold {
            ovulated = i32::try_from(day).ok();
        }
        sizes.push(x);
        tops.push(largest);
    }
    Season { looks: Vec::new(), sizes, rate: Some(rate), largest: tops, ovulated }
}

fn switched(s: &GridSettings, state: State, rng: &mut ChaCha8Rng) -> State {
    let u: f64 = rng.random();
    match state {
        State::Resting if u < s.start_hazard => State::Growing,
        State::Growing if u < s.stall_hazard => State::Stalled,
        State::Growing if u < s.stall_hazard + s.resorb_growing_hazard => State::Resorbing,
        State::Stalled if u < s.restart_hazard => State::Growing,
        State::Stalled if u < s.restart_hazard + s.resorb_stalled_hazard => State::Resorbing,
        same => same,
    }
}

/// Growth that gathers speed and slackens, its pace drifting from day to day; that share never
/// begins.
fn foreign_growth(never: f64, rng: &mut ChaCha8Rng) -> Season {
    let rest = 5.5 + 5.0 * rng.random::<f64>();
    let pace = 1.3 + 1.5 * rng.random::<f64>();
    let begins =
        if chance(rng, never) { f64::INFINITY } else { -70.0 + 160.0 * rng.random::<f64>() };
    let turns = if chance(rng, 0.2) { 14.0 + 24.0 * rng.random::<f64>() } else { f64::INFINITY };
    let threshold = 38.0 + 8.0 * rng.random::<f64>();
    let fall = 0.25 + 0.4 * rng.random::<f64>();
    let (mut x, mut largest, mut pause, mut falling) = (rest, rest, 0, false);
    let mut drift: f64 = 0.0;
    let (mut sizes, mut tops) = (Vec::new(), Vec::new());
    let mut ovulated = None;
    for day in -100..i32::try_from(DAYS).unwrap_or(0) {
        drift = 0.97 * drift + 0.05 * normal(rng);
        if falling {
            x = (x - fall).max(rest - 1.0);
        } else if pause > 0 {
            pause -= 1;
        } else if f64::from(day) >= begins {
            let bend = 0.75 + 1.5 * (x / 45.0) * (1.0 - x / 60.0);
            x += (pace * bend * (1.0 + drift) / 7.0).max(0.0);
            if chance(rng, 0.007) {
                pause = 10 + i32::from(rng.random::<u8>() % 30);
            }
            falling = x > turns;
        }
        largest = largest.max(x);
        if day >= 0 {
            if ovulated.is_none() && largest > threshold {
                ovulated = Some(day);
            }
            sizes.push(x);
            tops.push(largest);
        }
    }
    Season { looks: Vec::new(), sizes, rate: None, largest: tops, ovulated }
}

/// A whole number from 0 to `below - 1`.
pub fn pick(rng: &mut impl Rng, below: i32) -> i32 {
    i32::try_from(rng.random::<u32>() % below.unsigned_abs().max(1)).unwrap_or(0)
}
