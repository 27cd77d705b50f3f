//! The looks of the young that fit a target, likeliest first.

use super::best_first::{every, largest};
use super::mixture::TargetTooTangled;
use super::outcomes::{LookFactor, Mix, Outcomes, likelier_first};
use super::pair::PairBelief;
use super::transmission::Among;
use crate::target::Target;

/// Looks at the loci of one target that are tried one by one; our choice, far above what a keeper
/// asks for.
const MOST_TRIED: usize = 4_096;
/// Looks searched for fitting ones where the target speaks of too many loci.
const SEARCHED: usize = 1_000;

impl<'c> PairBelief<'c> {
    /// The `limit` likeliest looks of which some young fit the target and hatch; `total` and `rest`
    /// are those of such looks.
    ///
    /// Looks at the loci that the target names are tried one by one and become one list; the other
    /// loci stay lists of their own, so that the search ends after `limit` looks. Where the target
    /// names so many loci that this is too much, only the likeliest looks of all are searched.
    ///
    /// # Errors
    /// [`TargetTooTangled`] as for the target itself.
    pub fn outcomes_fitting(
        &self,
        limit: usize,
        target: &Target,
    ) -> Result<Outcomes<'c>, TargetTooTangled> {
        let factors = self.look_factors(Mix::Laid, Among::All);
        let named = target.loci();
        let (asked, other): (Vec<usize>, Vec<usize>) =
            (0..factors.len()).partition(|i| named.contains(&factors[*i].locus));
        let tries = asked.iter().try_fold(1_usize, |n, i| n.checked_mul(factors[*i].shares.len()));
        if tries.is_none_or(|n| n > MOST_TRIED) {
            return self.searched(limit, target);
        }
        let tried = every(&asked.iter().map(|i| chances(&factors[*i])).collect::<Vec<_>>());
        let mut fitting = Vec::new();
        for one in tried {
            if self.can_fit(&factors, (&asked, &one.at), target)? {
                fitting.push(one);
            }
        }
        fitting.sort_by(|a, b| b.value.total_cmp(&a.value).then_with(|| a.at.cmp(&b.at)));
        // What never hatches fits nothing, whatever else it is.
        let living: Vec<Vec<usize>> = other
            .iter()
            .map(|i| {
                let shares = &factors[*i].shares;
                (0..shares.len()).filter(|at| shares[*at].hatching > 0.0).collect()
            })
            .collect();
        let mut lists = vec![fitting.iter().map(|f| f.value).collect::<Vec<f64>>()];
        lists.extend(other.iter().zip(&living).map(|(i, positions)| {
            positions.iter().map(|at| factors[*i].shares[*at].chance).collect()
        }));
        let total: u128 = lists.iter().map(|l| l.len() as u128).product();
        let whole: f64 = lists.iter().map(|l| l.iter().sum::<f64>()).product();
        let mut list: Vec<_> = largest(&lists, limit)
            .into_iter()
            .map(|mut product| {
                let mut at = vec![0; factors.len()];
                asked.iter().zip(&fitting[product.at[0]].at).for_each(|(i, p)| at[*i] = *p);
                let rest = other.iter().zip(&living).zip(&product.at[1..]);
                rest.for_each(|((i, positions), p)| at[*i] = positions[*p]);
                product.at = at;
                self.outcome(&factors, &product)
            })
            .collect();
        list.sort_by(likelier_first);
        let listed: f64 = list.iter().map(|o| o.chance).sum();
        let rest = if total <= limit as u128 { 0.0 } else { (whole - listed).max(0.0) };
        Ok(Outcomes { list, total, rest })
    }

    fn can_fit(
        &self,
        factors: &[LookFactor],
        (asked, at): (&[usize], &[usize]),
        target: &Target,
    ) -> Result<bool, TargetTooTangled> {
        let mut parts = self.lives(Among::All);
        parts.push(target.clone());
        for (i, p) in asked.iter().zip(at) {
            let factor = &factors[*i];
            let look = factor.shares.get(*p).and_then(|share| share.look);
            if let Some(locus) = self.catalogue.locus(factor.locus) {
                let alike = locus.genotypes_with_look(look).collect();
                parts.push(Target::Is(factor.locus, alike));
            }
        }
        Ok(self.laid(&Target::All(parts), Among::All)? > 0.0)
    }

    fn searched(&self, limit: usize, target: &Target) -> Result<Outcomes<'c>, TargetTooTangled> {
        let mut list = Vec::new();
        for outcome in self.outcomes(SEARCHED).list {
            if self.fitting_of(&outcome, target)? > 0.0 {
                list.push(outcome);
            }
        }
        let total = list.len() as u128;
        let rest = list.iter().skip(limit).map(|o| o.chance).sum();
        list.truncate(limit);
        Ok(Outcomes { list, total, rest })
    }
}

fn chances(factor: &LookFactor) -> Vec<f64> {
    factor.shares.iter().map(|s| s.chance).collect()
}
