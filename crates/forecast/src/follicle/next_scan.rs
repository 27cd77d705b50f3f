//! What a scan on a later day will most likely read.

use units::Day;

use super::belief::Belief;
use super::below_each::below_each;
use super::mixture::Mixture;
use super::model::Clock;
use super::quantile::solve;

/// A forecast of what one scan reads: her size on that day with the error of the scan, as normal
/// parts.
#[derive(Clone, Debug, PartialEq)]
pub struct NextScan {
    /// Weight, mean and spread of each part, mm; the weights sum to one.
    pub parts: Vec<(f64, f64, f64)>,
}

/// Lighter parts are left out: together they could not move a median by a tenth of a millimetre.
const WORTH_KEEPING: f64 = 2e-4;

impl Belief {
    /// What one scan on `day` will read, on what is believed tonight. A day before tonight is taken
    /// for tonight.
    #[must_use]
    pub fn next_scan(&self, day: Day) -> NextScan {
        let hyper = &self.laid_out.hyper;
        let mixture = Mixture::from_tracks(self.tracks.clone());
        let mut clock = Clock::going_on(mixture, self.days_open);
        let nights = day.days_since(self.today).max(0);
        clock.advance(hyper, self.days_open.saturating_add(nights));
        let (own, shared) = (hyper.scan_own.powi(2), hyper.scan_shared.powi(2));
        let errors = [
            (1.0 - hyper.scan_gross, own + shared),
            (hyper.scan_gross, own * hyper.scan_gross_times.powi(2) + shared),
        ];
        let mut parts: Vec<(f64, f64, f64)> = clock
            .mixture
            .tracks
            .iter()
            .flat_map(|t| errors.map(|(p, e)| (t.weight * p, t.x, (t.xx.max(0.0) + e).sqrt())))
            .filter(|part| part.0 > WORTH_KEEPING)
            .collect();
        let total: f64 = parts.iter().map(|part| part.0).sum();
        parts.iter_mut().for_each(|part| part.0 /= total);
        NextScan { parts }
    }
}

impl NextScan {
    /// Chance that the scan reads less than `size` mm.
    #[must_use]
    pub fn below(&self, size: f64) -> f64 {
        let beyond = |(_, mean, spread): &(f64, f64, f64)| (size - mean) / spread;
        let mut shares: Vec<f64> = self.parts.iter().map(beyond).collect();
        below_each(&mut shares);
        self.parts.iter().zip(shares).map(|((weight, ..), share)| weight * share).sum()
    }

    /// The reading below which that share lies, mm.
    #[must_use]
    pub fn quantile(&self, share: f64) -> f64 {
        let ends = self.parts.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| {
            (low.min(p.1 - 8.0 * p.2), high.max(p.1 + 8.0 * p.2))
        });
        solve(share, ends, |size| self.below(size))
    }
}
