//! A count with its interval: the exact distribution of a sum of meals, animal by animal.

use forecast::follicle::normal::below;

/// So many feeders.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Counted {
    /// Eaten, on average.
    pub expected: f64,
    /// In one of ten such spans fewer are eaten.
    pub low: u32,
    /// In one of ten such spans more are eaten.
    pub high: u32,
    /// Offered, if everybody is offered every meal on its day.
    pub offered: u32,
}

/// What moves the whole room at once, as a share of what is eaten: a feeding day put off, a cold
/// week, prey that was out of stock. Our choice; the back-test in docs/methods/feeders.md.
const WHOLE_ROOM: f64 = 0.14;
/// Chances below this are left out of a sum.
const NOTHING: f64 = 1e-9;

impl Counted {
    /// The sum over animals: of each the chances of 0, 1, 2 ... feeders eaten, and how many are
    /// offered. Animals eat independently of each other, but for what moves the whole room.
    pub(super) fn sum(all: impl Iterator<Item = (Vec<f64>, f64)>) -> Self {
        let (mut from, mut chances, mut offered) = (0usize, vec![1.0], 0.0);
        for (own, n) in all {
            offered += n;
            if own.len() > 1 {
                chances = folded(&chances, &own);
                from += trimmed(&mut chances);
            }
        }
        let at = |i: usize| f64::from(u32::try_from(from + i).unwrap_or(u32::MAX));
        let expected: f64 = chances.iter().enumerate().map(|(i, p)| at(i) * p).sum();
        let (low, high) = interval(&chances, at, WHOLE_ROOM * expected);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count")]
        let offered = f64::round(offered) as u32;
        Self { expected, low, high, offered }
    }
}

/// The two ends that leave out one in ten each, the count being spread by so much more: a normal
/// distribution about each count.
fn interval(chances: &[f64], at: impl Fn(usize) -> f64, more: f64) -> (u32, u32) {
    let below_of = |n: f64| -> f64 {
        // Halfway to the next count, so that a count without more spread keeps its own steps.
        let part = |(i, p): (usize, &f64)| p * below((n + 0.5 - at(i)) / more.max(1e-9));
        chances.iter().enumerate().map(part).sum()
    };
    let end = |share: f64| {
        let (mut low, mut high) = (0u32, 1u32);
        while below_of(f64::from(high)) < share && high < 1 << 24 {
            high *= 2;
        }
        while low < high {
            let middle = low + (high - low) / 2;
            if below_of(f64::from(middle)) < share { low = middle + 1 } else { high = middle }
        }
        low
    };
    (end(0.1), end(0.9))
}

/// The distribution of a sum of two.
fn folded(a: &[f64], b: &[f64]) -> Vec<f64> {
    let mut sum = vec![0.0; a.len() + b.len() - 1];
    for (i, p) in a.iter().enumerate() {
        for (j, q) in b.iter().enumerate() {
            sum[i + j] += p * q;
        }
    }
    sum
}

/// Cuts ends that do not matter; gives how many were cut in front.
fn trimmed(chances: &mut Vec<f64>) -> usize {
    while chances.len() > 1 && chances.last().is_some_and(|p| *p < NOTHING) {
        chances.pop();
    }
    let front = chances.iter().take_while(|p| **p < NOTHING).count().min(chances.len() - 1);
    chances.drain(..front);
    front
}

#[cfg(test)]
mod tests {
    use super::{Counted, interval};

    /// Ten coins: at most 2 heads with .0547, at most 3 with .1719, at most 6 with .8281, at most 7
    /// with .9453 (binomial tables).
    #[test]
    fn ten_coins_are_a_binomial() {
        let coins: Vec<f64> =
            [1., 10., 45., 120., 210., 252., 210., 120., 45., 10., 1.].map(|n| n / 1024.0).into();
        assert_eq!(interval(&coins, |i| i as f64, 0.0), (3, 7));
        let sum = Counted::sum((0..10).map(|_| (vec![0.5, 0.5], 1.0)));
        assert!((sum.expected - 5.0).abs() < 1e-9);
        assert_eq!(sum.offered, 10);
        assert!(sum.low <= 3 && sum.high >= 7, "{sum:?}");
    }

    /// Mean and interval of unequal chances, by hand: none .045, one .455, two .455, three .045.
    #[test]
    fn unequal_chances_add_up() {
        let one = |p: f64| (vec![1.0 - p, p], 1.0);
        let all = Counted::sum([0.9, 0.5, 0.1].into_iter().map(one));
        assert!((all.expected - 1.5).abs() < 1e-9);
        assert_eq!(interval(&[0.045, 0.455, 0.455, 0.045], |i| i as f64, 0.0), (1, 2));
    }
}
