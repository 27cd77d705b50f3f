//! Locks: what was answered in the morning, and how often a male locks.

use units::Probability;

use crate::rules::Rules;

/// The answer to "did they lock?" on one night.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LockOutcome {
    /// A lock was seen.
    Seen,
    /// A lock was suspected.
    Suspected,
    /// Somebody looked and saw none.
    NoneSeen,
    /// Nobody looked.
    NotLooked,
}

/// Locks and the nights on which somebody looked.
///
/// Our own choice: a suspected lock is half a lock, and a night without a look is no evidence
/// about him either way.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LockTally {
    /// Locks, a suspected one counting half.
    pub locks: f64,
    /// Nights on which somebody looked.
    pub nights: f64,
}

impl LockTally {
    /// Counts the answers.
    pub fn of(outcomes: impl IntoIterator<Item = LockOutcome>) -> Self {
        let mut tally = Self::default();
        for outcome in outcomes {
            let (locks, nights) = match outcome {
                LockOutcome::Seen => (1.0, 1.0),
                LockOutcome::Suspected => (0.5, 1.0),
                LockOutcome::NoneSeen => (0.0, 1.0),
                LockOutcome::NotLooked => (0.0, 0.0),
            };
            tally.locks += locks;
            tally.nights += nights;
        }
        tally
    }

    /// Both tallies together.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self { locks: self.locks + other.locks, nights: self.nights + other.nights }
    }

    /// Locks per night, shrunk to `toward` as if `held_by` nights had shown it.
    #[must_use]
    pub fn rate(self, toward: Probability, held_by: f64) -> Probability {
        let nights = self.nights + held_by.max(0.0);
        if nights > 0.0 {
            Probability::clamped((self.locks + held_by.max(0.0) * toward.get()) / nights)
        } else {
            toward
        }
    }
}

/// The room's lock rate: all its nights, held by the rate of a room without records.
#[must_use]
pub fn room_rate(tallies: impl IntoIterator<Item = LockTally>, rules: &Rules) -> Probability {
    tallies
        .into_iter()
        .fold(LockTally::default(), LockTally::and)
        .rate(rules.lock_rate_unknown, rules.shrink_nights)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ten_nights_pull_a_rate_to_the_rooms() {
        let own = LockTally { locks: 6.0, nights: 10.0 };
        let rate = own.rate(Probability::clamped(0.2), 10.0);
        assert!((rate.get() - 0.4).abs() < 1e-15, "half own .6, half the room's .2");
        let none = LockTally::default().rate(Probability::clamped(0.2), 10.0);
        assert_eq!(none, Probability::clamped(0.2));
    }

    #[test]
    fn a_night_nobody_looked_says_nothing_about_him() {
        use LockOutcome::{NoneSeen, NotLooked, Seen, Suspected};
        let tally = LockTally::of([Seen, Suspected, NoneSeen, NotLooked, NotLooked]);
        assert_eq!(tally, LockTally { locks: 1.5, nights: 3.0 });
    }
}
