//! When one female reaches one size, or ovulates.

use units::{Day, Estimate, Probability};

use super::ahead::WEEKS_AHEAD;
use super::belief::Belief;
use super::passage::{Level, excess};
use super::quantile::{EIGHTY, Rising};
use super::track::{State, Track};
use super::weeks::{ByState, CLOSELY, Moments, PARTS, Weeks, add_weeks, in_weeks};

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
pub const PASSED_FOR_SURE: f64 = 0.95;

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
        let mut weeks = [Weeks::NONE; 3];
        let ahead = [self.to_mark(), 1.0].map(Moments::of);
        for t in &self.tracks {
            let now = passed_by_now(&level, t, hyper.wobble);
            let before = if seen_before { self.passed_when_checked(&level, t, now) } else { 0.0 };
            passed += t.weight * (now - before);
            open += t.weight * (1.0 - before);
            add_weeks(&level, t, (now, hyper.wobble), &ahead, &mut weeks);
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

    fn outlook_from(&self, passed: f64, weeks: &ByState, open: f64) -> Outlook {
        let ahead = &self.laid_out.ahead;
        let tables = [&ahead.from_growing, &ahead.from_stalled, &ahead.from_resting];
        let whole = in_weeks(&tables, weeks, |w, n| w.whole[n]);
        let parts =
            [0, 1].map(|j| in_weeks(&tables, weeks, |w, n| w.parts.get(n).map_or(0.0, |p| p[j])));
        let mut knots = Knots::default();
        let (mut start, mut length, mut total) = (0.0, self.to_mark(), 0.0);
        for k in 0..N {
            for (part, by) in PARTS.iter().zip(&parts).filter(|_| k < CLOSELY) {
                knots.push(start + part * length, total + by[k] / open);
            }
            total += whole[k] / open;
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
