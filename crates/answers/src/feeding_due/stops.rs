//! At which size of follicles she stops eating: common practice, moved by her own earlier cycles.

use forecast::follicle::normal::below;
use records::{Colony, Found, Meal, RecordId};
use units::Day;

use crate::cycle::past_cycles;
use crate::settings::Feeding;

/// Most females stop at 20-25 mm (common practice, no source), read as nine in ten by the lower end:
/// the mean lies this far above it, mm.
const MIDDLE: f64 = 2.5;
/// Spread of that size between females, mm; our choice.
const BETWEEN: f64 = 1.6;
/// Chance below the lower end; with the two above it decides the spread between cycles of one.
const TENTH: f64 = 1.281_551_565_545;
/// Error of a size read between two scans, mm; our choice, somewhat under that of one scan.
const READ: f64 = 1.2;
/// Two scans further apart than this say nothing of what lies between; days, our choice.
const APART_DAYS: i32 = 35;
/// A single scan says something of days this near; our choice.
const NEAR_DAYS: i32 = 10;
/// Refused feeding days in a row to the end of the cycle from which she had stopped; our choice.
const LEAST_REFUSED: usize = 2;

/// One earlier cycle in which she stopped eating.
#[derive(Clone, Debug, PartialEq)]
pub struct Stopped {
    /// The day halfway between her last meal and the first refused.
    pub day: Day,
    /// Her size then, read between scans, mm.
    pub mm: f64,
    /// The last meal taken, the first refused, the scans.
    pub records: Vec<RecordId>,
}

/// The size at which she is expected to stop, as a normal distribution.
#[derive(Clone, Debug, PartialEq)]
pub struct Stops {
    /// Mean, mm.
    pub mean: f64,
    /// Spread, mm.
    pub spread: f64,
    /// Her own earlier cycles, oldest first.
    pub own: Vec<Stopped>,
}

impl Stops {
    /// Common practice moved by what she did: conjugate normal updating with known spreads.
    #[must_use]
    pub fn of(own: Vec<Stopped>, off_food_from: f64) -> Self {
        let within = (MIDDLE / TENTH).powi(2) - BETWEEN * BETWEEN;
        let seen = within + READ * READ;
        #[expect(clippy::cast_precision_loss, reason = "a handful of cycles")]
        let n = own.len() as f64;
        let sum: f64 = own.iter().map(|s| s.mm).sum();
        let known = 1.0 / (BETWEEN * BETWEEN) + n / seen;
        let usual = off_food_from + MIDDLE;
        let mean = (usual / (BETWEEN * BETWEEN) + sum / seen) / known;
        Self { mean, spread: (1.0 / known + within).sqrt(), own }
    }

    /// The size from which a female like her off food is ordinary: one in ten has stopped by then.
    #[must_use]
    pub fn ordinary_from(&self) -> f64 {
        self.mean - TENTH * self.spread
    }

    /// Chance that she has stopped by that size.
    #[must_use]
    pub fn by(&self, mm: f64) -> f64 {
        below((mm - self.mean) / self.spread)
    }
}

/// At which size the female at `place` stops eating.
#[must_use]
pub fn stops(colony: &Colony, place: usize, feeding: &Feeding) -> Stops {
    let closed = past_cycles(colony, place, colony.as_of.day);
    let own = closed.into_iter().filter_map(|(from, to)| stopped(colony, place, (from, to)));
    Stops::of(own.collect(), feeding.off_food_from)
}

/// Where a cycle ended with refused meals: when and at which size they began.
fn stopped(colony: &Colony, place: usize, (from, to): (Day, Day)) -> Option<Stopped> {
    let animal = &colony.animals[place];
    // What is refused after ovulation says nothing of sizes.
    let to = animal.ovulated.iter().map(|o| o.day).find(|d| from <= *d && *d <= to).unwrap_or(to);
    let inside = animal.meals.iter().filter(|m| from <= m.day && m.day <= to);
    let mut days: Vec<(Day, bool, RecordId)> = Vec::new();
    for meal in inside {
        let ate = meal.what.meal == Meal::Taken;
        match days.last_mut() {
            Some(last) if last.0 == meal.day => last.1 |= ate,
            _ => days.push((meal.day, ate, meal.record)),
        }
    }
    let last = days.iter().rposition(|d| d.1)?;
    if days.len() - last - 1 < LEAST_REFUSED {
        return None;
    }
    let (ate, refused) = (days[last], days[last + 1]);
    let day = ate.0 + refused.0.days_since(ate.0) / 2;
    let (mm, scans) = size_on(colony, place, (from, to), day)?;
    Some(Stopped { day, mm, records: [ate.2, refused.2].into_iter().chain(scans).collect() })
}

/// Her size on a day of an earlier cycle, read between scans.
fn size_on(
    colony: &Colony,
    place: usize,
    (from, to): (Day, Day),
    day: Day,
) -> Option<(f64, Vec<RecordId>)> {
    let scans: Vec<(Day, f64, RecordId)> = colony.animals[place]
        .checks
        .iter()
        .filter(|c| from <= c.day && c.day <= to)
        .filter_map(|c| match &c.what {
            Found::Scan(sizes) => Some((c.day, sizes.iter().max()?.get(), c.record)),
            _ => None,
        })
        .collect();
    let before = scans.iter().rfind(|s| s.0 <= day);
    let after = scans.iter().find(|s| s.0 > day);
    match (before, after) {
        (Some(a), Some(b)) if b.0.days_since(a.0) <= APART_DAYS => {
            let share = f64::from(day.days_since(a.0)) / f64::from(b.0.days_since(a.0));
            Some((a.1 + share * (b.1 - a.1), vec![a.2, b.2]))
        }
        _ => {
            let near = |s: &&(Day, f64, RecordId)| day.days_since(s.0).abs() <= NEAR_DAYS;
            let nearest = scans.iter().filter(near).min_by_key(|s| day.days_since(s.0).abs())?;
            Some((nearest.1, vec![nearest.2]))
        }
    }
}
