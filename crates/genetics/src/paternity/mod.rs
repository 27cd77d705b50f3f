//! Who fathered a clutch.
//!
//! Given its parents' genotypes the eggs of a clutch are independent; parents are known only up to
//! chances, so every likelihood is the mean over the *joint* of both parents' genotypes, taken once
//! for the whole clutch. Given the father, linkage groups multiply. A candidate may be a male, sperm
//! kept from an earlier season, a male nobody recorded, or nobody: parthenogenesis.

mod cases;
mod known;
mod shared;
mod young;

use std::fmt;

use crate::linkage::LinkageGroup;
use cases::Cases;

pub use young::hatchling_states;

/// What is believed of one candidate and the dam at one linkage group, everything but this clutch
/// taken into account.
#[derive(Clone, Debug, PartialEq)]
pub enum Parents {
    /// State of the sire, state of the dam, chance. They sum to 1.
    Pair(Vec<(usize, usize, f64)>),
    /// The dam without a male: her state, chance. They sum to 1.
    Alone(Vec<(usize, f64)>),
}

/// One linkage group: what the candidates may be and what is seen of the young.
#[derive(Clone, Debug)]
pub struct GroupSeen<'g> {
    /// The loci; where some genotypes do not hatch, [`LinkageGroup::per_hatchling`].
    pub group: &'g LinkageGroup,
    /// One entry for each candidate.
    pub parents: Vec<Parents>,
    /// For each hatchling, the chance of what was seen of it given each of its states.
    pub young: Vec<Vec<f64>>,
}

/// Why the question was refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaternityError {
    /// Groups with different numbers of candidates or hatchlings, a state that the group does not
    /// have, a chance below 0 or a sum of chances off 1 by more than 1e-9.
    Misfit,
    /// No candidate can have fathered the clutch.
    Impossible,
}

impl fmt::Display for PaternityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Misfit => "candidates, hatchlings and linkage groups do not fit together",
            Self::Impossible => {
                "no candidate can have fathered these hatchlings: look for a wrong look, or for a father who is not named"
            }
        })
    }
}

impl std::error::Error for PaternityError {}

/// What is thought of the candidates before the young are looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct Prior {
    /// A weight for each candidate.
    pub candidates: Vec<f64>,
    /// Chance that two of them shared the clutch, 0..=1.
    pub two: f64,
}

/// What is thought of them afterwards.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// For each candidate.
    pub candidates: Vec<CandidateChance>,
    /// Chance that two shared the clutch.
    pub two: f64,
    /// Every two candidates that can have shared it, with their chance; likeliest first.
    pub pairs: Vec<(usize, usize, f64)>,
    /// For each hatchling, the chance of each candidate.
    pub hatchlings: Vec<Vec<f64>>,
    /// Log10 of the chance of what was seen if one alone fathered the clutch.
    pub log10_one: f64,
    /// The same if two did; none where that was not asked, or was too much to reckon.
    pub log10_two: Option<f64>,
}

/// One candidate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CandidateChance {
    /// Chance that all are this one's.
    pub alone: f64,
    /// Chance that all or some are.
    pub any: f64,
    /// Log10 of the chance of what was seen if all are; minus infinity where that cannot be.
    pub log10_likelihood: f64,
}

/// A clutch, ready to be asked who fathered it.
#[derive(Clone, Debug)]
pub struct ClutchSeen {
    candidates: usize,
    hatchlings: usize,
    cases: Cases,
}

