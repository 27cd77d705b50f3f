//! Turning distributions into medians and intervals.

use super::normal::below;
use super::track::Track;

/// Shares below the low end, the median and the high end of an 80 % interval.
pub const EIGHTY: [f64; 3] = [0.1, 0.5, 0.9];

/// The point below which `share` of a rising function's range lies, found by halving.
pub fn solve(share: f64, (mut low, mut high): (f64, f64), cdf: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if high - low < 1e-3 {
            return middle;
        }
        if cdf(middle) < share { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// The same to about nine digits.
pub fn solve_closely(share: f64, (mut low, mut high): (f64, f64), cdf: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..34 {
        let middle = 0.5 * (low + high);
        if cdf(middle) < share { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// Size below which each of the shares lies.
#[must_use]
pub fn of_size<const N: usize>(tracks: &[Track], shares: [f64; N]) -> [f64; N] {
    let ends = tracks.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), t| {
        let reach = 6.0 * t.xx.max(0.0).sqrt();
        (low.min(t.x - reach), high.max(t.x + reach))
    });
    if ends.0 > ends.1 {
        return [0.0; N];
    }
    let cdf = |size: f64| tracks.iter().map(|t| t.weight * below_size(t, size)).sum::<f64>();
    shares.map(|share| solve(share, ends, cdf))
}

/// Chance that the track's size lies below `size`.
#[must_use]
pub fn below_size(t: &Track, size: f64) -> f64 {
    below((size - t.x) / t.xx.max(1e-12).sqrt())
}

/// A rising curve through knots, smooth and without overshoot between them.
#[derive(Clone, Debug)]
pub struct Rising {
    at: Vec<f64>,
    value: Vec<f64>,
    slope: Vec<f64>,
}

impl Rising {
    /// Through these knots, ascending in both coordinates. Monotone cubic of Steffen (1990),
    /// Astronomy and Astrophysics 239:443.
    #[must_use]
    pub fn through(at: Vec<f64>, value: Vec<f64>) -> Self {
        let n = at.len().min(value.len());
        let secant = |i: usize| (value[i + 1] - value[i]) / (at[i + 1] - at[i]);
        let slope = (0..n)
            .map(|i| {
                if n < 2 {
                    0.0
                } else if i == 0 {
                    secant(0)
                } else if i == n - 1 {
                    secant(n - 2)
                } else {
                    let (a, b) = (secant(i - 1), secant(i));
                    let (ha, hb) = (at[i] - at[i - 1], at[i + 1] - at[i]);
                    let p = (a * hb + b * ha) / (ha + hb);
                    if a * b <= 0.0 { 0.0 } else { p.min(2.0 * a).min(2.0 * b) }
                }
            })
            .collect();
        Self { at, value, slope }
    }

    /// The value at `x`; the end values beyond the ends.
    #[must_use]
    pub fn value(&self, x: f64) -> f64 {
        let n = self.at.len();
        let i = self.at.partition_point(|a| *a <= x);
        if i == 0 || i >= n {
            return self.value.get(i.min(n.max(1) - 1)).copied().unwrap_or(0.0);
        }
        let h = self.at[i] - self.at[i - 1];
        let u = (x - self.at[i - 1]) / h;
        let (y0, y1) = (self.value[i - 1], self.value[i]);
        let (s0, s1) = (self.slope[i - 1] * h, self.slope[i] * h);
        let w = u - 1.0;
        (1.0 + 2.0 * u) * w * w * y0
            + u * w * w * s0
            + u * u * (3.0 - 2.0 * u) * y1
            + u * u * w * s1
    }

    /// Where the curve reaches `value`.
    #[must_use]
    pub fn at(&self, value: f64) -> f64 {
        let i = self.value.partition_point(|v| *v < value).clamp(1, self.at.len().max(2) - 1);
        match (self.at.get(i - 1), self.at.get(i)) {
            (Some(a), Some(b)) => solve(value, (*a, *b), |x| self.value(x)),
            _ => 0.0,
        }
    }

    /// Steps of the curve: (middle of the step, rise).
    pub fn steps(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.at
            .windows(2)
            .zip(self.value.windows(2))
            .map(|(a, v)| (0.5 * (a[0] + a[1]), v[1] - v[0]))
    }
}
