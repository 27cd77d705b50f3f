//! What hastens it, where it comes again to the same ones: proportional hazards with a level of its
//! own for each female.
//!
//! Levels are normal around zero in log hazard. Given their spread, the most likely values are those
//! of a penalised partial likelihood (Therneau, Grambsch and Pankratz 2003, Journal of Computational
//! and Graphical Statistics 12:156), about which everything is taken for normal; the spread is
//! integrated over a few equally likely values, weighed by Laplace's approximation (Ripatti and
//! Palmgren 2000, Biometrics 56:1016).

use super::cox::fit;
use super::design::{Design, FitError, Grouping};
use super::kaplan_meier::Spell;
use super::mixed::Contrast;
use super::mixture::{Mixture, Part};
use super::spreads::{half_normal, shares, values_for};

/// Scale of the half-normal prior of the spread, in log hazard. Our own choice: of two females one
/// standard deviation apart one hardly has twice the hazard of the other.
const SPREAD_SCALE: f64 = 0.5;

/// Rows, and what is known before them.
#[derive(Clone, Copy, Debug)]
pub struct MixedCox<'a> {
    /// Covariates, without a column of ones: the hazard over time takes its place.
    pub design: &'a Design,
    /// Whose each row is.
    pub levels: &'a Grouping,
    /// How long each waited.
    pub spells: &'a [Spell],
    /// Prior precision of each covariate's effect; 0 is flat.
    pub precision: &'a [f64],
}

/// The model at a given spread.
#[derive(Clone, Debug)]
pub struct AtSpread {
    /// Logarithm of the marginal partial likelihood by Laplace's approximation.
    pub log_marginal: f64,
    /// Of the contrasts asked for: mean and standard deviation.
    pub contrasts: Vec<(f64, f64)>,
}

impl MixedCox<'_> {
    /// The model where the spread is known.
    ///
    /// # Errors
    /// [`FitError`].
    pub fn at_spread(&self, spread: f64, contrasts: &[Contrast]) -> Result<AtSpread, FitError> {
        let rows = self.with_levels()?;
        self.fitted(&rows, spread, contrasts)
    }

    /// What is believed of each contrast of the covariates.
    ///
    /// # Errors
    /// [`FitError`].
    pub fn posterior(&self, contrasts: &[Contrast]) -> Result<Vec<Mixture>, FitError> {
        let rows = self.with_levels()?;
        let spreads = half_normal(values_for(2), SPREAD_SCALE);
        let fits: Result<Vec<AtSpread>, FitError> =
            spreads.iter().map(|spread| self.fitted(&rows, *spread, contrasts)).collect();
        let fits = fits?;
        let weights = shares(&fits.iter().map(|f| f.log_marginal).collect::<Vec<_>>());
        let of = |at: usize| {
            let parts = fits.iter().zip(&weights).map(|(fit, weight)| {
                let (centre, scale) = fit.contrasts[at];
                Part { weight: *weight, centre, scale, degrees: f64::INFINITY }
            });
            Mixture(parts.collect())
        };
        Ok((0..contrasts.len()).map(of).collect())
    }

    /// The covariates with a column for each level beside them.
    fn with_levels(&self) -> Result<Design, FitError> {
        let (p, levels) = (self.design.columns(), self.levels.levels);
        if self.levels.of_row.len() != self.design.len() || self.precision.len() != p {
            return Err(FitError::Shape);
        }
        let mut cells = Vec::with_capacity(self.design.len() * (p + levels));
        for (row, level) in self.design.rows().zip(&self.levels.of_row) {
            cells.extend_from_slice(row);
            let own = cells.len() + level;
            cells.resize(cells.len() + levels, 0.0);
            *cells.get_mut(own).ok_or(FitError::Shape)? = 1.0;
        }
        Design::new(p + levels, cells)
    }

    fn fitted(
        &self,
        rows: &Design,
        spread: f64,
        contrasts: &[Contrast],
    ) -> Result<AtSpread, FitError> {
        let mut precision = self.precision.to_vec();
        precision.resize(rows.columns(), spread.powi(-2));
        let fit = fit(rows, self.spells, &precision)?;
        let penalty: f64 = fit.effects.iter().zip(&precision).map(|(b, p)| p * b * b).sum();
        let proper: f64 = precision.iter().filter(|p| **p > 0.0).map(|p| p.ln()).sum();
        let of = |contrast: &Contrast| {
            let mut along = vec![0.0; rows.columns()];
            contrast.iter().for_each(|(at, factor)| along[*at] += factor);
            let middle = crate::cholesky::dot(&along, &fit.effects);
            let spread = crate::cholesky::dot(&along, &fit.information.solve(&along));
            (middle, spread.max(0.0).sqrt())
        };
        Ok(AtSpread {
            log_marginal: fit.log_likelihood
                + 0.5 * (proper - penalty - fit.information.ln_determinant()),
            contrasts: contrasts.iter().map(of).collect(),
        })
    }
}
