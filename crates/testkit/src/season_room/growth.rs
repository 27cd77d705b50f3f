//! True follicles: when they begin, how fast they grow, where they stop or turn back.
//!
//! Not the forecast's own equations: growth gathers speed and slackens, its pace drifts from day
//! to day. Sizes and pace lie within common practice (no source): 1-3 mm a week, ovulation at
//! 40-45 mm. One in five never begins, some stand still for weeks, some go back.

use units::Day;

use super::diary::Key;
use super::dice::Dice;
use super::world::{FollicleTruth, World, date};

/// Month and day on which next season's follicles are drawn.
const DRAWN: (i8, i8) = (8, 15);
/// First begin, and days from the first to the last.
const FIRST_BEGIN_DAYS: i32 = 5;
const BEGINS_WITHIN: f64 = 160.0;

/// Growth while she grows, mm a week.
const SLOWEST: f64 = 1.0;
const FASTEST: f64 = 3.0;

/// One season of one female.
#[derive(Debug)]
pub(super) struct Cycle {
    pub drawn: Day,
    begins: Option<Day>,
    pace: f64,
    drift: f64,
    threshold: f64,
    /// Stands still from this size, for so many days.
    pause: Option<(f64, i32)>,
    paused: i32,
    /// Goes back from this size.
    turns: Option<f64>,
    turned: bool,
    rest: f64,
    pub size: f64,
    tenths: Vec<u16>,
    pub ovulated: Option<Day>,
    /// True copulations: night, male, size.
    pub matings: Vec<(Day, Key, f64)>,
    pub seen: Seen,
}

/// What the keeper knows of it, and what is coming after ovulation.
#[derive(Debug, Default)]
pub(super) struct Seen {
    /// Day and size as the keeper took it, 0 for nothing.
    pub checks: Vec<(Day, f64)>,
    /// Locks seen at each of the four sizes.
    pub locks: [u8; 4],
    /// Nights since the last lock at each of the four sizes, and the last of them.
    pub tries: [(u8, Option<Day>); 4],
    pub last_lock: Option<Key>,
    pub warmed: Option<Day>,
    pub ovulation_told_on: Option<Day>,
    pub told: bool,
    pub sheds_on: Option<Day>,
    pub lays_on: Option<Day>,
    pub resorbed: bool,
}

/// Every female's follicles on one more day.
pub(super) fn pass(world: &mut World) {
    if world.is(DRAWN.0, DRAWN.1) {
        draw(world);
    }
    if world.is(11, 1) {
        late_layers(world);
    }
    let today = world.today;
    for key in world.present() {
        if let Some(cycle) = &mut world.animals[key].cycle {
            grow(cycle, today, &mut world.dice.growth);
        }
    }
}

/// The season that had begun before the records did.
pub(super) fn before_records(world: &mut World) {
    let first = world.today;
    world.today = date(first.year(), DRAWN.0, DRAWN.1);
    draw(world);
    while world.today < first {
        pass_without_draw(world);
        world.today = world.today + 1;
    }
}

fn pass_without_draw(world: &mut World) {
    let today = world.today;
    for animal in &mut world.animals {
        if let Some(cycle) = &mut animal.cycle {
            grow(cycle, today, &mut world.dice.growth);
        }
    }
}

/// Draws next season for every female of size that is not carrying eggs. Begins are spread evenly
/// over the females, so that every year has some of each kind; the heaviest begin first.
fn draw(world: &mut World) {
    let mut females: Vec<(i64, Key)> = Vec::new();
    for key in world.present() {
        let animal = &world.animals[key];
        if animal.male || animal.mass < 1300.0 || carrying(animal.cycle.as_ref()) {
            continue;
        }
        let luck = world.dice.growth.between(-700.0, 700.0);
        #[expect(clippy::cast_possible_truncation, reason = "a few thousand grams")]
        females.push((-((animal.mass + luck) * 10.0) as i64, key));
    }
    females.sort_unstable();
    let n = females.len();
    let starting = n * 4 / 5;
    for (rank, (_, key)) in females.into_iter().enumerate() {
        close(world, key);
        let cycle = drawn(world.today, rank, starting, &mut world.dice.growth);
        world.animals[key].cycle = Some(cycle);
    }
}

