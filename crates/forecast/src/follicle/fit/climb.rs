//! Finding the likeliest place by scoring.

use crate::cholesky::Cholesky;

use super::parameter::Prior;

/// How hard to look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Care {
    /// Step of the difference that stands for a derivative, in spreads of the prior.
    pub step: f64,
    /// Whether differences are taken to both sides.
    pub both_sides: bool,
    /// Done when a round promises less gain in logarithmic posterior than this.
    pub gain: f64,
    /// Most rounds.
    pub rounds: usize,
}

impl Care {
    /// Enough for a forecast: a twentieth of a unit of logarithmic posterior.
    pub const USUAL: Self = Self { step: 0.15, both_sides: false, gain: 5e-2, rounds: 14 };
    /// To the last digits, for comparing.
    pub const UTMOST: Self = Self { step: 1e-4, both_sides: true, gain: 1e-13, rounds: 80 };
}

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

/// Climbs from the priors' means to the likeliest place, given the logarithms of the likelihoods of
/// members (cycles, each foreseen from those before it) as a function of the place.
///
/// The method of scoring with outer products of Berndt, Hall, Hall and Hausman (1974), the prior's
/// precision added, and halved steps where a step would lead down.
///
/// A start that is given in place of the priors' means should lie near: it saves rounds.
pub fn climb<F>(priors: &[Prior], start: Option<Vec<f64>>, care: Care, each: F) -> Summit
where
    F: Fn(&[f64]) -> Vec<f64> + Sync,
{
    let p = priors.len();
    let start = start.filter(|start| start.len() == p);
    let start = start.unwrap_or_else(|| priors.iter().map(|prior| prior.mean).collect());
    let mut best = Place::new(start, priors, &each);
    let mut information = Vec::new();
    let mut rounds = 0;
    while rounds < care.rounds {
        rounds += 1;
        let scores = scores(&best, priors, care, &each);
        let gradient: Vec<f64> = (0..p)
            .map(|k| {
                let Prior { mean, spread } = priors[k];
                let bent = if care.both_sides { 0.0 } else { bend(&scores[k], care, priors[k]) };
                scores[k].iter().sum::<f64>() + bent - (best.at[k] - mean) / (spread * spread)
            })
            .collect();
        information = outer(&scores, priors);
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
        let higher =
            shares.iter().map(|s| try_out(*s)).find(|p| p.ln_posterior > best.ln_posterior);
        let Some(higher) = higher else { break };
        best = higher;
    }
    let covariance = Cholesky::of(p, &information).map_or_else(Vec::new, |c| c.inverse());
    Summit { at: best.at, covariance, ln_posterior: best.ln_posterior, rounds }
}

struct Place {
    at: Vec<f64>,
    each: Vec<f64>,
    ln_posterior: f64,
}

impl Place {
    fn new(at: Vec<f64>, priors: &[Prior], each: &impl Fn(&[f64]) -> Vec<f64>) -> Self {
        let each = each(&at);
        let ln_posterior = each.iter().sum::<f64>() + ln_prior(&at, priors);
        Self { at, each, ln_posterior }
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

/// Derivatives of each member's logarithm, a row per setting. The settings are shared out between
/// two workers.
fn scores<F>(place: &Place, priors: &[Prior], care: Care, each: &F) -> Vec<Vec<f64>>
where
    F: Fn(&[f64]) -> Vec<f64> + Sync,
{
    let one = |k: usize| {
        let h = step(care, priors[k]);
        let moved = |by: f64| {
            let mut at = place.at.clone();
            at[k] += by;
            each(&at)
        };
        let ahead = moved(h);
        let (behind, width) =
            if care.both_sides { (moved(-h), 2.0 * h) } else { (place.each.clone(), h) };
        ahead.iter().zip(&behind).map(|(a, b)| (a - b) / width).collect::<Vec<f64>>()
    };
    let p = priors.len();
    // A worker of its own costs some tens of microseconds.
    if place.each.len() < 40 {
        return (0..p).map(one).collect();
    }
    std::thread::scope(|scope| {
        let odd = scope.spawn(|| (1..p).step_by(2).map(one).collect::<Vec<_>>());
        let even: Vec<Vec<f64>> = (0..p).step_by(2).map(one).collect();
        let Ok(odd) = odd.join() else { return (0..p).map(one).collect() };
        let (mut even, mut odd) = (even.into_iter(), odd.into_iter());
        let alternately = |k: usize| if k.is_multiple_of(2) { even.next() } else { odd.next() };
        (0..p).filter_map(alternately).collect()
    })
}

/// What a difference to one side misses: half its step times the second derivative, which is minus
/// the scores' squares on average.
fn bend(scores: &[f64], care: Care, prior: Prior) -> f64 {
    0.5 * step(care, prior) * scores.iter().map(|s| s * s).sum::<f64>()
}

fn step(care: Care, prior: Prior) -> f64 {
    care.step * prior.spread.min(1.0)
}

fn outer(scores: &[Vec<f64>], priors: &[Prior]) -> Vec<f64> {
    let p = priors.len();
    let mut sum = vec![0.0; p * p];
    for i in 0..p {
        for j in 0..=i {
            let dot: f64 = scores[i].iter().zip(&scores[j]).map(|(a, b)| a * b).sum();
            sum[i * p + j] = dot;
            sum[j * p + i] = dot;
        }
        sum[i * p + i] += 1.0 / (priors[i].spread * priors[i].spread);
    }
    sum
}
