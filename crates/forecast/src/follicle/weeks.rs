//! How likely she passes a level in each week of growth from tonight on.

use super::ahead::{Growing, WEEKS_AHEAD};
use super::below_each::below_each;
use super::passage::Level;
use super::track::{State, Track};

const N: usize = WEEKS_AHEAD + 1;

/// Of a track that has passed with a larger chance nothing is ahead.
const SURELY: f64 = 1.0 - 1e-7;

/// So many spreads beyond a level the chance is larger than [`SURELY`].
const SURE: f64 = 5.4;

/// So many spreads before a level the chance to have passed it is below 1e-30 and left out.
const HOPELESS: f64 = 12.0;

/// The first weeks are followed more closely: passing within a third and two thirds of each.
pub const CLOSELY: usize = 2;
pub const PARTS: [f64; 2] = [1.0 / 3.0, 2.0 / 3.0];

/// Weeks of growth from tonight to the end of each, and to the end of each part of the first.
pub struct Moments {
    ends: [f64; N],
    parts: [f64; CLOSELY * PARTS.len()],
}

impl Moments {
    /// The first week of growth is so long, and every other whole.
    pub fn of(first: f64) -> Self {
        let mut moments = Self { ends: [0.0; N], parts: [0.0; CLOSELY * PARTS.len()] };
        let (mut grown, mut length) = (0.0, first);
        for n in 0..N {
            for (j, part) in PARTS.iter().enumerate().filter(|_| n < CLOSELY) {
                moments.parts[n * PARTS.len() + j] = grown + part * length;
            }
            grown += length;
            length = 1.0;
            moments.ends[n] = grown;
        }
        moments
    }
}

/// Chances, per week of growth from now on, that she passes in it; for the first weeks also by the
/// end of each part.
#[derive(Clone, Copy)]
pub struct Weeks {
    pub whole: [f64; N],
    pub parts: [[f64; PARTS.len()]; CLOSELY],
}

impl Weeks {
    pub const NONE: Self = Self { whole: [0.0; N], parts: [[0.0; PARTS.len()]; CLOSELY] };

    /// Adds a track of that weight that had passed with the chance `before` and will have with the
    /// chances `ends` by the end of each week and `parts` by that of each part.
    fn add(&mut self, weight: f64, mut before: f64, ends: &[f64], parts: &[f64]) {
        for (n, end) in ends.iter().enumerate() {
            if before > SURELY {
                break;
            }
            if let Some(sums) = self.parts.get_mut(n) {
                for (sum, by) in sums.iter_mut().zip(&parts[n * PARTS.len()..]) {
                    *sum += weight * (by.max(before) - before);
                }
            }
            let end = end.max(before);
            self.whole[n] += weight * (end - before);
            before = end;
        }
    }
}

/// The same by her state tonight: growing, stalled, resting.
pub type ByState = [Weeks; 3];

/// Adds what one track brings. She had passed by tonight with the chance `now`.
pub fn add_weeks(
    level: &Level,
    t: &Track,
    (now, wobble): (f64, f64),
    [from_now, from_mark]: &[Moments; 2],
    weeks: &mut ByState,
) {
    let (into, moments) = match t.state {
        State::Growing => (&mut weeks[0], from_now),
        State::Stalled => (&mut weeks[1], from_mark),
        State::Resting => (&mut weeks[2], from_mark),
        State::Never | State::Resorbing => return,
    };
    if now > SURELY {
        return;
    }
    let mut ends = level.beyond_after(t, &moments.ends, wobble);
    let mut parts = level.beyond_after(t, &moments.parts, wobble);
    let hopeless = ends.iter().take_while(|z| **z < -HOPELESS).count();
    let counts = ends.iter().position(|z| *z > SURE).map_or(N, |last| last + 1);
    ends[..hopeless].fill(0.0);
    below_each(&mut ends[hopeless..counts]);
    below_each(&mut parts);
    into.add(t.weight, now, &ends[..counts], &parts);
}

/// Chance that she passes in each calendar week, `chance` being that in her n-th week of growth.
pub fn in_weeks(
    tables: &[&Growing; 3],
    weeks: &ByState,
    chance: impl Fn(&Weeks, usize) -> f64,
) -> [f64; N] {
    let mut all = [0.0; N];
    for (table, w) in tables.iter().zip(weeks) {
        let mut sums = [0.0; N];
        for (n, row) in table.iter().enumerate() {
            let chance = chance(w, n);
            if chance > 0.0 {
                // No sooner than in the n-th week ahead.
                for (sum, share) in sums[n..].iter_mut().zip(&row[n..]) {
                    *sum += share * chance;
                }
            }
        }
        all.iter_mut().zip(sums).for_each(|(all, sum)| *all += sum);
    }
    all
}
