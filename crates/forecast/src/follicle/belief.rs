//! What is believed about one female tonight.

use std::sync::Arc;

use units::{Day, Estimate, Millimetres, Probability};

use super::check::Found;
use super::mixture::Mixture;
use super::model::{Clock, LaidOut};
use super::outlook::{Milestone, Passage};
use super::quantile::{EIGHTY, below_size, of_size};
use super::track::{State, Track};

/// Belief about one female on one evening.
#[derive(Clone, Debug)]
pub struct Belief {
    pub(crate) laid_out: Arc<LaidOut>,
    pub(crate) tracks: Vec<Track>,
    pub(crate) today: Day,
    pub(crate) days_open: i32,
    pub(crate) days_since_check: Option<i32>,
}

/// How likely each state is; they sum to one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StateChances {
    /// Not begun; may never begin in this cycle.
    pub resting: Probability,
    /// Growing.
    pub growing: Probability,
    /// Growth has stopped for now.
    pub stalled: Probability,
    /// Shrinking for good.
    pub resorbing: Probability,
}

/// Sizes to be expected on one day: shares of .1, .25, .5, .75 and .9 lie below, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SizeOn {
    /// The day, in the evening.
    pub day: Day,
    /// The five sizes, ascending.
    pub sizes: [f64; 5],
}

impl Belief {
    /// The evening it stands on.
    #[must_use]
    pub fn today(&self) -> Day {
        self.today
    }

    /// Size tonight with its 80 % interval, never below 0.
    #[must_use]
    pub fn size(&self) -> Estimate<Millimetres> {
        let [low, median, high] = of_size(&self.tracks, EIGHTY).map(millimetres);
        Estimate {
            median,
            low,
            high,
            coverage: Probability::clamped(EIGHTY[2] - EIGHTY[0]),
            method: "mixture of growth tracks",
        }
    }

    /// How likely each state is tonight.
    #[must_use]
    pub fn states(&self) -> StateChances {
        let of = |states: &[State]| {
            let share = self.tracks.iter().filter(|t| states.contains(&t.state));
            Probability::clamped(share.map(|t| t.weight).sum())
        };
        StateChances {
            resting: of(&[State::Never, State::Resting]),
            growing: of(&[State::Growing]),
            stalled: of(&[State::Stalled]),
            resorbing: of(&[State::Resorbing]),
        }
    }

    /// What would be believed after one more sighting tonight, and the logarithm of the likelihood
    /// of finding it.
    #[must_use]
    pub fn seen(&self, found: Found) -> (Self, f64) {
        let mixture = Mixture::from_tracks(self.tracks.clone());
        let mut clock = Clock { mixture, day: self.days_open, locks: Vec::new() };
        let foreseen = clock.see_all(&self.laid_out.hyper, &[(self.days_open, found)]);
        let after = Self {
            laid_out: Arc::clone(&self.laid_out),
            tracks: clock.mixture.tracks,
            days_since_check: Some(0),
            ..*self
        };
        (after, foreseen)
    }

    /// Whether she was looked at on this very evening.
    #[must_use]
    pub fn checked_tonight(&self) -> bool {
        self.days_since_check == Some(0)
    }

    /// The smallest and the largest size that a scan tonight might well show, and the least spread
    /// of what one history lets expect, mm.
    pub(crate) fn might_show(&self) -> [f64; 3] {
        let hyper = &self.laid_out.hyper;
        let error = hyper.scan_own * hyper.scan_own + hyper.scan_shared * hyper.scan_shared;
        let start = [f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY];
        self.tracks.iter().filter(|t| t.weight > 1e-3).fold(start, |[low, high, least], t| {
            let spread = (t.xx.max(0.0) + error).sqrt();
            [low.min(t.x - 3.5 * spread), high.max(t.x + 3.5 * spread), least.min(spread)]
        })
    }

    /// Her own rate while she grows, mm a week: mean and spread over what is believed tonight.
    #[must_use]
    pub fn rate(&self) -> (f64, f64) {
        let grows = |t: &&Track| t.state != State::Resorbing;
        let mut all: Option<Track> = None;
        for t in self.tracks.iter().filter(grows) {
            all = Some(match all {
                None => *t,
                Some(mut sum) => {
                    sum.absorb(t);
                    sum
                }
            });
        }
        let hyper = &self.laid_out.hyper;
        all.map_or((hyper.rate, hyper.rate_spread), |t| (t.v, t.vv.max(0.0).sqrt()))
    }

    /// How likely this size (mm) is passed, ahead, or not reached in this cycle.
    #[must_use]
    pub fn chance(&self, size_mm: f64) -> Passage {
        self.outlook(Milestone::Size(size_mm)).passage
    }

    /// When she reaches this size (mm): see [`super::outlook::Outlook::date`].
    #[must_use]
    pub fn reaches(&self, size_mm: f64) -> Option<Estimate<Day>> {
        self.outlook(Milestone::Size(size_mm)).date()
    }

    /// How likely ovulation is behind her (since the last check), ahead, or not in this cycle.
    #[must_use]
    pub fn chance_of_ovulation(&self) -> Passage {
        self.outlook(Milestone::Ovulation).passage
    }

    /// When she ovulates.
    #[must_use]
    pub fn ovulates(&self) -> Option<Estimate<Day>> {
        self.outlook(Milestone::Ovulation).date()
    }

    /// Chance that her size tonight lies from `low` to `high` mm; the ends may be infinite.
    #[must_use]
    pub fn chance_between(&self, low: f64, high: f64) -> Probability {
        let share = |t: &Track| t.weight * (below_size(t, high) - below_size(t, low));
        Probability::clamped(self.tracks.iter().map(share).sum())
    }

    /// Given that she is in the band from `low` mm up to `end` tonight: chance that she is beyond
    /// its end within this many nights. 0 where she is not in the band at all.
    ///
    /// That she would cross the whole band within these nights is left out of account.
    #[must_use]
    pub fn chance_leaves_band(&self, low: f64, end: Milestone, nights: u32) -> Probability {
        let high = match end {
            Milestone::Size(size) => size,
            Milestone::Ovulation => f64::INFINITY,
        };
        let inside = self.chance_between(low, high).get();
        if inside < 1e-9 {
            return Probability::ZERO;
        }
        Probability::clamped(self.outlook(end).within(nights).get() / inside)
    }

    /// Sizes to be expected on the coming days, for drawing; days before tonight are skipped.
    #[must_use]
    pub fn fan(&self, days: &[Day]) -> Vec<SizeOn> {
        let mut days: Vec<Day> = days.iter().copied().filter(|d| *d >= self.today).collect();
        days.sort_unstable();
        let mixture = Mixture::from_tracks(self.tracks.clone());
        let mut clock = Clock::going_on(mixture, self.days_open);
        days.into_iter()
            .map(|day| {
                clock.advance(
                    &self.laid_out.hyper,
                    self.days_open.saturating_add(day.days_since(self.today)),
                );
                let sizes = of_size(&clock.mixture.tracks, [0.1, 0.25, 0.5, 0.75, 0.9]);
                SizeOn { day, sizes: sizes.map(|s| s.max(0.0)) }
            })
            .collect()
    }

    /// Weeks from tonight to the next mark, above 0 and at most 1.
    pub(crate) fn to_mark(&self) -> f64 {
        f64::from(7 - self.days_open.rem_euclid(7)) / 7.0
    }
}

fn millimetres(size: f64) -> Millimetres {
    Millimetres::new(size.max(0.0)).unwrap_or(Millimetres::from_steps(0))
}
