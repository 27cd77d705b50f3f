//! When one female reaches one size, or ovulates.

use units::{Day, Estimate, Probability};

use super::ahead::{Growing, WEEKS_AHEAD};
use super::belief::Belief;
use super::passage::{Level, excess};
use super::quantile::{EIGHTY, Rising};
use super::track::{State, Track};

/// Something that happens when her follicles pass a size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Milestone {
    /// They pass this size, mm.
    Size(f64),
    /// She ovulates: they pass her own threshold.
    Ovulation,
}

/// How likely a milestone lies behind her, ahead of her, or does not come in this cycle.
///
/// *Passed* is about the largest size so far, so that a female who shrinks has still passed it.
/// *Ahead*: not passed, and will be within forty weeks. The three sum to one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Passage {
    /// Behind her.
    pub passed: Probability,
    /// Still to come.
    pub ahead: Probability,
    /// Does not come in this cycle.
    pub never: Probability,
}

impl Passage {
    /// Chance that it comes in this cycle at all, or has come.
    #[must_use]
    pub fn comes(&self) -> Probability {
        Probability::clamped(self.passed.get() + self.ahead.get())
    }
}

/// The outlook on one milestone.
#[derive(Clone, Debug)]
pub struct Outlook {
    /// Behind, ahead or never.
    pub passage: Passage,
    /// Chance that it comes within so many weeks from tonight (not having come before).
    within: Rising,
    today: Day,
}

/// Beyond this chance of having passed, no date is given.
const PASSED_FOR_SURE: f64 = 0.95;

const N: usize = WEEKS_AHEAD + 1;

impl Outlook {
    /// The first evening on which she is past it, on condition that she is not yet and will be;
    /// 80 % interval. `None` where it is passed with .95 or more, or cannot come any more.
    #[must_use]
    pub fn date(&self) -> Option<Estimate<Day>> {
        let ahead = self.passage.ahead.get();
        if self.passage.passed.get() >= PASSED_FOR_SURE || ahead <= 0.0 {
            return None;
        }
        let [low, median, high] = EIGHTY.map(|share| self.day_by(share * ahead));
        Some(Estimate {
            median,
            low,
            high,
            coverage: Probability::clamped(EIGHTY[2] - EIGHTY[0]),
            method: "first passage of the growing tracks, stalls ahead included",
        })
    }

    /// Chance that it has not come yet and comes within this many nights.
    #[must_use]
    pub fn within(&self, nights: u32) -> Probability {
        Probability::clamped(self.within.value(f64::from(nights) / 7.0))
    }

    /// Of its date, given that it is ahead: the share that lies within so many days from tonight.
    #[must_use]
    pub fn share_within(&self, days: f64) -> f64 {
        let ahead = self.passage.ahead.get().max(1e-300);
        (self.within.value(days.max(0.0) / 7.0) / ahead).clamp(0.0, 1.0)
    }

    /// Days from tonight within which that share of its date lies, given that it is ahead.
    #[must_use]
    pub fn days_at(&self, share: f64) -> f64 {
        self.within.at(share * self.passage.ahead.get()) * 7.0
    }

    /// Days from tonight with the chance that it comes then, about weekly.
    pub fn spread(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.within.steps().map(|(weeks, p)| (weeks * 7.0, p))
    }

    fn day_by(&self, chance: f64) -> Day {
        let days = (self.within.at(chance) * 7.0).ceil();
        #[expect(clippy::cast_possible_truncation, reason = "at most forty weeks")]
        let days = days as i32;
        self.today + days
    }
}

/// The first weeks are followed more closely: passing within a third and two thirds of each.
const CLOSELY: usize = 2;
const PARTS: [f64; 2] = [1.0 / 3.0, 2.0 / 3.0];

/// Chances, per week of growth from now on, that she passes in it; for the first weeks also by the
/// end of each part.
#[derive(Clone, Copy)]
struct Weeks {
    whole: [f64; N],
    parts: [[f64; PARTS.len()]; CLOSELY],
}

/// The same by her state tonight: growing, stalled, resting.
type ByState = [Weeks; 3];

impl Belief {
    /// The outlook on one milestone.
    #[must_use]
    pub fn outlook(&self, milestone: Milestone) -> Outlook {
        let hyper = &self.laid_out.hyper;
        let level = match milestone {
            Milestone::Size(size) => Level { size, variance: 0.0 },
            Milestone::Ovulation => Level {
                size: hyper.ovulation_size,
                variance: hyper.ovulation_spread * hyper.ovulation_spread,
            },
        };
        let seen_before = milestone == Milestone::Ovulation;
        let (mut passed, mut open) = (0.0, 0.0);
        let none = Weeks { whole: [0.0; N], parts: [[0.0; PARTS.len()]; CLOSELY] };
        let mut weeks = [none; 3];
        for t in &self.tracks {
            let now = passed_by_now(&level, t, hyper.wobble);
            let before = if seen_before { self.passed_when_checked(&level, t, now) } else { 0.0 };
            passed += t.weight * (now - before);
            open += t.weight * (1.0 - before);
            self.add_weeks(&level, t, now, &mut weeks);
        }
        self.outlook_from(passed / open.max(1e-12), &weeks, open.max(1e-12))
    }

