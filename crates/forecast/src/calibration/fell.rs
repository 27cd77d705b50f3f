//! Where the truth fell in its forecast.

/// The shares of a forecast between which the truth fell: equal for a truth known exactly (the
/// probability integral transform), apart where only two values are known between which it lies.
///
/// A share in the middle of which nothing is known is spread over its length, which is what the
/// forecast itself says of it: the "nonrandomized" transform of Czado, Gneiting and Held (2009),
/// Biometrics 65:1254; for truths that were not seen to the end, Haider, Hoehn, Davis and Greiner
/// (2020), Journal of Machine Learning Research 21(85). A forecast that is right has them evenly
/// spread over 0 to 1, however wide the gaps; a gap over the whole of it says nothing and
/// counts as nominal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fell {
    /// Share of the forecast that lies below the truth, at least.
    pub from: f64,
    /// The same, at most.
    pub to: f64,
}

impl Fell {
    /// Between two shares, in either order; what lies beyond 0 or 1 is drawn in.
    #[must_use]
    pub fn between(a: f64, b: f64) -> Self {
        let [a, b] = [a, b].map(|share| if share.is_nan() { 0.5 } else { share.clamp(0.0, 1.0) });
        Self { from: a.min(b), to: a.max(b) }
    }

    /// At one share.
    #[must_use]
    pub fn at(share: f64) -> Self {
        Self::between(share, share)
    }

    /// How much of it lies below `share`, 0 to 1.
    #[must_use]
    pub fn below(&self, share: f64) -> f64 {
        if share >= self.to {
            1.0
        } else if share <= self.from {
            0.0
        } else {
            (share - self.from) / (self.to - self.from)
        }
    }

    /// How much of it lies inside the central interval of that coverage: 1 where the interval
    /// surely held, 0 where it surely did not.
    #[must_use]
    pub fn inside(&self, coverage: f64) -> f64 {
        let low = 0.5 * (1.0 - coverage);
        let high = 1.0 - low;
        if self.to - self.from <= 0.0 {
            return f64::from(u8::from((low..=high).contains(&self.from)));
        }
        (self.to.min(high) - self.from.max(low)).max(0.0) / (self.to - self.from)
    }
}

/// Largest distance between how the truths are spread over their forecasts and an even spread
/// (the distance of Kolmogorov, 1933), by weight. 0 where there is none.
#[must_use]
pub fn distance(falls: &[(Fell, f64)]) -> f64 {
    let total: f64 = falls.iter().map(|(_, weight)| weight).sum();
    if total <= 0.0 {
        return 0.0;
    }
    // The spread is a sum of ramps and steps: it turns only where one begins or ends.
    let mut turns: Vec<(f64, f64, f64)> = Vec::with_capacity(2 * falls.len());
    for (fell, weight) in falls {
        let (share, length) = (weight / total, fell.to - fell.from);
        if length < 1e-12 {
            turns.push((fell.from, share, 0.0));
        } else {
            turns.push((fell.from, 0.0, share / length));
            turns.push((fell.to, 0.0, -share / length));
        }
    }
    turns.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut at, mut sum, mut slope, mut farthest) = (0.0, 0.0, 0.0, 0.0_f64);
    for (turn, step, change) in turns {
        sum += slope * (turn - at);
        at = turn;
        farthest = farthest.max((sum - at).abs());
        sum += step;
        slope += change;
        farthest = farthest.max((sum - at).abs());
    }
    farthest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_gap_is_shared_out_by_what_the_forecast_says_of_it() {
        let fell = Fell::between(0.05, 0.25);
        assert!((fell.inside(0.8) - 0.75).abs() < 1e-12, "three quarters lie above .1");
        assert!((fell.below(0.1) - 0.25).abs() < 1e-12);
        assert!((Fell::between(0.0, 1.0).inside(0.5) - 0.5).abs() < 1e-12, "says nothing");
        assert_eq!([Fell::at(0.1).inside(0.8), Fell::at(0.0999).inside(0.8)], [1.0, 0.0]);
    }

    #[test]
    fn gaps_that_fill_the_whole_are_spread_evenly() {
        let thirds = [(0.0, 0.2), (0.2, 0.7), (0.7, 1.0)];
        let falls = thirds.map(|(a, b)| (Fell::between(a, b), b - a));
        assert!(distance(&falls) < 1e-12);
        assert!((distance(&[(Fell::at(0.3), 2.0)]) - 0.7).abs() < 1e-12);
        assert_eq!(distance(&[]), 0.0);
    }
}
