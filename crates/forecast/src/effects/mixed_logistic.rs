//! Chances with levels that differ: logistic regression with a random intercept per female, season,
//! male, ...
//!
//! Given the spreads of the groupings, all effects and level values are approximated by a normal
//! distribution at their most likely values (Laplace; Tierney and Kadane 1986, Journal of the
//! American Statistical Association 81:82), whose middle is then moved by what the likelihood's
//! third derivatives make of it (Lindley 1980, Trabajos de Estadistica 31:223): the most likely
//! values of chances with many levels lie too near to one half. Spreads are integrated over equally
//! likely values of a half-normal prior.

use super::bordered::{Factored, Layout, Values};
use super::design::{Design, FitError, Grouping};
use super::logistic::check;
use super::mixed::Contrast;
use super::mixture::{Mixture, Part};
use super::outcomes::outcomes;
use super::spreads::{combinations, half_normal, shares, values_for};

/// Scale of the half-normal prior of a spread, in log odds. Our own choice: of two levels one
/// standard deviation apart one most likely has no more than about three times the odds of the other.
const SPREAD_SCALE: f64 = 1.0;
const MOST_STEPS: usize = 60;
const LANDED: f64 = 1e-7;

/// Rows, and what is known before them.
#[derive(Clone, Copy, Debug)]
pub struct MixedLogistic<'a> {
    /// Covariates; a column of ones where there is to be an intercept.
    pub design: &'a Design,
    /// Groupings; that with most levels first: its levels' own values cannot be asked for.
    pub groupings: &'a [Grouping],
    /// How often it happened.
    pub successes: &'a [f64],
    /// Out of how many, above zero.
    pub trials: &'a [f64],
    /// Prior precision of each covariate's effect; 0 is flat.
    pub precision: &'a [f64],
}

/// The model at given spreads.
#[derive(Clone, Debug)]
pub struct AtSpreads {
    /// Logarithm of the marginal likelihood by Laplace's approximation, without binomial
    /// coefficients.
    pub log_marginal: f64,
    /// Most likely values of everything.
    pub centre: Values,
    /// Of the contrasts asked for: mean and standard deviation.
    pub contrasts: Vec<(f64, f64)>,
}