impl ClutchSeen {
    /// Checks what was seen and works out every hatchling's likelihood in every case.
    ///
    /// # Errors
    /// [`PaternityError::Misfit`].
    pub fn new(groups: &[GroupSeen<'_>]) -> Result<Self, PaternityError> {
        let first = groups.first();
        let candidates = first.map_or(0, |g| g.parents.len());
        let hatchlings = first.map_or(0, |g| g.young.len());
        let fits = groups.iter().all(|g| {
            let states = g.group.n_states();
            g.parents.len() == candidates
                && g.young.len() == hatchlings
                && g.parents.iter().all(|p| p.is_sound(states))
                && g.young.iter().all(|row| row.len() == states && row.iter().all(|w| *w >= 0.0))
        });
        if !fits {
            return Err(PaternityError::Misfit);
        }
        Ok(Self { candidates, hatchlings, cases: Cases::new(groups, candidates, hatchlings) })
    }

    /// Log10 of the chance of what was seen if one candidate fathered all; minus infinity where he
    /// cannot have.
    #[must_use]
    pub fn log10_by_one(&self, candidate: usize) -> f64 {
        if candidate >= self.candidates { f64::NEG_INFINITY } else { self.cases.by_one(candidate) }
    }

    /// Log10 of the chance of what was seen if these candidates shared the clutch, every division of
    /// it in shares being as likely as every other (Dirichlet with all parameters 1). A sire's
    /// genotype is taken as independent of the other sires' once the dam's is known.
    ///
    /// None where a candidate does not exist or comes twice, or the cases are too many.
    #[must_use]
    pub fn log10_by_several(&self, set: &[usize]) -> Option<f64> {
        let fine = set.iter().enumerate();
        let sound = fine.clone().all(|(i, c)| *c < self.candidates && !set[..i].contains(c));
        if !sound || set.is_empty() {
            return None;
        }
        match self.cases.known(set) {
            Some(eggs) => known::log10_shared(&eggs, set.len()),
            None => shared::shared(&self.cases, set).map(|shared| shared.log10_likelihood),
        }
    }

    /// Weighs the candidates. Two who share a clutch have a prior in proportion to the product of
    /// their weights.
    ///
    /// # Errors
    /// [`PaternityError::Misfit`] for a prior that fits neither the candidates nor 0..=1, and
    /// [`PaternityError::Impossible`].
    pub fn weigh(&self, prior: &Prior) -> Result<Verdict, PaternityError> {
        let weights = &prior.candidates;
        let sum: f64 = weights.iter().sum();
        let sound = weights.len() == self.candidates
            && weights.iter().all(|w| *w >= 0.0)
            && sum > 0.0
            && sum.is_finite()
            && (0.0..=1.0).contains(&prior.two);
        if !sound {
            return Err(PaternityError::Misfit);
        }
        let ones: Vec<f64> = (0..self.candidates).map(|c| self.log10_by_one(c)).collect();
        let pairs = self.pairs(weights, prior.two);
        let two = if pairs.is_empty() { 0.0 } else { prior.two };
        let prior_one: Vec<f64> = weights.iter().map(|w| w / sum).collect();
        Weighing { ones: &ones, prior_one, pairs: &pairs, two }.verdict(self.hatchlings)
    }

    /// Every two candidates of positive weight; the priors sum to 1. Empty if any is too much.
    fn pairs(&self, weights: &[f64], two: f64) -> Vec<PairSeen> {
        let mut all = Vec::new();
        if two <= 0.0 {
            return all;
        }
        for a in 0..self.candidates {
            for b in a + 1..self.candidates {
                let prior = weights[a] * weights[b];
                if prior > 0.0 {
                    let Some(seen) = shared::shared(&self.cases, &[a, b]) else {
                        return Vec::new();
                    };
                    all.push(PairSeen { pair: (a, b), prior, seen });
                }
            }
        }
        let sum: f64 = all.iter().map(|p| p.prior).sum();
        all.iter_mut().for_each(|p| p.prior /= sum);
        all
    }
}

struct PairSeen {
    pair: (usize, usize),
    prior: f64,
    seen: shared::Shared,
}

struct Weighing<'a> {
    ones: &'a [f64],
    prior_one: Vec<f64>,
    pairs: &'a [PairSeen],
    two: f64,
}

impl Weighing<'_> {
    fn verdict(&self, hatchlings: usize) -> Result<Verdict, PaternityError> {
        let pair_logs = self.pairs.iter().map(|p| p.seen.log10_likelihood);
        let top = self.ones.iter().copied().chain(pair_logs).fold(f64::NEG_INFINITY, f64::max);
        if top == f64::NEG_INFINITY {
            return Err(PaternityError::Impossible);
        }
        let scaled = |log: f64| 10_f64.powf(log - top);
        let one: Vec<f64> =
            self.prior_one.iter().zip(self.ones).map(|(p, log)| p * scaled(*log)).collect();
        let both: Vec<f64> =
            self.pairs.iter().map(|p| p.prior * scaled(p.seen.log10_likelihood)).collect();
        let (all_one, all_two): (f64, f64) = (one.iter().sum(), both.iter().sum());
        let whole = (1.0 - self.two) * all_one + self.two * all_two;
        if whole <= 0.0 {
            return Err(PaternityError::Impossible);
        }
        let mut candidates: Vec<CandidateChance> = one
            .iter()
            .zip(self.ones)
            .map(|(w, log)| {
                let alone = (1.0 - self.two) * w / whole;
                CandidateChance { alone, any: alone, log10_likelihood: *log }
            })
            .collect();
        let alone: Vec<f64> = candidates.iter().map(|c| c.alone).collect();
        let mut young = vec![alone; hatchlings];
        let mut pairs = Vec::with_capacity(both.len());
        for (seen, w) in self.pairs.iter().zip(both) {
            let chance = self.two * w / whole;
            let (a, b) = seen.pair;
            candidates[a].any += chance;
            candidates[b].any += chance;
            for (row, shares) in young.iter_mut().zip(&seen.seen.hatchlings) {
                row[a] += chance * shares[0];
                row[b] += chance * shares[1];
            }
            if chance > 0.0 {
                pairs.push((a, b, chance));
            }
        }
        pairs.sort_by(|a, b| b.2.total_cmp(&a.2).then((a.0, a.1).cmp(&(b.0, b.1))));
        Ok(Verdict {
            candidates,
            two: self.two * all_two / whole,
            pairs,
            hatchlings: young,
            log10_one: all_one.log10() + top,
            log10_two: (!self.pairs.is_empty()).then(|| all_two.log10() + top),
        })
    }
}

impl Parents {
    fn is_sound(&self, states: usize) -> bool {
        let (fits, sum) = match self {
            Self::Pair(cases) => (
                cases.iter().all(|(s, d, w)| *s < states && *d < states && *w >= 0.0),
                cases.iter().map(|(_, _, w)| w).sum::<f64>(),
            ),
            Self::Alone(cases) => (
                cases.iter().all(|(d, w)| *d < states && *w >= 0.0),
                cases.iter().map(|(_, w)| w).sum::<f64>(),
            ),
        };
        fits && (sum - 1.0).abs() < 1e-9
    }
}
