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
    pub const USUAL: Self = Self { gain: 5e-2, rounds: 24 };
    /// To the last digits, for comparing.
    pub const UTMOST: Self = Self { gain: 1e-13, rounds: 80 };
}

/// Where tracks are drawn together the logarithm steps a little up or down, which no derivative tells:
/// a fall by so many times the gain that is enough is taken for such a step.
const SLACK: f64 = 2.0;

/// The share of the rise that the slope promises which a step must bring (Armijo 1966): without it two
/// places that overshoot each other would take turns.
const EARNED: f64 = 0.1;

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

/// A place to climb from, and how high each setting may go: beyond its edge it would change nothing.
#[derive(Clone, Debug, PartialEq)]
pub struct Ground {
    /// Where to begin.
    pub start: Vec<f64>,
    /// Edges; infinite where there is none.
    pub edges: Vec<f64>,
}

/// A setting is held so far inside its edge, where its slope is still told.
const INSIDE: f64 = 1e-6;

impl Ground {
    fn inside(&self, k: usize, at: f64) -> f64 {
        at.min(self.edges[k] - INSIDE)
    }

    /// Takes settings that stand at their edges and would go beyond out of what is solved.
    fn hold(&self, at: &[f64], gradient: &mut [f64], information: &mut [f64]) {
        let p = at.len();
        for k in 0..p {
            if at[k] < self.edges[k] - 2.0 * INSIDE || gradient[k] <= 0.0 {
                continue;
            }
            gradient[k] = 0.0;
            for other in (0..p).filter(|other| *other != k) {
                information[k * p + other] = 0.0;
                information[other * p + k] = 0.0;
            }
        }
    }
}

/// Climbs from a start to the likeliest place, given what members say of each.
///
/// The method of scoring with outer products of Berndt, Hall, Hall and Hausman (1974), the prior's
/// precision added, and halved steps where a step would lead down.
pub fn climb(
    priors: &[Prior],
    ground: &Ground,
    care: Care,
    each: impl Fn(&[f64]) -> Vec<Score>,
) -> Summit {
    let p = priors.len();
    let mut best = Place::new(ground.start.clone(), priors, &each);
    let mut information = Vec::new();
    let mut rounds = 0;
    while rounds < care.rounds {
        rounds += 1;
        let mut gradient = best.gradient(priors);
        information = best.information(priors);
        let mut solvable = information.clone();
        ground.hold(&best.at, &mut gradient, &mut solvable);
        let Some(solved) = Cholesky::of(p, &solvable) else { break };
        let move_by = solved.solve(&gradient);
        let gain: f64 = 0.5 * move_by.iter().zip(&gradient).map(|(s, g)| s * g).sum::<f64>();
        if gain < care.gain {
            break;
        }
        let try_out = |share: f64| {
            let moved = |k: usize| ground.inside(k, best.at[k] + share * move_by[k]);
            Place::new((0..p).map(moved).collect(), priors, &each)
        };
        let shares = [1.0, 0.5, 0.25, 0.06, 0.01, 1e-3];
        // Along the whole step the slope promises twice the gain, which its bend takes half of.
        let rise = EARNED * 2.0 * gain - SLACK * care.gain;
        let is_enough =
            |(share, p): &(f64, Place)| p.ln_posterior > best.ln_posterior + share * rise;
        let mut tried = shares.iter().map(|share| (*share, try_out(*share)));
        let Some((_, higher)) = tried.find(is_enough) else { break };
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
