//! Means with levels that differ: a linear model with a random intercept per female, season, ...
//!
//! `y = X b + sum of level values + e`, `e` normal with variance `s² v` for known `v`, level values
//! normal with standard deviation `s` times the spread of their grouping, `b` flat or normal with a
//! given precision in units of `1/s²`. With the spreads given everything else is integrated in closed
//! form under the prior `1/s²` of the variance: `b` is Student's t (Box and Tiao 1973, Bayesian
//! Inference in Statistical Analysis, 2.7). The spreads are integrated over equally likely values
//! of a half-normal prior, so that with few levels the intervals are as wide as they must be.

use super::bordered::{Information, Layout, Values};
use super::design::{Design, FitError, Grouping};
use super::mixture::{Mixture, Part};
use super::spreads::{combinations, half_normal, shares, values_for};

/// Scale of the half-normal prior of a spread, in units of one row's own scatter. Our own choice:
/// levels most likely differ by no more than rows of one level do.
const SPREAD_SCALE: f64 = 1.0;

/// Rows, and what is known before them.
#[derive(Clone, Copy, Debug)]
pub struct Mixed<'a> {
    /// Covariates; a column of ones where there is to be an intercept.
    pub design: &'a Design,
    /// Groupings; that with most levels first: its levels' own values cannot be asked for.
    pub groupings: &'a [Grouping],
    /// What was measured.
    pub y: &'a [f64],
    /// Relative variance of each row, above zero.
    pub variance: &'a [f64],
    /// Prior precision of each covariate's effect, in units of `1/s²`; 0 is flat.
    pub precision: &'a [f64],
}

/// The model at given spreads.
#[derive(Clone, Debug)]
pub struct AtSpreads {
    /// Logarithm of the marginal likelihood, up to a constant of the data. With flat effects this
    /// is the restricted likelihood of the variance ratios, the residual variance integrated out.
    pub log_marginal: f64,
    /// Middle of everything.
    pub centre: Values,
    /// Estimate of `s²`.
    pub residual_variance: f64,
    /// Degrees of freedom.
    pub degrees: f64,
    /// Of the contrasts asked for: middle and scale.
    pub contrasts: Vec<(f64, f64)>,
}

/// A sum of covariates' effects and levels (by [`Layout::place`]), each times a factor.
pub type Contrast = Vec<(usize, f64)>;

struct Sums {
    information: Information,
    told: Values,
    square: f64,
}

impl Mixed<'_> {
    fn check(&self) -> Result<(), FitError> {
        let n = self.design.len();
        let fits = self.y.len() == n
            && self.variance.len() == n
            && self.precision.len() == self.design.columns();
        let is_sound = self.y.iter().all(|y| y.is_finite())
            && self.variance.iter().all(|v| *v > 0.0 && v.is_finite());
        if fits && is_sound { Ok(()) } else { Err(FitError::Shape) }
    }

    fn sums(&self, layout: &Layout<'_>) -> Sums {
        let w: Vec<f64> = self.variance.iter().map(|v| 1.0 / v).collect();
        let wy: Vec<f64> = w.iter().zip(self.y).map(|(w, y)| w * y).collect();
        let square = crate::cholesky::dot(&wy, self.y);
        Sums { information: layout.information(&w), told: layout.gather(&wy), square }
    }

    fn at(
        &self,
        layout: &Layout<'_>,
        sums: &Sums,
        spreads: &[f64],
        contrasts: &[Contrast],
    ) -> Result<AtSpreads, FitError> {
        let prior = layout.prior(self.precision, spreads);
        let factored = sums.information.factored(layout, &prior).ok_or(FitError::Undetermined)?;
        let mut centre = sums.told.clone();
        factored.solve(&mut centre);
        let n_flat = self.precision.iter().filter(|p| **p <= 0.0).count();
        #[expect(clippy::cast_precision_loss, reason = "counts of rows")]
        let degrees = self.design.len() as f64 - n_flat as f64;
        if degrees <= 0.0 {
            return Err(FitError::Undetermined);
        }
        let rest = (sums.square - centre.dot(&sums.told)).max(1e-300);
        let proper: f64 = prior.iter().filter(|p| **p > 0.0).map(|p| p.ln()).sum();
        let residual_variance = rest / degrees;
        let shown = contrasts.iter().map(|contrast| {
            let middle = contrast.iter().map(|(at, factor)| factor * centre.dense[*at]).sum();
            let variance = residual_variance * factored.variance(contrast, layout.dense());
            (middle, variance.sqrt())
        });
        Ok(AtSpreads {
            log_marginal: 0.5 * (proper - factored.ln_determinant() - degrees * rest.ln()),
            residual_variance,
            degrees,
            contrasts: shown.collect(),
            centre,
        })
    }

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
        self.at(&layout, &self.sums(&layout), spreads, contrasts)
    }

    /// What is believed of each contrast, spreads integrated out.
    ///
    /// # Errors
    /// [`FitError`].
    pub fn posterior(&self, contrasts: &[Contrast]) -> Result<Vec<Mixture>, FitError> {
        self.check()?;
        let layout = Layout::new(self.design, self.groupings)?;
        let sums = self.sums(&layout);
        let values = half_normal(values_for(self.groupings.len()), SPREAD_SCALE);
        let all = combinations(self.groupings.len(), &values);
        let fits: Vec<AtSpreads> = all
            .iter()
            .map(|spreads| self.at(&layout, &sums, spreads, contrasts))
            .collect::<Result<_, _>>()?;
        let logs: Vec<f64> = fits.iter().map(|f| f.log_marginal).collect();
        let weights = shares(&logs);
        let of = |at: usize| {
            let parts = fits.iter().zip(&weights).map(|(fit, weight)| {
                let (centre, scale) = fit.contrasts[at];
                Part { weight: *weight, centre, scale, degrees: fit.degrees }
            });
            Mixture(parts.collect())
        };
        Ok((0..contrasts.len()).map(of).collect())
    }
}
