//! Clutches whose sire is in doubt: what joins all loci.
//!
//! Every combination of sires is a pedigree of its own. Its weight is the prior of those sires times
//! the likelihood of all loci under it: summed over sires outside, multiplied over loci inside.

use records::Colony;

use super::answer::{LocusChances, SireShare, SireWeighed, World};
use super::lineage::{Lineage, count};
use super::weigh::{Answered, who};
use crate::sire::{Father, candidates};

/// Combinations of sires that are all weighed together; our own choice. Of large colonies fewer,
/// each costs a run of every locus.
const MOST: usize = 64;
const MOST_OF_LARGE: usize = 16;
const LARGE: usize = 1_000;
/// Fathers less likely than this beforehand are left out; our own choice.
const LEAST_PRIOR: f64 = 1e-4;
/// Combinations less likely than this in the end are dropped; our own choice.
const LEAST_WEIGHT: f64 = 1e-9;

/// A clutch whose sire is in doubt.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Doubtful {
    clutch: usize,
    young: Vec<u32>,
    /// Sires as nodes, with their prior, likeliest first; the last may be one nobody wrote down.
    options: Vec<(u32, f64)>,
}

/// Every pedigree that is weighed.
#[derive(Clone, Debug)]
pub(super) struct Combinations {
    doubts: Vec<Doubtful>,
    /// The option of every doubt, and the natural log of its prior.
    picks: Vec<(Vec<usize>, f64)>,
    /// Whether some doubts had to be left at their likeliest father.
    pub is_cut: bool,
}

impl Combinations {
    pub fn of(colony: &Colony, lineage: &Lineage) -> Self {
        let doubts = doubtful(colony, lineage);
        let most = if colony.animals.len() > LARGE { MOST_OF_LARGE } else { MOST };
        let mut picks = vec![(Vec::new(), 0.0)];
        let mut is_cut = false;
        // The newest clutches matter most: they come last.
        for doubt in doubts.iter().rev() {
            let fits = picks.len() * doubt.options.len() <= most;
            is_cut |= !fits;
            let n = if fits { doubt.options.len() } else { 1 };
            let longer = |(pick, prior): &(Vec<usize>, f64)| {
                let one = |option: usize| {
                    let mut pick = pick.clone();
                    pick.insert(0, option);
                    (pick, prior + doubt.options[option].1.ln())
                };
                (0..n).map(one).collect::<Vec<_>>()
            };
            picks = picks.iter().flat_map(longer).collect();
        }
        Self { doubts, picks, is_cut }
    }

    /// The pedigree of every combination.
    pub fn lineages(&self, colony: &Colony, base: Lineage) -> Vec<Lineage> {
        if self.doubts.is_empty() {
            return vec![base];
        }
        let of = |(pick, _): &(Vec<usize>, f64)| {
            let mut lineage = base.clone();
            for (doubt, option) in self.doubts.iter().zip(pick) {
                for young in &doubt.young {
                    lineage.parents[*young as usize].sire = doubt.options[*option].0;
                }
            }
            lineage.again(colony);
            lineage
        };
        self.picks.iter().map(of).collect()
    }

    /// Weighs all combinations by all loci; hands back the likeliest one, the chances of all loci
    /// over them, and what came out of each clutch.
    pub fn weigh(
        &self,
        lineages: &[Lineage],
        answers: Vec<Answered>,
    ) -> (usize, Vec<LocusChances>, Vec<SireWeighed>) {
        let weights = self.weights(&answers);
        let best = (0..weights.len()).max_by(|a, b| weights[*a].total_cmp(&weights[*b]));
        let best = best.unwrap_or(0);
        let loci = answers.into_iter().map(|answer| joined(answer, &weights)).collect();
        let base = &lineages[best.min(lineages.len() - 1)];
        let sires = self.doubts.iter().enumerate().map(|(at, doubt)| {
            let share = |(option, (node, prior)): (usize, &(u32, f64))| {
                let has =
                    self.picks.iter().zip(&weights).filter(|((pick, _), _)| pick[at] == option);
                let chance = has.map(|(_, weight)| weight).sum();
                SireShare { who: who(base, *node as usize), prior: *prior, chance }
            };
            let sires = doubt.options.iter().enumerate().map(share).collect();
            SireWeighed { clutch: doubt.clutch, sires }
        });
        (best, loci, sires.collect())
    }

