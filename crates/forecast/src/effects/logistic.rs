//! Chances that depend on covariates: logistic regression by Newton's method, with a normal prior
//! (ridge) on the effects where one is given.

use super::design::{Design, FitError};
use super::outcomes::outcomes;
use crate::cholesky::{Cholesky, dot};

/// Steps after which a fit that still moves has no bound.
const MOST_STEPS: usize = 60;
/// A step this small has landed: Newton's next would be its square.
const LANDED: f64 = 1e-8;

/// Rows, and what is known before them.
#[derive(Clone, Copy, Debug)]
pub struct Logistic<'a> {
    /// Covariates; a column of ones where there is to be an intercept.
    pub design: &'a Design,
    /// How often it happened.
    pub successes: &'a [f64],
    /// Out of how many, above zero.
    pub trials: &'a [f64],
    /// Prior precision of each effect; 0 is flat. The penalty is half of it times the square, as
    /// in ridge regression.
    pub precision: &'a [f64],
}

/// A fit.
#[derive(Clone, Debug)]
pub struct LogisticFit {
    /// Effects, on the scale of log odds.
    pub effects: Vec<f64>,
    /// Information at the fit; its inverse is the covariance.
    pub information: Cholesky,
    /// Logarithm of the likelihood, without the binomial coefficients and without the prior.
    pub log_likelihood: f64,
    /// Newton steps taken.
    pub steps: usize,
}

impl Logistic<'_> {
    /// The most likely effects.
    ///
    /// # Errors
    /// [`FitError`].
    pub fn fit(&self) -> Result<LogisticFit, FitError> {
        let (n, p) = (self.design.len(), self.design.columns());
        check(n, self.successes, self.trials)?;
        if self.precision.len() != p {
            return Err(FitError::Shape);
        }
        let mut effects = vec![0.0; p];
        let mut work = Work {
            gram: vec![0.0; p * p],
            slope: vec![0.0; p],
            weights: vec![0.0; n],
            rests: vec![0.0; n],
        };
        let mut likelihood = self.look(&effects, &mut work);
        for steps in 1..=MOST_STEPS {
            work.gram.fill(0.0);
            self.design.add_gram(&work.weights, &mut work.gram);
            for (j, (precision, effect)) in self.precision.iter().zip(&effects).enumerate() {
                work.gram[j * p + j] += precision;
                work.slope[j] -= precision * effect;
            }
            let information = Cholesky::of(p, &work.gram)
                .filter(|of| of.is_sound(&work.gram))
                .ok_or_else(|| self.why(steps))?;
            let mut step = work.slope.clone();
            information.solve_in_place(&mut step);
            let size = step.iter().fold(0.0_f64, |most, s| most.max(s.abs()));
            if size < LANDED {
                // So short a step moves the likelihood by less than its rounding.
                effects.iter_mut().zip(&step).for_each(|(b, s)| *b += s);
                return Ok(LogisticFit { effects, information, log_likelihood: likelihood, steps });
            }
            let before = likelihood - self.penalty(&effects);
            likelihood = self.advance(&mut effects, &step, before, &mut work);
        }
        Err(FitError::Unbounded)
    }

    /// Takes the step, halved until it does not make things worse.
    fn advance(&self, effects: &mut Vec<f64>, step: &[f64], before: f64, work: &mut Work) -> f64 {
        let mut scale = 1.0;
        loop {
            let tried: Vec<f64> = effects.iter().zip(step).map(|(b, s)| b + scale * s).collect();
            let likelihood = self.look(&tried, work);
            let is_better = likelihood - self.penalty(&tried) >= before - 1e-9 * before.abs();
            if is_better || scale < 1e-6 {
                *effects = tried;
                return likelihood;
            }
            scale *= 0.5;
        }
    }

    fn penalty(&self, effects: &[f64]) -> f64 {
        0.5 * effects.iter().zip(self.precision).map(|(b, p)| p * b * b).sum::<f64>()
    }

    /// A flat information at the first step is the design's fault, later that of effects that grow
    /// without bound.
    fn why(&self, steps: usize) -> FitError {
        if steps == 1 { FitError::Undetermined } else { FitError::Unbounded }
    }

    /// Likelihood, slope and weights at these effects.
    fn look(&self, effects: &[f64], work: &mut Work) -> f64 {
        for (eta, row) in work.rests.iter_mut().zip(self.design.rows()) {
            *eta = dot(row, effects);
        }
        let Work { rests, weights, slope, .. } = work;
        let likelihood = outcomes(rests, self.successes, self.trials, weights);
        slope.fill(0.0);
        self.design.add_sums(rests, slope);
        likelihood
    }
}

struct Work {
    gram: Vec<f64>,
    slope: Vec<f64>,
    weights: Vec<f64>,
    /// Log odds of each row, then what is left of its successes.
    rests: Vec<f64>,
}

/// Counts that can be: finite, none above its trials.
///
/// # Errors
/// [`FitError::Shape`].
pub fn check(n: usize, successes: &[f64], trials: &[f64]) -> Result<(), FitError> {
    let fits = n > 0 && successes.len() == n && trials.len() == n;
    let can_be = |(k, n): (&f64, &f64)| *n > 0.0 && (0.0..=*n).contains(k) && n.is_finite();
    if fits && successes.iter().zip(trials).all(can_be) { Ok(()) } else { Err(FitError::Shape) }
}
