//! The continuous ranked probability score: how far a whole forecast was from what came, in the unit
//! of the truth. Smaller is better; of a forecast without spread it is the plain distance.
//!
//! Gneiting and Raftery (2007), "Strictly proper scoring rules, prediction, and estimation", Journal
//! of the American Statistical Association 102:359.

use crate::follicle::normal::{below, density};

/// Of a normal forecast: equation 21 of Gneiting and Raftery (2007).
#[must_use]
pub fn normal(mean: f64, spread: f64, truth: f64) -> f64 {
    if spread <= 0.0 {
        return (truth - mean).abs();
    }
    let z = (truth - mean) / spread;
    let root_pi = std::f64::consts::PI.sqrt();
    spread * (z * (2.0 * below(z) - 1.0) + 2.0 * density(z) - 1.0 / root_pi)
}

/// Of a mixture of normals (weight, mean, spread), weights summing to one: Grimit, Gneiting,
/// Berrocal and Johnson (2006), Quarterly Journal of the Royal Meteorological Society 132:2925.
#[must_use]
pub fn mixture(parts: &[(f64, f64, f64)], truth: f64) -> f64 {
    // Mean distance from nothing of a normal value.
    let away = |mean: f64, spread: f64| {
        if spread <= 0.0 {
            return mean.abs();
        }
        let z = mean / spread;
        2.0 * spread * density(z) + mean * (2.0 * below(z) - 1.0)
    };
    let mut score = 0.0;
    for (i, (weight, mean, spread)) in parts.iter().enumerate() {
        score += weight * away(truth - mean, *spread);
        score -= 0.5 * weight * weight * away(0.0, spread * std::f64::consts::SQRT_2);
        for (other, m, s) in &parts[i + 1..] {
            score -= weight * other * away(mean - m, (spread * spread + s * s).sqrt());
        }
    }
    score
}

/// Of any forecast, from its rising share below each value: the squared distance of that curve from
/// the step at the truth, summed by Gauss and Legendre's rule of ten points over stretches of at most
/// `step` between `low` and `high`, beyond which the forecast has nothing worth counting.
#[must_use]
pub fn by_share(share: impl Fn(f64) -> f64, (low, high): (f64, f64), step: f64, truth: f64) -> f64 {
    let side = |from: f64, to: f64, aim: f64| {
        let pieces = ((to - from) / step).ceil().clamp(1.0, 1000.0);
        let length = (to - from) / pieces;
        let mut sum = 0.0;
        let mut start = from;
        while start < to - 1e-9 * length.max(1e-9) {
            sum += ten_points(start, length, |x| (share(x) - aim).powi(2));
            start += length;
        }
        sum
    };
    // A truth beyond an end: the curve stands at its end value from there on.
    let before = if truth > low { side(low, truth, 0.0) } else { 0.0 };
    let after = if truth < high { side(truth, high, 1.0) } else { 0.0 };
    before + after
}

/// Abscissas and weights of ten points (Abramowitz and Stegun 1964, table 25.4).
const TEN: [(f64, f64); 5] = [
    (0.148_874_338_981_631_2, 0.295_524_224_714_752_9),
    (0.433_395_394_129_247_2, 0.269_266_719_309_996_4),
    (0.679_409_568_299_024_4, 0.219_086_362_515_982),
    (0.865_063_366_688_984_5, 0.149_451_349_150_580_6),
    (0.973_906_528_517_171_7, 0.066_671_344_308_688_1),
];

fn ten_points(start: f64, length: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (half, middle) = (0.5 * length, start + 0.5 * length);
    half * TEN.iter().map(|(x, w)| w * (f(middle - half * x) + f(middle + half * x))).sum::<f64>()
}

/// Of a forecast of a whole number, from the chances of 0, 1, 2 and so on: the ranked probability
/// score, Epstein (1969), Journal of Applied Meteorology 8:985.
#[must_use]
pub fn counted(chances: &[f64], truth: usize) -> f64 {
    let (mut sum, mut score) = (0.0, 0.0);
    for n in 0..chances.len().max(truth) {
        sum += chances.get(n).copied().unwrap_or(0.0);
        let aim = if n >= truth { 1.0 } else { 0.0 };
        score += (sum - aim) * (sum - aim);
    }
    score
}