    fn weights(&self, answers: &[Answered]) -> Vec<f64> {
        let of = |at: usize| {
            let loci = answers.iter().filter_map(|answer| answer.combinations.get(at));
            // What clashes at a locus whatever the sire says nothing about him.
            let sum: f64 = loci.map(|(log_likelihood, _)| *log_likelihood).sum();
            self.picks[at].1 + sum
        };
        let logs: Vec<f64> = (0..self.picks.len()).map(of).collect();
        let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if !top.is_finite() {
            let mut weights = vec![0.0; logs.len()];
            weights.iter_mut().take(1).for_each(|w| *w = 1.0);
            return weights;
        }
        let mut weights: Vec<f64> = logs.iter().map(|log| (log - top).exp()).collect();
        let sum: f64 = weights.iter().sum();
        weights.iter_mut().for_each(|w| *w /= sum);
        weights
    }
}

/// The worlds of all combinations, each by its own weight times that of its combination.
fn joined(answer: Answered, weights: &[f64]) -> LocusChances {
    let mut chances = answer.chances;
    if answer.combinations.len() < 2 {
        return chances;
    }
    let mut worlds: Vec<World> = Vec::new();
    for ((_, own), weight) in answer.combinations.into_iter().zip(weights) {
        if *weight >= LEAST_WEIGHT {
            worlds.extend(own.into_iter().map(|w| World { weight: w.weight * weight, ..w }));
        }
    }
    let sum: f64 = worlds.iter().map(|w| w.weight).sum();
    if sum > 0.0 {
        worlds.iter_mut().for_each(|w| w.weight /= sum);
        chances.worlds = worlds;
    }
    chances
}

/// Clutches with a dam, young that name no sire, and more than one who may be him. That there was
/// none at all is left to the question who fathered the clutch.
fn doubtful(colony: &Colony, lineage: &Lineage) -> Vec<Doubtful> {
    let mut all = Vec::new();
    for (at, clutch) in colony.clutches.iter().enumerate().filter(|(_, c)| c.sire.is_none()) {
        let is_open = |place: &&usize| {
            let parents = lineage.parents[**place];
            parents.dam == count(clutch.female) && parents.sire as usize >= lineage.n_animals
        };
        let young: Vec<u32> = clutch.young.iter().filter(is_open).map(|p| count(*p)).collect();
        let Some(first) = young.first().map(|first| *first as usize) else { continue };
        let unknown = lineage.parents[first].sire;
        let is_young = |male: usize| young.iter().any(|y| lineage.is_above(*y as usize, male));
        let mut options: Vec<(u32, f64)> = Vec::new();
        for candidate in candidates(colony, clutch) {
            let node = match candidate.father {
                Father::Male(male) | Father::Stored(male) if !is_young(male) => count(male),
                Father::Unknown => unknown,
                Father::Male(_) | Father::Stored(_) | Father::Nobody => continue,
            };
            match options.iter_mut().find(|(known, _)| *known == node) {
                Some((_, prior)) => *prior += candidate.prior,
                None => options.push((node, candidate.prior)),
            }
        }
        options.retain(|(_, prior)| *prior >= LEAST_PRIOR);
        options.sort_by(|a, b| b.1.total_cmp(&a.1));
        let sum: f64 = options.iter().map(|(_, prior)| prior).sum();
        options.iter_mut().for_each(|(_, prior)| *prior /= sum);
        if options.len() > 1 {
            all.push(Doubtful { clutch: at, young, options });
        }
    }
    all
}
