//! The model with its tables laid out, and the filter that follows one cycle.

use std::sync::Arc;

use units::Day;

use super::ahead::Ahead;
use super::belief::Belief;
use super::check::{Cycle, Found};
use super::hyper::{Hyper, HyperError, LOCK_DAYS};
use super::mixture::Mixture;
use super::number::Number;
use super::sighting::Sighting;

/// Days without a check after which nothing more is learned from waiting: the states have settled.
pub(crate) const LONGEST_WAIT: i32 = 420;

/// The follicle model, ready to follow cycles. Cheap to clone.
#[derive(Clone, Debug)]
pub struct Model {
    pub(crate) laid_out: Arc<LaidOut>,
}

/// Settings with what is computed from them once.
#[derive(Debug)]
pub(crate) struct LaidOut {
    pub(crate) hyper: Hyper,
    pub(crate) opening: Mixture,
    pub(crate) ahead: Arc<Ahead>,
}

impl Default for Model {
    fn default() -> Self {
        Self::of_sound(Hyper::default())
    }
}

impl Model {
    /// Lays out the model for these settings.
    ///
    /// # Errors
    /// [`HyperError`] for the first setting that is out of range.
    pub fn new(hyper: Hyper) -> Result<Self, HyperError> {
        hyper.check()?;
        Ok(Self::of_sound(hyper))
    }

    fn of_sound(hyper: Hyper) -> Self {
        let (opening, ahead) = (Mixture::opening(&hyper), Arc::new(Ahead::new(&hyper)));
        Self { laid_out: Arc::new(LaidOut { hyper, opening, ahead }) }
    }

    /// The settings in use.
    #[must_use]
    pub fn hyper(&self) -> &Hyper {
        &self.laid_out.hyper
    }

    /// The same model for a cycle of which the rate of growth is expected otherwise: mean and
    /// spread, mm a week.
    #[must_use]
    pub fn with_rate(&self, mean: f64, spread: f64) -> Self {
        let hyper = Hyper { rate: mean, rate_spread: spread, ..self.hyper().clone() };
        let opening = Mixture::opening(&hyper);
        let ahead = Arc::clone(&self.laid_out.ahead);
        Self { laid_out: Arc::new(LaidOut { hyper, opening, ahead }) }
    }

    /// What is believed about her on the evening of `today`, after that evening's checks.
    ///
    /// Checks later than `today` or earlier than the opening are not used. Checks may come in any
    /// order.
    #[must_use]
    pub fn follow(&self, cycle: &Cycle, today: Day) -> Belief {
        let tonight = today.days_since(cycle.opened).max(0);
        let seen = in_time(cycle, tonight);
        let mut clock = Clock::opening(self.laid_out.opening.clone(), cycle);
        clock.see_all(self.hyper(), &seen);
        clock.advance(self.hyper(), tonight);
        self.belief(clock, today, seen.last().map(|(day, _)| tonight - day))
    }

    /// What is believed when the clock stands on the evening of `today`.
    pub(crate) fn belief(&self, clock: Clock, today: Day, days_since_check: Option<i32>) -> Belief {
        let laid_out = Arc::clone(&self.laid_out);
        let Clock { mixture, day: days_open, .. } = clock;
        Belief { laid_out, tracks: mixture.tracks, today, days_open, days_since_check }
    }
}

/// The checks up to that day of the cycle, in order of time.
pub(crate) fn in_time(cycle: &Cycle, tonight: i32) -> Vec<(i32, Found)> {
    let days = cycle.checks.iter().map(|c| (c.day.days_since(cycle.opened), c.found));
    let mut seen: Vec<(i32, Found)> = days.filter(|(day, _)| (0..=tonight).contains(day)).collect();
    seen.sort_by_key(|(day, _)| *day);
    seen
}

/// How many of the days of a cycle after `from`, up to `to`, follow a seen lock.
pub(crate) fn days_after_lock(cycle: &Cycle, from: i32, to: i32) -> f64 {
    if cycle.locks.is_empty() {
        return 0.0;
    }
    let locks: Vec<i32> = cycle.locks.iter().map(|day| day.days_since(cycle.opened)).collect();
    after_lock(&locks, from, to)
}

fn after_lock(locks: &[i32], from: i32, to: i32) -> f64 {
    if locks.is_empty() {
        return 0.0;
    }
    let follows = |day: &i32| locks.iter().any(|l| (1..=LOCK_DAYS).contains(&(day - l)));
    (from + 1..=to).filter(follows).map(|_| 1.0).sum()
}

/// A mixture with the day it stands on, in days since the cycle opened.
#[derive(Clone, Debug)]
pub(crate) struct Clock<S = f64> {
    pub(crate) mixture: Mixture<S>,
    pub(crate) day: i32,
    /// Evenings of seen locks.
    pub(crate) locks: Vec<i32>,
}

impl<S: Number> Clock<S> {
    /// The evening on which the cycle opened.
    pub(crate) fn opening(mixture: Mixture<S>, cycle: &Cycle) -> Self {
        let locks = cycle.locks.iter().map(|day| day.days_since(cycle.opened)).collect();
        Self { mixture, day: 0, locks }
    }

    /// A belief with the days that follow; what a lock may still do is left out.
    pub(crate) const fn going_on(mixture: Mixture<S>, day: i32) -> Self {
        Self { mixture, day, locks: Vec::new() }
    }

    /// Takes in what was found, in order of time; returns the logarithm of its likelihood.
    pub(crate) fn see_all(&mut self, hyper: &Hyper<S>, seen: &[(i32, Found)]) -> S {
        let (mut found, mut sightings) = (Vec::new(), Vec::new());
        let mut foreseen = S::of(0.0);
        for evening in seen.chunk_by(|a, b| a.0 == b.0) {
            self.advance(hyper, evening[0].0);
            found.clear();
            found.extend(evening.iter().map(|(_, f)| *f));
            sightings.clear();
            Sighting::of_evening(hyper, &found, &mut sightings);
            foreseen += sightings.iter().map(|s| self.mixture.see(s)).sum::<S>();
        }
        foreseen
    }

    /// Lets days pass, marks included; a mark on the day itself comes before what is seen on it.
    pub(crate) fn advance(&mut self, hyper: &Hyper<S>, to: i32) {
        let wait = to - self.day;
        if wait > LONGEST_WAIT {
            self.day += (wait - LONGEST_WAIT) / 7 * 7;
        }
        while self.day < to {
            let mark = (self.day / 7 + 1) * 7;
            let stop = mark.min(to);
            let more = hyper.lock_effect * after_lock(&self.locks, self.day, stop) / 7.0;
            self.mixture.pass(hyper, f64::from(stop - self.day) / 7.0, more);
            if stop == mark {
                self.mixture.mark(hyper);
            }
            self.day = stop;
        }
    }
}
