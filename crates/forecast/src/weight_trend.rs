//! Where a weight goes: a robust straight line through its logarithm, days as uneven as they are.
//!
//! Huber's M-estimator (1964) by iterated weighted least squares from the least-squares line, the
//! scale being the median absolute residual over .6745; its covariance is Huber's (1981, 7.6.8).
//! Where more than half the weights lie on the line, or there are fewer than five, plain least
//! squares.

use units::{Estimate, Grams, Probability};

use crate::follicle::quantile::EIGHTY;
use crate::student;

/// A weight goes up and down by this share with water, gut and scales alone; our choice. No line is
/// held to be better known than that lets it be.
const COMES_AND_GOES: f64 = 0.015;
/// Residuals up to this many scales count in full: 95 % efficient on a normal sample (Huber 1981).
const HUBER: f64 = 1.345;
/// Median of the absolute value of a standard normal.
const NORMAL_MAD: f64 = 0.674_489_750_196_081_7;
/// From so many weights on the line is drawn robustly.
const ROBUST_FROM: usize = 5;

/// A line through the logarithm of the weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Logarithm of the weight, g, at day 0.
    pub at: f64,
    /// Its change a day.
    pub slope: f64,
    /// Standard error of the slope, as the estimator has it.
    pub error: f64,
}

/// Where a weight goes.
#[derive(Clone, Debug, PartialEq)]
pub struct WeightTrend {
    /// How many weights.
    pub n: usize,
    /// Days from the first to the last.
    pub days: f64,
    /// On the line, at the last weight, g.
    pub now: f64,
    /// Share gained in thirty days (lost where below 0).
    pub monthly: Estimate<f64>,
    /// Share gained from the first to the last weight.
    pub whole: Estimate<f64>,
}

impl WeightTrend {
    /// The weight on the line so many days after the last one, g.
    #[must_use]
    pub fn in_days(&self, days: f64) -> f64 {
        self.now * (days / 30.0 * self.monthly.median.ln_1p()).exp()
    }
}

/// The trend of weights, each with its day. None for fewer than three, or fewer than two days.
#[must_use]
pub fn weight_trend(weights: &[(f64, Grams)]) -> Option<WeightTrend> {
    let points: Vec<(f64, f64)> = weights
        .iter()
        .filter(|(_, g)| g.get() > 0.0)
        .map(|(day, g)| (*day, g.get().ln()))
        .collect();
    let first = points.iter().map(|p| p.0).fold(f64::INFINITY, f64::min);
    let last = points.iter().map(|p| p.0).fold(f64::NEG_INFINITY, f64::max);
    if points.len() < 3 || last - first < 1.0 {
        return None;
    }
    let points: Vec<(f64, f64)> = points.into_iter().map(|(day, y)| (day - last, y)).collect();
    let line = line(&points);
    #[expect(clippy::cast_precision_loss, reason = "a few weights")]
    let n = points.len() as f64;
    let mean = points.iter().map(|p| p.0).sum::<f64>() / n;
    let squares: f64 = points.iter().map(|p| (p.0 - mean).powi(2)).sum();
    let error = line.error.max(COMES_AND_GOES / squares.sqrt());
    let away = quantile(EIGHTY[2], n - 2.0) * error;
    let over = |days: f64| {
        let share = |slope: f64| (slope * days).exp_m1();
        Estimate {
            median: share(line.slope),
            low: share(line.slope - away),
            high: share(line.slope + away),
            coverage: Probability::clamped(EIGHTY[2] - EIGHTY[0]),
            method: "robust line through the logarithm of the weight",
        }
    };
    Some(WeightTrend {
        n: points.len(),
        days: last - first,
        now: line.at.exp(),
        monthly: over(30.0),
        whole: over(last - first),
    })
}

/// Quantile of Student's t, by halving.
fn quantile(share: f64, freedom: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1e3);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if student::below(middle, freedom) < share { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// The line through (day, logarithm) pairs; at least three of them, on two days or more.
#[must_use]
pub fn line(points: &[(f64, f64)]) -> Line {
    let mut line = least_squares(points, &vec![1.0; points.len()]);
    if points.len() < ROBUST_FROM {
        return line;
    }
    let mut scale = mad(points, &line);
    for _ in 0..200 {
        if scale < 1e-9 {
            return least_squares(points, &vec![1.0; points.len()]);
        }
        let weight = |p: &(f64, f64)| {
            let off = (residual(p, &line) / scale).abs();
            if off <= HUBER { 1.0 } else { HUBER / off }
        };
        let weights: Vec<f64> = points.iter().map(weight).collect();
        let next = least_squares(points, &weights);
        let moved = (next.slope - line.slope).abs() + (next.at - line.at).abs();
        line = next;
        scale = mad(points, &line);
        if moved < 1e-12 {
            break;
        }
    }
    line.error = huber_error(points, &line, scale);
    line
}

fn residual((day, y): &(f64, f64), line: &Line) -> f64 {
    y - line.at - line.slope * day
}

fn least_squares(points: &[(f64, f64)], weights: &[f64]) -> Line {
    let with = || points.iter().zip(weights);
    let total: f64 = weights.iter().sum();
    let x = with().map(|(p, w)| w * p.0).sum::<f64>() / total;
    let y = with().map(|(p, w)| w * p.1).sum::<f64>() / total;
    let xx: f64 = with().map(|(p, w)| w * (p.0 - x).powi(2)).sum();
    let xy: f64 = with().map(|(p, w)| w * (p.0 - x) * (p.1 - y)).sum();
    let slope = xy / xx;
    let mut line = Line { at: y - slope * x, slope, error: 0.0 };
    #[expect(clippy::cast_precision_loss, reason = "a few weights")]
    let freedom = points.len() as f64 - 2.0;
    let left: f64 = with().map(|(p, w)| w * residual(p, &line).powi(2)).sum();
    line.error = (left / freedom / xx).sqrt();
    line
}

fn mad(points: &[(f64, f64)], line: &Line) -> f64 {
    let mut off: Vec<f64> = points.iter().map(|p| residual(p, line).abs()).collect();
    off.sort_by(f64::total_cmp);
    let (a, b) = (off[(off.len() - 1) / 2], off[off.len() / 2]);
    0.5 * (a + b) / NORMAL_MAD
}

fn huber_error(points: &[(f64, f64)], line: &Line, scale: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a few weights")]
    let n = points.len() as f64;
    let scaled: Vec<f64> = points.iter().map(|p| residual(p, line) / scale).collect();
    let inside = scaled.iter().filter(|r| r.abs() <= HUBER).count();
    #[expect(clippy::cast_precision_loss, reason = "a few weights")]
    let share = inside as f64 / n;
    if share <= 0.0 {
        return f64::INFINITY;
    }
    let spread = share * (1.0 - share);
    let correction = 1.0 + 2.0 / n * spread / (share * share);
    let psi: f64 = scaled.iter().map(|r| r.clamp(-HUBER, HUBER).powi(2)).sum();
    let mean = points.iter().map(|p| p.0).sum::<f64>() / n;
    let xx: f64 = points.iter().map(|p| (p.0 - mean).powi(2)).sum();
    (correction * correction * psi * scale * scale / (n - 2.0) / (share * share) / xx).sqrt()
}
