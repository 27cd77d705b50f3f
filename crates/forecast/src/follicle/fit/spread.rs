//! What is believed of the settings as a whole, not only where they are likeliest.

use crate::cholesky::Cholesky;

use super::climb::Summit;
use super::season::Seasons;
use super::{Asked, Parameter};

/// Mean and standard deviation of each setting on its own scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Posterior {
    /// The settings with mean and standard deviation.
    pub settings: Vec<(Parameter, f64, f64)>,
    /// How many independent draws the weighted ones are worth (Kong 1992).
    pub effective: f64,
}

/// Degrees of freedom of the distribution draws come from: tails heavier than the posterior's.
const FREEDOM: i32 = 6;

/// Integrates over the posterior by importance sampling about its summit: points of a multivariate
/// Student t with the summit's curvature, laid out evenly (Richtmyer 1951: multiples of square roots
/// of primes, without their whole parts) and weighted by how likely they are.
#[must_use]
pub fn posterior(females: &[Seasons], asked: &Asked, summit: &Summit, draws: u32) -> Posterior {
    let p = asked.free.len();
    let curvature = curvature(females, asked, summit);
    let Some(of) = Cholesky::of(p, &curvature) else {
        return Posterior { settings: Vec::new(), effective: 0.0 };
    };
    let mut points: Vec<(Vec<f64>, f64)> = Vec::new();
    for k in 1..=draws {
        let even = even_point(k, p + usize::try_from(FREEDOM).unwrap_or(0));
        let z: Vec<f64> = even.iter().map(|u| normal_at(*u)).collect();
        let chi: f64 = z[p..].iter().map(|z| z * z).sum();
        let stretch = (f64::from(FREEDOM) / chi.max(1e-9)).sqrt();
        let step = of.solve_upper(z[..p].to_vec());
        let at: Vec<f64> = summit.at.iter().zip(&step).map(|(at, s)| at + stretch * s).collect();
        let square: f64 = z[..p].iter().map(|z| z * z).sum::<f64>() * stretch * stretch;
        #[expect(clippy::cast_precision_loss, reason = "a few settings")]
        let density =
            -0.5 * (f64::from(FREEDOM) + p as f64) * (square / f64::from(FREEDOM)).ln_1p();
        let ln = asked.ln_posterior(females, &at) - density;
        points.push((at, ln));
    }
    weigh(asked, &points)
}

fn weigh(asked: &Asked, points: &[(Vec<f64>, f64)]) -> Posterior {
    let top = points.iter().fold(f64::NEG_INFINITY, |top, (_, ln)| top.max(*ln));
    let weights: Vec<f64> = points.iter().map(|(_, ln)| (ln - top).exp()).collect();
    let total: f64 = weights.iter().sum();
    let squares: f64 = weights.iter().map(|w| w * w).sum();
    let one = |(k, (parameter, _)): (usize, &(Parameter, super::Prior))| {
        let values = || points.iter().zip(&weights).map(|((at, _), w)| (parameter.value(at[k]), w));
        let mean = values().map(|(x, w)| x * w).sum::<f64>() / total;
        let variance = values().map(|(x, w)| (x - mean) * (x - mean) * w).sum::<f64>() / total;
        (*parameter, mean, variance.sqrt())
    };
    let settings = asked.free.iter().enumerate().map(one).collect();
    Posterior { settings, effective: total * total / squares }
}

/// Minus the second derivatives at the summit, by differences; where they do not make sense, the
/// summit's own information.
fn curvature(females: &[Seasons], asked: &Asked, summit: &Summit) -> Vec<f64> {
    let p = asked.free.len();
    let h: Vec<f64> = (0..p).map(|k| 0.3 * summit.covariance[k * p + k].max(1e-8).sqrt()).collect();
    let ln = |moves: &[(usize, f64)]| {
        let mut at = summit.at.clone();
        moves.iter().for_each(|(k, by)| at[*k] += by);
        asked.ln_posterior(females, &at)
    };
    let here = ln(&[]);
    let mut curved = vec![0.0; p * p];
    for i in 0..p {
        curved[i * p + i] = -(ln(&[(i, h[i])]) - 2.0 * here + ln(&[(i, -h[i])])) / (h[i] * h[i]);
        for j in 0..i {
            let corner = |a: f64, b: f64| ln(&[(i, a * h[i]), (j, b * h[j])]);
            let mixed =
                corner(1.0, 1.0) - corner(1.0, -1.0) - corner(-1.0, 1.0) + corner(-1.0, -1.0);
            curved[i * p + j] = -mixed / (4.0 * h[i] * h[j]);
            curved[j * p + i] = curved[i * p + j];
        }
    }
    if Cholesky::of(p, &curved).is_some() {
        return curved;
    }
    Cholesky::of(p, &summit.covariance).map_or(curved, |c| c.inverse())
}

fn even_point(k: u32, dimensions: usize) -> Vec<f64> {
    let is_prime = |n: &u32| (2..*n).take_while(|d| d * d <= *n).all(|d| !n.is_multiple_of(d));
    let primes = (2u32..).filter(is_prime);
    primes.take(dimensions).map(|prime| (f64::from(k) * f64::from(prime).sqrt()).fract()).collect()
}

/// The standard normal value below which that share lies, by halving.
fn normal_at(share: f64) -> f64 {
    let below = crate::follicle::normal::below;
    crate::follicle::quantile::solve_closely(share.clamp(1e-9, 1.0 - 1e-9), (-7.0, 7.0), below)
}
