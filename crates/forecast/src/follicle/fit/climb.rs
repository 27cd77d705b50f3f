//! Finding the likeliest place by scoring.

use crate::cholesky::Cholesky;

use super::bend::Bend;
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
    /// So much of a step from a place, no setting beyond its edge.
    fn moved(&self, from: &[f64], by: &[f64], share: f64) -> Vec<f64> {
        let one = |k: usize| (from[k] + share * by[k]).min(self.edges[k] - INSIDE);
        (0..from.len()).map(one).collect()
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
/// precision added and corrected by how the slope fell along earlier steps ([`Bend`]); halved steps
/// where a step would lead down.
pub fn climb(
    priors: &[Prior],
    ground: &Ground,
    care: Care,
    each: impl Fn(&[f64]) -> Vec<Score>,
) -> Summit {
    let mut best = Place::new(ground.start.clone(), priors, &each);
    let mut bend = Bend::default();
    let mut rounds = 0;
    while rounds < care.rounds {
        rounds += 1;
        let Some(step) = best.step(ground, &bend) else { break };
        if step.gain < care.gain {
            break;
        }
        let higher = step.shares().find_map(|share| {
            let at = ground.moved(&best.at, &step.by, share);
            let place = Place::new(at, priors, &each);
            let rise = share * step.rise(care);
            (place.ln_posterior > best.ln_posterior + rise).then_some(place)
        });
        match higher {
            Some(higher) => {
                bend.remember((&best.at, &best.gradient), (&higher.at, &higher.gradient));
                best = higher;
            }
            None if bend.is_plain() => break,
            None => bend.forget(),
        }
    }
    let covariance = Cholesky::of(priors.len(), &best.information)
        .map_or_else(Vec::new, |information| information.inverse());
    Summit { at: best.at, covariance, ln_posterior: best.ln_posterior, rounds }
}

/// A step that slope and bend ask for.
struct Step {
    by: Vec<f64>,
    /// What it promises of logarithmic posterior.
    gain: f64,
}

impl Step {
    /// Shares of it to try, one after another.
    fn shares(&self) -> impl Iterator<Item = f64> + use<> {
        [1.0, 0.5, 0.25, 0.06, 0.01, 1e-3].into_iter()
    }

    /// What the whole step must bring: along it the slope promises twice the gain, which its bend
    /// takes half of.
    fn rise(&self, care: Care) -> f64 {
        EARNED * 2.0 * self.gain - SLACK * care.gain
    }
}

/// A place with what members and priors say of it.
struct Place {
    at: Vec<f64>,
    ln_posterior: f64,
    gradient: Vec<f64>,
    /// The scores' outer products and the prior's precision.
    information: Vec<f64>,
}

impl Place {
    fn new(at: Vec<f64>, priors: &[Prior], each: &impl Fn(&[f64]) -> Vec<Score>) -> Self {
        let scores = each(&at);
        let ln: f64 = scores.iter().map(|score| score.ln).sum();
        Self {
            ln_posterior: ln + ln_prior(&at, priors),
            gradient: gradient(&at, priors, &scores),
            information: information(priors, &scores),
            at,
        }
    }

    /// The step from here; `None` where it cannot be solved.
    fn step(&self, ground: &Ground, bend: &Bend) -> Option<Step> {
        let (mut gradient, mut solvable) = (self.gradient.clone(), self.information.clone());
        ground.hold(&self.at, &mut gradient, &mut solvable);
        let by = bend.step(&Cholesky::of(self.at.len(), &solvable)?, &gradient);
        let gain = 0.5 * by.iter().zip(&gradient).map(|(s, g)| s * g).sum::<f64>();
        Some(Step { by, gain })
    }
}

fn gradient(at: &[f64], priors: &[Prior], scores: &[Score]) -> Vec<f64> {
    let prior = |(at, Prior { mean, spread }): (&f64, &Prior)| -(at - mean) / (spread * spread);
    let mut sum: Vec<f64> = at.iter().zip(priors).map(prior).collect();
    for score in scores {
        sum.iter_mut().zip(&score.slopes).for_each(|(sum, slope)| *sum += slope);
    }
    sum
}

fn information(priors: &[Prior], scores: &[Score]) -> Vec<f64> {
    let p = priors.len();
    let mut sum = vec![0.0; p * p];
    for Score { slopes, .. } in scores {
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

/// Logarithm of the prior, its constant left out.
pub fn ln_prior(at: &[f64], priors: &[Prior]) -> f64 {
    let one = |(at, Prior { mean, spread }): (&f64, &Prior)| {
        let off = (at - mean) / spread;
        -0.5 * off * off
    };
    at.iter().zip(priors).map(one).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Forty members ten times as even as their model says: outer products are far more than the bend
    /// afar and far less near the summit, and by themselves take more than sixty rounds.
    #[test]
    fn members_more_even_than_their_model_are_settled_all_the_same() {
        let member = |k: u8| 0.05 * (f64::from(k % 7) - 3.0);
        let each = |at: &[f64]| -> Vec<Score> {
            let one = |k: u8| {
                let (a, b) = (at[0] + at[1] - 3.0 - member(k), at[0] - 2.0 * at[1] - member(k + 3));
                let slopes = vec![-a - b, 2.0 * b - a];
                Score { ln: -0.5 * (a * a + b * b), slopes }
            };
            (0..40).map(one).collect()
        };
        let priors = [Prior { mean: 0.0, spread: 1e3 }; 2];
        let ground = Ground { start: vec![3.0, 1.5], edges: vec![f64::INFINITY; 2] };
        let care = Care { gain: 1e-9, rounds: 24 };
        let summit = climb(&priors, &ground, care, each);
        assert!(summit.rounds < care.rounds, "{} rounds", summit.rounds);
        assert!((summit.at[0] - 2.0).abs() < 0.01 && (summit.at[1] - 1.0).abs() < 0.01);
    }
}
