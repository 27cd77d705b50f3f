//! Clutches whose sire is in doubt: what joins all loci.
//!
//! Every combination of sires is a pedigree of its own. Its weight is the prior of those sires times
//! the likelihood of all loci under it: summed over sires outside, multiplied over loci inside. A
//! clutch is in doubt where its records name no sire, or where what is seen speaks against the one
//! they name.

use std::sync::Arc;

use records::{Colony, Sex};

use super::answer::{LocusChances, SireShare, SireWeighed, World};
use super::lineage::{Lineage, NOBODY, count};
use super::weigh::Answered;
use crate::settings::InForce;
use crate::sire::{Father, SURE, candidates_by};

/// Combinations of sires that are all weighed together; our own choice. Of large colonies fewer,
/// each costs a run of every locus.
const MOST: usize = 64;
const MOST_OF_LARGE: usize = 16;
const LARGE: usize = 1_000;
/// Fathers less likely than this beforehand are left out; our own choice.
const LEAST_PRIOR: f64 = 1e-4;
/// A written sire is in doubt below this chance, if the odds of the others rose by so much by what
/// was seen; our own choice. That several males were with her alone does not gainsay the keeper.
const DOUBTED: f64 = SURE;
const AGAINST: f64 = 1.25;
/// Combinations less likely than this in the end are dropped; our own choice.
const LEAST_WEIGHT: f64 = 1e-9;

/// A clutch with more than one who may be its sire.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Doubtful {
    pub clutch: usize,
    pub young: Vec<u32>,
    /// The sire that its records name, as a node.
    pub written: Option<u32>,
    /// Who may be, with the chance beforehand: the one who is written first, then the likeliest.
    pub options: Vec<(Father, f64)>,
}

/// Every pedigree that is weighed.
#[derive(Clone, Debug)]
pub(super) struct Combinations {
    doubts: Vec<Doubtful>,
    /// The option of every doubt, and the natural log of its prior.
    picks: Vec<(Vec<usize>, f64)>,
    /// Whether some doubts had to be left at their first option.
    pub is_cut: bool,
}