    /// At her last check she had not ovulated, for there was a follicle to measure: chance that a
    /// track contradicts that. Between two marks the way back is exact; a stall since then is
    /// taken to have lasted since the check.
    fn passed_when_checked(&self, level: &Level, t: &Track, now: f64) -> f64 {
        match (self.days_since_check, t.state) {
            (None, _) => 0.0,
            (Some(days), State::Growing) => {
                let weeks = f64::from(days) / 7.0;
                let wobble = self.laid_out.hyper.wobble;
                let xx = t.xx - weeks * (2.0 * t.xv - weeks * t.vv + wobble * wobble);
                level.passed(t.x - t.v * weeks, xx.max(0.0)).min(now)
            }
            (Some(_), _) => now,
        }
    }

    fn add_weeks(&self, level: &Level, t: &Track, now: f64, weeks: &mut ByState) {
        let wobble = self.laid_out.hyper.wobble;
        let (into, first) = match t.state {
            State::Growing => (&mut weeks[0], self.to_mark()),
            State::Stalled => (&mut weeks[1], 1.0),
            State::Resting => (&mut weeks[2], 1.0),
            State::Never | State::Resorbing => return,
        };
        let (mut grown, mut length, mut before) = (0.0, first, now);
        for n in 0..N {
            if before > 1.0 - 1e-7 {
                break;
            }
            let by = |part: f64| level.passed_after(t, grown + part * length, wobble).max(before);
            if let Some(parts) = into.parts.get_mut(n) {
                for (sum, part) in parts.iter_mut().zip(PARTS) {
                    *sum += t.weight * (by(part) - before);
                }
            }
            let end = by(1.0);
            into.whole[n] += t.weight * (end - before);
            before = end;
            grown += length;
            length = 1.0;
        }
    }

    fn outlook_from(&self, passed: f64, weeks: &ByState, open: f64) -> Outlook {
        let ahead = &self.laid_out.ahead;
        let tables = [&ahead.from_growing, &ahead.from_stalled, &ahead.from_resting];
        let mut knots = Knots::default();
        let (mut start, mut length, mut total) = (0.0, self.to_mark(), 0.0);
        for k in 0..N {
            if k < CLOSELY {
                for (j, part) in PARTS.iter().enumerate() {
                    let by = total + in_week(&tables, weeks, k, |w, n| w.parts[n][j]) / open;
                    knots.push(start + part * length, by);
                }
            }
            total += in_week(&tables, weeks, k, |w, n| w.whole[n]) / open;
            start += length;
            length = 1.0;
            knots.push(start, total);
        }
        let passed = Probability::clamped(passed);
        let ahead = Probability::clamped(total.min(1.0 - passed.get()));
        let never = Probability::clamped(1.0 - passed.get() - ahead.get());
        let passage = Passage { passed, ahead, never };
        let within = Rising::through(knots.at, knots.value);
        Outlook { passage, within, today: self.today }
    }
}

/// Chance that she passes in calendar week `k`, `chance` being that in her n-th week of growth.
fn in_week(
    tables: &[&Growing; 3],
    weeks: &ByState,
    k: usize,
    chance: impl Fn(&Weeks, usize) -> f64,
) -> f64 {
    let one = |(table, w): (&&Growing, &Weeks)| {
        let row = table[k].iter().take(k + 1).enumerate();
        row.map(|(n, share)| share * chance(w, n)).sum::<f64>()
    };
    tables.iter().zip(weeks).map(one).sum()
}

/// Points of a rising curve that begins at nothing.
struct Knots {
    at: Vec<f64>,
    value: Vec<f64>,
}

impl Default for Knots {
    fn default() -> Self {
        let room = N + 1 + CLOSELY * PARTS.len();
        let mut knots = Self { at: Vec::with_capacity(room), value: Vec::with_capacity(room) };
        knots.push(0.0, 0.0);
        knots
    }
}

impl Knots {
    /// Adds a point; the value never falls.
    fn push(&mut self, at: f64, value: f64) {
        let last = self.value.last().copied().unwrap_or(0.0);
        self.at.push(at);
        self.value.push(value.max(last));
    }
}

fn passed_by_now(level: &Level, t: &Track, wobble: f64) -> f64 {
    match t.state {
        State::Growing | State::Stalled => level.passed_after(t, 0.0, wobble),
        State::Never | State::Resting => level.passed(t.x, t.xx),
        State::Resorbing => level.passed(t.peak + excess(t, wobble), t.pp),
    }
}
