//! Following one cycle from evening to evening.

use units::Day;

use super::belief::Belief;
use super::check::{Cycle, Found};
use super::model::{Clock, LONGEST_WAIT, Model, in_time};

/// A cycle that is known whole, followed evening after evening with what was known on each.
///
/// Each evening goes on from the last check or mark before it, as [`Model::follow`] comes through it on
/// its way from the opening: beliefs are the same to the last bit. A lock acts from the day after its
/// evening on, so that one still to come changes nothing.
#[derive(Clone, Debug)]
pub struct Following {
    model: Model,
    cycle: Cycle,
    seen: Vec<(i32, Found)>,
    n_taken: usize,
    clock: Clock,
}

impl Following {
    /// From the opening of a cycle, of which checks and locks may lie beyond the evenings asked about.
    #[must_use]
    pub fn new(model: Model, cycle: Cycle) -> Self {
        let seen = in_time(&cycle, i32::MAX);
        let clock = Clock::opening(model.laid_out.opening.clone(), &cycle);
        Self { model, cycle, seen, n_taken: 0, clock }
    }

    /// The cycle as it is known whole.
    #[must_use]
    pub const fn cycle(&self) -> &Cycle {
        &self.cycle
    }

    /// The model it is followed by.
    #[must_use]
    pub const fn model(&self) -> &Model {
        &self.model
    }

    /// What is believed on the evening of `today`, after that evening's checks. Quick for evenings that
    /// come in order; any other is followed from the opening.
    #[must_use]
    pub fn on(&mut self, today: Day) -> Belief {
        let tonight = today.days_since(self.cycle.opened).max(0);
        let n = self.seen.partition_point(|(day, _)| *day <= tonight);
        if tonight < self.clock.day || self.has_waited_long(n, tonight) {
            return self.model.follow(&self.cycle, today);
        }
        let hyper = self.model.hyper();
        self.clock.see_all(hyper, &self.seen[self.n_taken..n]);
        self.n_taken = n;
        self.clock.advance(hyper, tonight / 7 * 7);
        let mut clock = self.clock.clone();
        clock.advance(hyper, tonight);
        self.model.belief(clock, today, self.seen[..n].last().map(|(day, _)| tonight - day))
    }

    /// Whether weeks are passed over on the way, which depends on when the next check comes.
    fn has_waited_long(&self, n: usize, tonight: i32) -> bool {
        let days = self.seen[..n].iter().map(|(day, _)| *day).chain([tonight]);
        let mut before = 0;
        days.into_iter().any(|day| {
            let waited = day - before;
            before = day;
            waited > LONGEST_WAIT
        })
    }
}

#[cfg(test)]
mod tests {
    use units::Millimetres;

    use super::super::check::{Check, Classes};
    use super::*;

    /// Numbers that look drawn by lot, 0 to 1.
    struct Lot(u64);

    impl Lot {
        fn draw(&mut self) -> f64 {
            self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            f64::from(u32::try_from(self.0 >> 33).unwrap()) / f64::from(u32::MAX >> 1)
        }

        #[expect(clippy::cast_possible_truncation, reason = "a few hundred days")]
        fn days(&mut self, most: f64) -> i32 {
            (self.draw() * most) as i32
        }
    }

    fn cycle(lot: &mut Lot, opened: Day) -> Cycle {
        let gap = if lot.draw() < 0.1 { 1000.0 } else { 25.0 };
        let (mut day, mut checks, mut locks) = (0, Vec::new(), Vec::new());
        for _ in 0..lot.days(14.0) {
            day += lot.days(gap);
            let size = 8.0 + 0.2 * f64::from(day.min(150)) + 3.0 * lot.draw();
            let found = match Classes::default().felt(2) {
                Some(felt) if lot.draw() < 0.3 => felt,
                _ => Found::Scan(Millimetres::new(size).unwrap()),
            };
            checks.push(Check { day: opened + day, found });
            if lot.draw() < 0.3 {
                locks.push(opened + day + lot.days(9.0));
            }
        }
        Cycle { opened, checks, locks }
    }

    /// The oracle: each evening followed from the opening with what was known then alone.
    #[test]
    fn going_on_is_following_anew_to_the_last_bit() {
        let mut lot = Lot(11);
        let hyper = crate::Hyper { lock_effect: 0.4, ..crate::Hyper::default() };
        let model = Model::new(hyper).unwrap();
        let opened: Day = "2025-11-04".parse().unwrap();
        for _ in 0..60 {
            let cycle = cycle(&mut lot, opened);
            let mut following = Following::new(model.clone(), cycle.clone());
            let mut day = opened + -2;
            for _ in 0..25 {
                let most = if lot.draw() < 0.05 { 500.0 } else { 20.0 };
                day = day + lot.days(most);
                let known = Cycle {
                    opened,
                    checks: cycle.checks.iter().filter(|c| c.day <= day).cloned().collect(),
                    locks: cycle.locks.iter().copied().filter(|lock| *lock < day).collect(),
                };
                let (anew, went_on) = (model.follow(&known, day), following.on(day));
                assert_eq!(went_on.tracks, anew.tracks, "{day:?} {known:?}");
                assert_eq!(went_on.days_since_check, anew.days_since_check);
                assert_eq!((went_on.days_open, went_on.today), (anew.days_open, anew.today));
            }
            let early = opened + 9;
            assert_eq!(following.on(early).tracks, model.follow(&cycle, early).tracks);
        }
    }
}
