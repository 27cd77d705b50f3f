//! How many days lie between two events, learned from those that were seen.

use std::sync::Arc;

use crate::follicle::quantile::EIGHTY;
use crate::student;

/// A duration in whole days between two events: what is believed of the next one.
///
/// Durations are taken to be normal about an unknown mean with an unknown variance. With the usual
/// conjugate prior (normal and scaled inverse chi-squared; Gelman et al. 2013, Bayesian Data
/// Analysis, 3rd edition, section 3.3) the next one is Student's t, whatever was seen.
///
/// Both days are whole ones, so a duration is known to within a day; the rounding adds about a
/// sixth of a squared day to a variance of ten or more and is left as it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Duration {
    belief: MeanAndSpread,
    sane: (f64, f64),
    /// How many were seen and used.
    pub seen: usize,
    /// How many were seen and left out, as no such duration can be: a wrong date most likely.
    pub left_out: usize,
    by_day: ByDay,
    is_by_temperature: bool,
}

/// What is believed of mean and variance: mean given variance is normal with variance / `counts`,
/// the variance is scaled inverse chi-squared with `freedom` and `scale` squared.
#[derive(Clone, Copy, Debug, PartialEq)]
struct MeanAndSpread {
    mean: f64,
    counts: f64,
    freedom: f64,
    scale: f64,
}

impl MeanAndSpread {
    /// Gelman et al. (2013), section 3.3: the sums of a normal sample update the four numbers.
    fn after(self, days: &[f64]) -> Self {
        if days.is_empty() {
            return self;
        }
        #[expect(clippy::cast_precision_loss, reason = "a few thousand clutches")]
        let n = days.len() as f64;
        let average = days.iter().sum::<f64>() / n;
        let about: f64 = days.iter().map(|d| (d - average).powi(2)).sum();
        let counts = self.counts + n;
        let freedom = self.freedom + n;
        let apart = self.counts * n / counts * (average - self.mean).powi(2);
        let squares = self.freedom * self.scale.powi(2) + about + apart;
        Self {
            mean: (self.counts * self.mean + n * average) / counts,
            counts,
            freedom,
            scale: (squares / freedom).sqrt(),
        }
    }

    /// Location, scale and degrees of freedom of the next one.
    fn next(self) -> (f64, f64, f64) {
        (self.mean, self.scale * (1.0 + 1.0 / self.counts).sqrt(), self.freedom)
    }
}

/// How many durations the prior counts for where the mean is concerned, and the spread: our own
/// choice. With ten seen, the mean is three quarters the room's own.
pub const MEAN_COUNTS_FOR: f64 = 3.0;
/// See [`MEAN_COUNTS_FOR`].
pub const SPREAD_COUNTS_FOR: f64 = 6.0;

impl Duration {
    /// A weak prior: the next one is about `days`, give or take `give`, and none is outside `sane`.
    #[must_use]
    pub fn prior(days: f64, give: f64, sane: (f64, f64)) -> Self {
        let belief = MeanAndSpread {
            mean: days,
            counts: MEAN_COUNTS_FOR,
            freedom: SPREAD_COUNTS_FOR,
            scale: give / (1.0 + 1.0 / MEAN_COUNTS_FOR).sqrt(),
        };
        Self::of(belief, sane)
    }

    /// A duration whose mean and standard deviation are known: normal, and nothing moves it.
    #[must_use]
    pub fn known(mean: f64, spread: f64) -> Self {
        let belief =
            MeanAndSpread { mean, counts: f64::INFINITY, freedom: f64::INFINITY, scale: spread };
        Self::of(belief, (0.0, f64::INFINITY))
    }

    /// A duration that is over when something that rises with the days passes a Student's t (its
    /// location, scale and degrees of freedom); `mean` is when it passes the location.
    #[must_use]
    pub(crate) fn through(
        (location, scale, freedom): (f64, f64, f64),
        mean: f64,
        rises: impl Fn(f64) -> f64,
    ) -> Self {
        let over = |day: f64| student::below((rises(day) - location) / scale, freedom);
        let pace = rises(mean + 0.5) - rises(mean - 0.5);
        let belief =
            MeanAndSpread { mean, counts: f64::INFINITY, freedom, scale: scale / pace.max(1e-6) };
        let by_day = ByDay::by(over, 0, LONGEST_DAYS);
        Self {
            belief,
            sane: (0.0, f64::INFINITY),
            seen: 0,
            left_out: 0,
            by_day,
            is_by_temperature: true,
        }
    }

    fn of(belief: MeanAndSpread, sane: (f64, f64)) -> Self {
        let by_day = ByDay::of(belief.next());
        Self { belief, sane, seen: 0, left_out: 0, by_day, is_by_temperature: false }
    }

    /// The same after these were seen, in days. Those no such duration can have are left out and
    /// counted.
    #[must_use]
    pub fn after(&self, days: &[f64]) -> Self {
        let used: Vec<f64> = days.iter().copied().filter(|days| self.can_be(*days)).collect();
        let mut learned = self.clone();
        learned.seen += used.len();
        learned.left_out += days.len() - used.len();
        if !used.is_empty() && self.belief.freedom.is_finite() {
            learned.belief = self.belief.after(&used);
            learned.by_day = ByDay::of(learned.belief.next());
        }
        learned
    }