/// Who still carried eggs in August rests this season.
fn late_layers(world: &mut World) {
    for key in world.present() {
        let animal = &world.animals[key];
        if !animal.male && animal.mass > 1300.0 && animal.cycle.is_none() {
            let cycle = drawn(world.today, usize::MAX, 0, &mut world.dice.growth);
            world.animals[key].cycle = Some(cycle);
        }
    }
}

fn carrying(cycle: Option<&Cycle>) -> bool {
    cycle.is_some_and(|c| c.ovulated.is_some())
}

fn drawn(today: Day, rank: usize, starting: usize, dice: &mut Dice) -> Cycle {
    let rest = dice.between(5.0, 8.5);
    let share = f64::from(u32::try_from(rank.min(starting)).unwrap_or(0))
        / f64::from(u32::try_from(starting.max(2) - 1).unwrap_or(1));
    // The square root leaves few early females and many in early winter.
    #[expect(clippy::cast_possible_truncation, reason = "below 200 days")]
    let wait = (BEGINS_WITHIN * (0.9 * share.sqrt() + 0.1 * share)) as i32 + FIRST_BEGIN_DAYS;
    let begins = (rank < starting).then(|| today + wait);
    // One in eight stands still for long, one in eight turns back; never the first two.
    let stalls = rank % 8 == 5;
    let turns = rank % 8 == 3;
    let early = if rank == 0 { 1.15 } else { 1.0 };
    Cycle {
        drawn: today,
        begins,
        pace: (2.05 + 0.22 * dice.normal()).clamp(1.4, 2.8) * early,
        drift: 0.0,
        threshold: (42.3 + 1.2 * dice.normal()).clamp(39.5, 45.5),
        pause: if stalls {
            Some((dice.between(17.0, 27.0), dice.whole(35, 60)))
        } else if !turns && dice.chance(0.25) {
            Some((dice.between(12.0, 36.0), dice.whole(6, 16)))
        } else {
            None
        },
        paused: 0,
        turns: turns.then(|| match rank {
            // Follicles of this one go back in midwinter, about when the records end.
            11 => dice.between(22.0, 25.0),
            _ => dice.between(16.0, 30.0),
        }),
        turned: false,
        rest,
        size: rest,
        tenths: Vec::new(),
        ovulated: None,
        matings: Vec::new(),
        seen: Seen::default(),
    }
}

fn grow(cycle: &mut Cycle, today: Day, dice: &mut Dice) {
    if cycle.ovulated.is_some() {
        return;
    }
    cycle.drift = 0.97 * cycle.drift + 0.04 * dice.normal();
    if cycle.turned {
        cycle.size = (cycle.size - 0.33).max(cycle.rest - 0.5);
    } else if cycle.paused > 0 {
        cycle.paused -= 1;
    } else if cycle.begins.is_some_and(|day| day <= today) {
        let x = cycle.size;
        let bend = 0.85 + 0.9 * (x / 45.0) * (1.0 - x / 60.0);
        cycle.size += (cycle.pace * bend * (1.0 + cycle.drift)).clamp(SLOWEST, FASTEST) / 7.0;
        if let Some((_, days)) = cycle.pause.take_if(|(at, _)| cycle.size >= *at) {
            cycle.paused = days;
        }
        cycle.turned = cycle.turns.is_some_and(|at| cycle.size >= at);
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 50 mm")]
    cycle.tenths.push((cycle.size * 10.0 + 0.5) as u16);
    if cycle.size >= cycle.threshold {
        cycle.ovulated = Some(today);
    }
}

/// Keeps the truth of a season that is over.
pub(super) fn close(world: &mut World, key: Key) {
    if let Some(cycle) = world.animals[key].cycle.take() {
        let truth = FollicleTruth { female: key, from: cycle.drawn, tenths: cycle.tenths };
        world.truth.follicles.push(truth);
    }
}