impl MixedLogistic<'_> {
    /// The model where the spreads are known.
    ///
    /// # Errors
    /// [`FitError`].
    pub fn at_spreads(
        &self,
        spreads: &[f64],
        contrasts: &[Contrast],
    ) -> Result<AtSpreads, FitError> {
        self.check()?;
        let layout = Layout::new(self.design, self.groupings)?;
        self.at(&layout, spreads, Values::zero(&layout), contrasts)
    }

    /// What is believed of each contrast, spreads integrated out.
    ///
    /// # Errors
    /// [`FitError`].
    pub fn posterior(&self, contrasts: &[Contrast]) -> Result<Vec<Mixture>, FitError> {
        self.check()?;
        let layout = Layout::new(self.design, self.groupings)?;
        let values = half_normal(values_for(self.groupings.len()), SPREAD_SCALE);
        let mut from = Values::zero(&layout);
        let mut fits = vec![];
        for spreads in combinations(self.groupings.len(), &values) {
            let fit = self.at(&layout, &spreads, from, contrasts)?;
            from = fit.centre.clone();
            fits.push(fit);
        }
        let logs: Vec<f64> = fits.iter().map(|f| f.log_marginal).collect();
        let weights = shares(&logs);
        let of = |at: usize| {
            let parts = fits.iter().zip(&weights).map(|(fit, weight)| {
                let (centre, scale) = fit.contrasts[at];
                Part { weight: *weight, centre, scale, degrees: f64::INFINITY }
            });
            Mixture(parts.collect())
        };
        Ok((0..contrasts.len()).map(of).collect())
    }

    fn check(&self) -> Result<(), FitError> {
        check(self.design.len(), self.successes, self.trials)?;
        let fits = self.precision.len() == self.design.columns();
        if fits { Ok(()) } else { Err(FitError::Shape) }
    }

    fn at(
        &self,
        layout: &Layout<'_>,
        spreads: &[f64],
        mut at: Values,
        contrasts: &[Contrast],
    ) -> Result<AtSpreads, FitError> {
        let prior = layout.prior(self.precision, spreads);
        let mut look = self.look(layout, &at);
        let mut objective = look.likelihood - penalty(&at, &prior);
        for _ in 0..MOST_STEPS {
            let factored = self.factored(layout, &look, &prior)?;
            let mut step = layout.gather(&look.rests);
            step.iter_mut()
                .zip(at.iter().zip(prior.iter()))
                .for_each(|(s, (value, precision))| *s -= precision * value);
            factored.solve(&mut step);
            let size = step.iter().fold(0.0_f64, |most, s| most.max(s.abs()));
            let mut scale = 1.0;
            loop {
                let mut tried = at.clone();
                tried.iter_mut().zip(step.iter()).for_each(|(t, s)| *t += scale * s);
                let seen = self.look(layout, &tried);
                let value = seen.likelihood - penalty(&tried, &prior);
                if value >= objective - 1e-9 * objective.abs() || scale < 1e-6 {
                    (at, look, objective) = (tried, seen, value);
                    break;
                }
                scale *= 0.5;
            }
            if size < LANDED {
                let factored = self.factored(layout, &look, &prior)?;
                let middle = self.middle(layout, &factored, &look, &at);
                let middles = contrasts.iter().map(|c| along(c, &middle.dense));
                let spreads = contrasts.iter().map(|c| factored.variance(c, layout.dense()).sqrt());
                let proper: f64 = prior.iter().filter(|p| **p > 0.0).map(|p| p.ln()).sum();
                return Ok(AtSpreads {
                    log_marginal: objective + 0.5 * (proper - factored.ln_determinant()),
                    contrasts: middles.zip(spreads).collect(),
                    centre: at,
                });
            }
        }
        Err(FitError::Unbounded)
    }

    fn factored(
        &self,
        layout: &Layout<'_>,
        look: &Look,
        prior: &Values,
    ) -> Result<Factored, FitError> {
        layout.information(&look.weights).factored(layout, prior).ok_or(FitError::Undetermined)
    }

    /// The mean, where `at` is what is most likely.
    fn middle(&self, layout: &Layout<'_>, factored: &Factored, look: &Look, at: &Values) -> Values {
        let spreads = factored.of_rows(layout);
        let rows = self.successes.iter().zip(self.trials).enumerate();
        let thirds: Vec<f64> = rows
            .map(|(row, (k, n))| {
                let chance = (k - look.rests[row]) / n;
                -0.5 * look.weights[row] * (1.0 - 2.0 * chance) * spreads[row]
            })
            .collect();
        let mut shift = layout.gather(&thirds);
        factored.solve(&mut shift);
        shift.iter_mut().zip(at.iter()).for_each(|(s, value)| *s += value);
        shift
    }

    fn look(&self, layout: &Layout<'_>, at: &Values) -> Look {
        let n = self.trials.len();
        let (mut rests, mut weights) = (vec![0.0; n], vec![0.0; n]);
        layout.predict(at, &mut rests);
        let likelihood = outcomes(&mut rests, self.successes, self.trials, &mut weights);
        Look { likelihood, weights, rests }
    }
}

struct Look {
    likelihood: f64,
    weights: Vec<f64>,
    rests: Vec<f64>,
}

fn penalty(at: &Values, prior: &Values) -> f64 {
    0.5 * at.iter().zip(prior.iter()).map(|(b, p)| p * b * b).sum::<f64>()
}

fn along(contrast: &Contrast, values: &[f64]) -> f64 {
    contrast.iter().map(|(at, factor)| factor * values[*at]).sum()
}
