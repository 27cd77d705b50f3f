//! Finding the likeliest place by scoring.

use crate::cholesky::Cholesky;

use super::parameter::Prior;

/// How hard to look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Care {
    /// Done when a round promises less gain in logarithmic posterior than this.
    pub gain: f64,
    /// Most rounds.
    pub rounds: usize,
}

impl Care {
    /// Enough for a forecast: a twentieth of a unit of logarithmic posterior.
    pub const USUAL: Self = Self { gain: 5e-2, rounds: 14 };
    /// To the last digits, for comparing.
    pub const UTMOST: Self = Self { gain: 1e-13, rounds: 80 };
}

/// Where tracks are drawn together the logarithm steps a little up or down, which no derivative tells:
/// a fall by so many times the gain that is enough is taken for such a step.
const SLACK: f64 = 2.0;

/// The likeliest place.
#[derive(Clone, Debug, PartialEq)]
pub struct Summit {
    /// Where.
    pub at: Vec<f64>,
    /// Covariance about it, rows one after another: the inverse of the scores' outer products and
    /// the prior's precision.
    pub covariance: Vec<f64>,
    /// Logarithm of the posterior there, the prior's constant left out.
    pub ln_posterior: f64,
    /// Rounds it took.
    pub rounds: usize,
}

/// What one member (a cycle, foreseen from those before it) says of a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Score {
    /// Logarithm of its likelihood there.
    pub ln: f64,
    /// Its derivatives along each setting.
    pub slopes: Vec<f64>,
}

/// Climbs from the priors' means to the likeliest place, given what members say of each.
///
/// The method of scoring with outer products of Berndt, Hall, Hall and Hausman (1974), the prior's
/// precision added, and halved steps where a step would lead down.
///
/// A start that is given in place of the priors' means should lie near: it saves rounds.
pub fn climb(
    priors: &[Prior],
    start: Option<Vec<f64>>,
    care: Care,
    each: impl Fn(&[f64]) -> Vec<Score>,
) -> Summit {
    let p = priors.len();
    let start = start.filter(|start| start.len() == p);
    let start = start.unwrap_or_else(|| priors.iter().map(|prior| prior.mean).collect());
    let mut best = Place::new(start, priors, &each);
    let mut information = Vec::new();
    let mut rounds = 0;
    while rounds < care.rounds {
        rounds += 1;
        let gradient = best.gradient(priors);
        information = best.information(priors);
        let Some(solved) = Cholesky::of(p, &information) else { break };
        let move_by = solved.solve(&gradient);
        let gain: f64 = 0.5 * move_by.iter().zip(&gradient).map(|(s, g)| s * g).sum::<f64>();
        if gain < care.gain {
            break;
        }
        let try_out = |share: f64| {
            let at = best.at.iter().zip(&move_by).map(|(at, s)| at + share * s).collect();
            Place::new(at, priors, &each)
        };
        let shares = [1.0, 0.5, 0.25, 0.06, 0.01, 1e-3];
        let enough = best.ln_posterior - SLACK * care.gain;
        let higher = shares.iter().map(|s| try_out(*s)).find(|p| p.ln_posterior > enough);
        let Some(higher) = higher else { break };
        best = higher;
    }
    let covariance = Cholesky::of(p, &information).map_or_else(Vec::new, |c| c.inverse());
    Summit { at: best.at, covariance, ln_posterior: best.ln_posterior, rounds }
}

struct Place {
    at: Vec<f64>,
    scores: Vec<Score>,
    ln_posterior: f64,
}

impl Place {
    fn new(at: Vec<f64>, priors: &[Prior], each: &impl Fn(&[f64]) -> Vec<Score>) -> Self {
        let scores = each(&at);
        let ln: f64 = scores.iter().map(|score| score.ln).sum();
        let ln_posterior = ln + ln_prior(&at, priors);
        Self { at, scores, ln_posterior }
    }

    fn gradient(&self, priors: &[Prior]) -> Vec<f64> {
        let prior = |(at, Prior { mean, spread }): (&f64, &Prior)| -(at - mean) / (spread * spread);
        let mut sum: Vec<f64> = self.at.iter().zip(priors).map(prior).collect();
        for score in &self.scores {
            sum.iter_mut().zip(&score.slopes).for_each(|(sum, slope)| *sum += slope);
        }
        sum
    }

    /// The scores' outer products and the prior's precision.
    fn information(&self, priors: &[Prior]) -> Vec<f64> {
        let p = priors.len();
        let mut sum = vec![0.0; p * p];
        for Score { slopes, .. } in &self.scores {
            for i in 0..p {
                for j in 0..=i {
                    sum[i * p + j] += slopes[i] * slopes[j];
                }
            }
        }
        for i in 0..p {
            sum[i * p + i] += 1.0 / (priors[i].spread * priors[i].spread);
            for j in 0..i {
                sum[j * p + i] = sum[i * p + j];
            }
        }
        sum
    }
}

/// Logarithm of the prior, its constant left out.
pub fn ln_prior(at: &[f64], priors: &[Prior]) -> f64 {
    let one = |(at, Prior { mean, spread }): (&f64, &Prior)| {
        let off = (at - mean) / spread;
        -0.5 * off * off
    };
    at.iter().zip(priors).map(one).sum()
}