impl Combinations {
    pub fn of(doubts: Vec<Doubtful>, animals: usize) -> Self {
        let most = if animals > LARGE { MOST_OF_LARGE } else { MOST };
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

    /// The first options of these doubts, and every change of one of them alone.
    pub fn one_by_one(doubts: Vec<Doubtful>) -> Self {
        let first = vec![0; doubts.len()];
        let mut picks = vec![(first.clone(), 0.0)];
        for (at, doubt) in doubts.iter().enumerate() {
            for option in 1..doubt.options.len() {
                let mut pick = first.clone();
                pick[at] = option;
                picks.push((pick, 0.0));
            }
        }
        Self { doubts, picks, is_cut: false }
    }

    /// The pedigree of every combination.
    pub fn lineages(&self, colony: &Colony, base: &Arc<Lineage>) -> Vec<Arc<Lineage>> {
        if self.doubts.is_empty() {
            return vec![Arc::clone(base)];
        }
        let mut base = Lineage::clone(base);
        // A stranger of its own for every clutch: the one it has, or a new one.
        let stranger = |base: &mut Lineage, doubt: &Doubtful| match doubt.written {
            Some(_) => base.add_unrecorded(),
            None => base.parents[doubt.young[0] as usize].sire,
        };
        let strangers: Vec<u32> = self.doubts.iter().map(|d| stranger(&mut base, d)).collect();
        let of = |(pick, _): &(Vec<usize>, f64)| {
            let mut lineage = base.clone();
            for ((doubt, option), stranger) in self.doubts.iter().zip(pick).zip(&strangers) {
                let sire = match doubt.options[*option].0 {
                    Father::Male(male) | Father::Stored(male) => count(male),
                    Father::Unknown => *stranger,
                    Father::Nobody => NOBODY,
                };
                for young in &doubt.young {
                    lineage.parents[*young as usize].sire = sire;
                }
            }
            lineage.again(colony);
            Arc::new(lineage)
        };
        self.picks.iter().map(of).collect()
    }

    /// Of the doubts that were asked [`Self::one_by_one`], those whose first option is left in doubt.
    /// `logs`: of every locus the natural log of the likelihood under each combination.
    pub fn left_in_doubt(self, logs: &[Vec<f64>]) -> Vec<Doubtful> {
        let sum = |at: usize| logs.iter().map(|locus| locus[at]).sum();
        let logs: Vec<f64> = (0..self.picks.len()).map(sum).collect();
        let mut next = 1;
        let mut is_left = |doubt: &Doubtful| {
            let others = &logs[next..next + doubt.options.len() - 1];
            next += doubt.options.len() - 1;
            let ratios =
                others.iter().map(|log| if log.is_finite() { (log - logs[0]).exp() } else { 0.0 });
            doubt.against(ratios).is_doubt(DOUBTED, AGAINST)
        };
        self.doubts.into_iter().filter(|doubt| is_left(doubt)).collect()
    }

    /// Weighs all combinations by all loci; hands back the likeliest one, the chances of all loci
    /// over them, and what came out of each clutch.
    pub fn weigh(&self, answers: Vec<Answered>) -> (usize, Vec<LocusChances>, Vec<SireWeighed>) {
        let weights = self.weights(&answers);
        let best = (0..weights.len()).max_by(|a, b| weights[*a].total_cmp(&weights[*b]));
        let best = best.unwrap_or(0);
        let loci = answers.into_iter().map(|answer| joined(answer, &weights)).collect();
        let sires = self.doubts.iter().enumerate().map(|(at, doubt)| {
            let share = |(option, (father, prior)): (usize, &(Father, f64))| {
                let has =
                    self.picks.iter().zip(&weights).filter(|((pick, _), _)| pick[at] == option);
                let chance = has.map(|(_, weight)| weight).sum();
                SireShare { father: *father, prior: *prior, chance }
            };
            SireWeighed {
                clutch: doubt.clutch,
                young: doubt.young.iter().map(|young| *young as usize).collect(),
                written: doubt.written.map(|sire| sire as usize),
                sires: doubt.options.iter().enumerate().map(share).collect(),
                told: None,
            }
        });
        (best, loci, sires.collect())
    }

    fn log_weight(&self, answers: &[Answered], at: usize) -> f64 {
        let loci = answers.iter().filter_map(|answer| answer.combinations.get(at));
        // What clashes at a locus whatever the sire says nothing about him.
        let sum: f64 = loci.map(|(log_likelihood, _)| *log_likelihood).sum();
        self.picks[at].1 + sum
    }

    fn weights(&self, answers: &[Answered]) -> Vec<f64> {
        let logs: Vec<f64> = (0..self.picks.len()).map(|at| self.log_weight(answers, at)).collect();
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

/// What is seen of a clutch, against the sire who is written.
#[derive(Clone, Copy, Debug)]
pub(super) struct Against {
    /// His chance by all records.
    chance: f64,
    /// By how much the odds of all others rose.
    odds: f64,
}

impl Against {
    /// His chance is below `doubted`, and what is seen made it so: the odds of the others are
    /// `against` times what they were.
    pub fn is_doubt(self, doubted: f64, against: f64) -> bool {
        self.chance < doubted && self.odds > against
    }
}

impl Doubtful {
    /// `ratios`: how much likelier everything is under each other option than under the written one.
    pub fn against(&self, ratios: impl Iterator<Item = f64>) -> Against {
        let (own, others) = (self.options[0].1, &self.options[1..]);
        let weight: f64 = others.iter().zip(ratios).map(|((_, prior), ratio)| prior * ratio).sum();
        // Options may have been left out.
        let before = 1.0 - own;
        if !weight.is_finite() {
            return Against { chance: 0.0, odds: f64::INFINITY };
        }
        Against { chance: own / (own + weight), odds: weight / before }
    }
}

impl Doubtful {
    /// Leaves out options with a smaller share of it all; `ratios` as for [`Self::against`].
    pub fn drop_below(&mut self, least: f64, ratios: &[f64]) {
        let ratios = std::iter::once(1.0).chain(ratios.iter().copied());
        let weights: Vec<f64> =
            self.options.iter().zip(ratios).map(|((_, prior), ratio)| prior * ratio).collect();
        let sum: f64 = weights.iter().sum();
        if sum.is_finite() {
            let mut is_kept =
                weights.into_iter().enumerate().map(|(at, w)| at == 0 || w >= least * sum);
            self.options.retain(|_| is_kept.next().unwrap_or(true));
        }
    }
}

/// Who may have fathered the clutches of a colony.
pub(super) struct Clutches<'a> {
    pub colony: &'a Colony,
    pub lineage: &'a Lineage,
    pub force: &'a InForce,
    /// Whether a sex-linked gene is in play: its locus weighs the sexes of the young.
    pub sexes_are_weighed: bool,
}

impl Clutches<'_> {
    /// Clutches that are in doubt, as several males may be the sire and none is written, and those
    /// that what is seen may put in doubt, both in the order they were written.
    pub fn all(&self) -> (Vec<Doubtful>, Vec<Doubtful>) {
        let is_male =
            |(father, _): &(Father, f64)| matches!(father, Father::Male(_) | Father::Stored(_));
        let is_open =
            |doubt: &Doubtful| doubt.written.is_none() && doubt.options.iter().any(is_male);
        let of = |at: usize| self.of(at);
        (0..self.colony.clutches.len()).filter_map(of).partition(is_open)
    }

    fn of(&self, at: usize) -> Option<Doubtful> {
        let Self { colony, lineage, .. } = *self;
        let clutch = &colony.clutches[at];
        let hers = |place: &&usize| lineage.parents[**place].dam == count(clutch.female);
        let sire_of = |place: usize| lineage.parents[place].sire;
        let first = clutch.young.iter().find(hers).map(|first| sire_of(*first))?;
        let young: Vec<u32> = clutch
            .young
            .iter()
            .filter(hers)
            .filter(|place| sire_of(**place) == first)
            .map(|place| count(*place))
            .collect();
        let written = ((first as usize) < lineage.n_animals).then_some(first);
        let is_young = |male: usize| young.iter().any(|y| lineage.is_above(*y as usize, male));
        let all = candidates_by(colony, clutch, self.force).into_iter();
        let mut options: Vec<(Father, f64)> = all
            .filter_map(|candidate| match candidate.father {
                Father::Male(male) | Father::Stored(male) if is_young(male) => None,
                Father::Nobody => Some((Father::Nobody, candidate.prior * self.alone(&young))),
                father => Some((father, candidate.prior)),
            })
            .collect();
        let is_written =
            |father: Father| written.is_some_and(|male| father == Father::Male(male as usize));
        options.retain(|(father, prior)| *prior >= LEAST_PRIOR || is_written(*father));
        options.sort_by(|a, b| is_written(b.0).cmp(&is_written(a.0)).then(b.1.total_cmp(&a.1)));
        let sum: f64 = options.iter().map(|(_, prior)| prior).sum();
        options.iter_mut().for_each(|(_, prior)| *prior /= sum);
        let is_asked = options.len() > 1 && written.is_none_or(|_| is_written(options[0].0));
        is_asked.then_some(Doubtful { clutch: at, young, written, options })
    }

    /// How much likelier the sexes of the young are without a sire than with one: all are daughters.
    fn alone(&self, young: &[u32]) -> f64 {
        let told = young.iter().map(|young| self.colony.animals[*young as usize].sex());
        let one = |sex: Option<Sex>| match sex {
            Some(Sex::Male) => 0.0,
            Some(Sex::Female) if !self.sexes_are_weighed => 2.0,
            Some(Sex::Female) | None => 1.0,
        };
        told.map(one).product()
    }
}