    /// Mean of the next one, days.
    #[must_use]
    pub const fn mean(&self) -> f64 {
        self.belief.mean
    }

    /// Location, scale and degrees of freedom of the Student's t that the next one follows.
    #[must_use]
    pub fn next(&self) -> (f64, f64, f64) {
        self.belief.next()
    }

    /// Whether one can take so many days; where not, a date of it is wrong most likely.
    #[must_use]
    pub fn can_be(&self, days: f64) -> bool {
        self.sane.0 <= days && days <= self.sane.1
    }

    /// The shortest that one can be, days.
    #[must_use]
    pub const fn shortest(&self) -> f64 {
        self.sane.0
    }

    /// The longest that one can be, days.
    #[must_use]
    pub const fn longest(&self) -> f64 {
        self.sane.1
    }

    /// The day by which the next one is over with that chance.
    #[must_use]
    pub fn quantile(&self, share: f64) -> i32 {
        self.by_day.quantile(share)
    }

    /// Whether it rests on the temperatures of one clutch.
    #[must_use]
    pub const fn is_by_temperature(&self) -> bool {
        self.is_by_temperature
    }

    /// The next one by day.
    pub(crate) const fn by_day(&self) -> &ByDay {
        &self.by_day
    }
}

/// Chances of whole days, from `first` on; they sum to one.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ByDay {
    pub first: i32,
    pub chance: Arc<[f64]>,
}

/// Days whose chance to lie further out than this are cut off.
const CUT: f64 = 1e-4;
/// No clutch is followed longer.
const LONGEST_DAYS: i32 = 150;
/// No tail is followed further than this.
const FURTHEST_DAYS: f64 = 300.0;

impl ByDay {
    /// A Student's t rounded to whole days; none below nought, as the later event never comes first.
    fn of((location, scale, freedom): (f64, f64, f64)) -> Self {
        let scale = scale.max(1e-6);
        let below = |day: f64| student::below((day - location) / scale, freedom);
        let reach = |side: f64| {
            let mut days = 1.0_f64;
            while days < FURTHEST_DAYS && student::below(-days / scale, freedom) > CUT {
                days += 1.0;
            }
            location + side * days
        };
        let (low, high) = (reach(-1.0).floor().max(0.0), reach(1.0).ceil().max(1.0));
        #[expect(clippy::cast_possible_truncation, reason = "a few hundred days")]
        let (first, last) = (low as i32, high as i32);
        Self::by(below, first, last)
    }

    /// Whole days of something that is over by any moment with the chance `over`.
    fn by(over: impl Fn(f64) -> f64, first: i32, last: i32) -> Self {
        let mut before = over(f64::from(first) - 0.5);
        let chances = (first..=last).map(|day| {
            let by = over(f64::from(day) + 0.5);
            let on = by - before;
            before = by;
            on
        });
        Self::normed(first, chances.collect())
    }

    pub(crate) fn on(day: i32) -> Self {
        Self { first: day, chance: [1.0].into() }
    }

    /// The same chances, made to sum to one.
    pub(crate) fn normed(first: i32, mut chance: Vec<f64>) -> Self {
        let total: f64 = chance.iter().sum();
        chance.iter_mut().for_each(|p| *p /= total.max(1e-300));
        Self { first, chance: chance.into() }
    }

    /// The sum of two that know nothing of each other.
    pub(crate) fn then(&self, step: &Self) -> Self {
        let mut sum = vec![0.0; self.chance.len() + step.chance.len() - 1];
        for (i, p) in self.chance.iter().enumerate().filter(|(_, p)| **p > 1e-12) {
            for (into, q) in sum[i..].iter_mut().zip(step.chance.iter()) {
                *into += p * q;
            }
        }
        Self { first: self.first + step.first, chance: sum.into() }
    }

    /// On condition that it comes after that day: what has not been seen has not come yet.
    ///
    /// Until the 80 % interval begins nothing is taken off, so that dates stand still from evening
    /// to evening.
    pub(crate) fn still_ahead(&self, today: i32) -> Self {
        let over: f64 = self.iter().take_while(|(day, _)| *day <= today).map(|(_, p)| p).sum();
        if over <= EIGHTY[0] {
            return self.clone();
        }
        let rest: Vec<f64> = self.iter().filter(|(day, _)| *day > today).map(|(_, p)| p).collect();
        if rest.iter().sum::<f64>() < 1e-12 {
            // So long overdue that nothing is left to divide: the next day is all that can be said.
            return Self::on(today + 1);
        }
        Self::normed(self.first.max(today + 1), rest)
    }

    fn quantile(&self, share: f64) -> i32 {
        let mut by = 0.0;
        let days = self.first..;
        for (day, p) in days.zip(self.chance.iter()) {
            by += p;
            if by >= share - 1e-12 {
                return day;
            }
        }
        #[expect(clippy::cast_possible_wrap, clippy::cast_possible_truncation, reason = "days")]
        let last = self.chance.len() as i32 - 1;
        self.first + last
    }

    /// Day and chance.
    pub(crate) fn iter(&self) -> impl Iterator<Item = (i32, f64)> + '_ {
        (self.first..).zip(self.chance.iter().copied())
    }
}
