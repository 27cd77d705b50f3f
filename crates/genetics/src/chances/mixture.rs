//! The chance of a target, egg by egg and in a clutch.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

use super::clutch::ClutchSize;
use super::pair::PairBelief;
use super::transmission::{Among, Young, young};
use crate::genotype::{Genotype, GenotypeSet, LocusId};
use crate::target::Target;

/// The chances of one target for one pair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TargetChance {
    /// That a fertile egg gives a hatchling that fits; an egg that never hatches does not count.
    pub per_egg: f64,
    /// That a hatchling fits; none where no egg can hatch.
    pub per_hatchling: Option<f64>,
    /// That the clutch gives at least one hatchling that fits.
    pub at_least_one: f64,
}

/// Too many uncertain loci stand in each other's parts of a target to be worked out exactly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TargetTooTangled {
    /// How many loci are tangled.
    pub loci: usize,
}

impl fmt::Display for TargetTooTangled {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} uncertain loci are named over and over in this target: name each gene once, or ask in parts",
            self.loci
        )
    }
}

impl std::error::Error for TargetTooTangled {}

/// Chance per egg, with the weight of the parents' genotypes that give it.
pub(super) type Mixture = Vec<(f64, f64)>;

const MOST_CASES: usize = 1 << 22;

impl PairBelief<'_> {
    /// Chances of a target in a clutch.
    ///
    /// The clutch shares its parents' unknown genotypes: the chance of at least one is the mean over
    /// these of 1 - (1 - p)^n, never 1 - (1 - mean p)^n. Only loci that the target names, or at which
    /// eggs may not live, are summed over.
    ///
    /// # Errors
    /// [`TargetTooTangled`] when the same many uncertain loci return in several parts.
    pub fn target(
        &self,
        target: &Target,
        clutch: &ClutchSize,
    ) -> Result<TargetChance, TargetTooTangled> {
        let lives = self.lives(Among::All);
        let hatches = mean(&self.mixture(&Target::All(lives), Among::All)?);
        let fits = self.fitting(target, Among::All)?;
        let per_egg = mean(&fits);
        Ok(TargetChance {
            per_egg,
            per_hatchling: (hatches > 0.0).then(|| (per_egg / hatches).min(1.0)),
            at_least_one: fits.iter().map(|(p, w)| w * clutch.at_least_one(*p)).sum(),
        })
    }

    /// Chance that a clutch gives at least `k` hatchlings that fit.
    ///
    /// # Errors
    /// As [`Self::target`].
    pub fn at_least(
        &self,
        k: usize,
        target: &Target,
        clutch: &ClutchSize,
    ) -> Result<f64, TargetTooTangled> {
        let fits = self.fitting(target, Among::All)?;
        Ok(fits.iter().map(|(p, w)| w * clutch.at_least(k, *p)).sum())
    }

    /// Chance that a fertile egg has a genotype that fits, whether it hatches or not.
    ///
    /// # Errors
    /// As [`Self::target`].
    pub fn laid(&self, target: &Target, among: Among) -> Result<f64, TargetTooTangled> {
        Ok(mean(&self.mixture(&target.gathered(), among)?))
    }

    pub(super) fn fitting(
        &self,
        target: &Target,
        among: Among,
    ) -> Result<Mixture, TargetTooTangled> {
        let mut parts = self.lives(among);
        parts.push(target.clone());
        self.mixture(&Target::All(parts).gathered(), among)
    }

    pub(super) fn lives(&self, among: Among) -> Vec<Target> {
        self.known_loci()
            .filter_map(|(pair, locus)| {
                let lethal = locus.lethal();
                let possible = lethal != GenotypeSet::EMPTY
                    && self.young_at(pair.locus, among).iter().any(|(g, _)| lethal.contains(*g));
                possible.then(|| Target::Is(pair.locus, lethal.complement()))
            })
            .collect()
    }

    pub(super) fn mixture(
        &self,
        target: &Target,
        among: Among,
    ) -> Result<Mixture, TargetTooTangled> {
        let (parts, all) = match target {
            Target::Is(locus, set) => {
                let cases = self.cases(*locus, among);
                return Ok(merged(cases.iter().map(|(y, w)| (share(y, *set), *w)).collect()));
            }
            Target::All(parts) => (parts, true),
            Target::Any(parts) => (parts, false),
        };
        // Parts without a locus in common are independent even within a clutch.
        let mut product: Mixture = vec![(1.0, 1.0)];
        for group in untangled(parts) {
            let mixture = match group.as_slice() {
                [one] => self.mixture(one, among)?,
                _ => self.tangled(&joined(group, all), among)?,
            };
            let factor = |p: f64| if all { p } else { 1.0 - p };
            let pairs = product
                .iter()
                .flat_map(|(p, w)| mixture.iter().map(move |(q, v)| (p * factor(*q), w * v)));
            product = merged(pairs.collect());
        }
        if !all {
            product.iter_mut().for_each(|(p, _)| *p = 1.0 - *p);
        }
        Ok(product)
    }

    fn cases(&self, at: LocusId, among: Among) -> Vec<(Young, f64)> {
        let found = self.known_loci().find(|(pair, _)| pair.locus == at);
        let Some((pair, locus)) = found else { return vec![(vec![(Genotype::WILD, 1.0)], 1.0)] };
        let case = |(sire, dam, w): &(_, _, f64)| (young(locus, *sire, *dam, among), *w);
        pair.joint.iter().map(case).filter(|(_, w)| *w > 0.0).collect()
    }

    fn tangled(&self, target: &Target, among: Among) -> Result<Mixture, TargetTooTangled> {
        let loci: Vec<LocusId> = target.loci().into_iter().collect();
        let cases: Vec<Vec<(Young, f64)>> =
            loci.iter().map(|locus| alike(target, *locus, &self.cases(*locus, among))).collect();
        let work = cases.iter().try_fold(1_usize, |n, c| {
            let classes = c.iter().map(|(y, _)| y.len()).max().unwrap_or(1);
            n.checked_mul(c.len())?.checked_mul(classes).filter(|n| *n <= MOST_CASES)
        });
        if work.is_none() {
            return Err(TargetTooTangled { loci: loci.len() });
        }
        let mut mixture = Mixture::new();
        let mut turn = vec![0; loci.len()];
        loop {
            let mut known = BTreeMap::new();
            let mut weight = 1.0;
            for ((locus, cases), i) in loci.iter().zip(&cases).zip(&turn) {
                let Some((young, w)) = cases.get(*i) else { return Ok(mixture) };
                known.insert(*locus, young);
                weight *= w;
            }
            mixture.push((chance(target, &known), weight));
            if !advance(&mut turn, &cases) {
                return Ok(merged(mixture));
            }
        }
    }
}

fn advance(turn: &mut [usize], cases: &[Vec<(Young, f64)>]) -> bool {
    for (i, of) in turn.iter_mut().zip(cases) {
        *i += 1;
        if *i < of.len() {
            return true;
        }
        *i = 0;
    }
    false
}

/// Chance of a target when both parents' genotypes are known at every locus it names.
fn chance(target: &Target, known: &BTreeMap<LocusId, &Young>) -> f64 {
    let (parts, all) = match target {
        Target::Is(locus, set) => return known.get(locus).map_or(0.0, |y| share(y, *set)),
        Target::All(parts) => (parts, true),
        Target::Any(parts) => (parts, false),
    };
    let mut product = 1.0;
    for group in untangled(parts) {
        let p = match group.as_slice() {
            [one] => chance(one, known),
            _ => split(&joined(group, all), known),
        };
        product *= if all { p } else { 1.0 - p };
    }
    if all { product } else { 1.0 - product }
}

// Takes the genotypes of one locus one after another (Shannon expansion); the rest falls apart.
fn split(target: &Target, known: &BTreeMap<LocusId, &Young>) -> f64 {
    let mut uses = BTreeMap::new();
    count_uses(target, &mut uses);
    let most = uses.into_iter().max_by_key(|(locus, n)| (*n, std::cmp::Reverse(*locus)));
    let Some((locus, _)) = most else { return chance(target, known) };
    let Some(young) = known.get(&locus) else { return 0.0 };
    young.iter().map(|(g, p)| p * chance(&given(target, locus, *g), known)).sum()
}

fn count_uses(target: &Target, uses: &mut BTreeMap<LocusId, usize>) {
    match target {
        Target::Is(locus, _) => *uses.entry(*locus).or_insert(0) += 1,
        Target::All(parts) | Target::Any(parts) => parts.iter().for_each(|p| count_uses(p, uses)),
    }
}

const ALWAYS: Target = Target::All(Vec::new());
const NEVER: Target = Target::Any(Vec::new());

fn given(target: &Target, locus: LocusId, genotype: Genotype) -> Target {
    match target {
        Target::Is(at, set) if *at == locus => {
            if set.contains(genotype) {
                ALWAYS
            } else {
                NEVER
            }
        }
        Target::Is(..) => target.clone(),
        Target::All(parts) => {
            let parts: Vec<_> = parts.iter().map(|p| given(p, locus, genotype)).collect();
            if parts.contains(&NEVER) {
                NEVER
            } else {
                joined(parts.into_iter().filter(|p| *p != ALWAYS), true)
            }
        }
        Target::Any(parts) => {
            let parts: Vec<_> = parts.iter().map(|p| given(p, locus, genotype)).collect();
            if parts.contains(&ALWAYS) {
                ALWAYS
            } else {
                joined(parts.into_iter().filter(|p| *p != NEVER), false)
            }
        }
    }
}

fn joined(parts: impl IntoIterator<Item = Target>, all: bool) -> Target {
    let mut parts: Vec<_> = parts.into_iter().collect();
    match (parts.len(), all) {
        (1, _) => parts.remove(0),
        (_, true) => Target::All(parts),
        (_, false) => Target::Any(parts),
    }
}

/// Parts grouped so that no two groups name the same locus.
fn untangled(parts: &[Target]) -> Vec<Vec<Target>> {
    let mut groups: Vec<(BTreeSet<LocusId>, Vec<Target>)> = Vec::new();
    for part in parts {
        let mut loci = part.loci();
        let mut members = Vec::new();
        let mut apart = Vec::with_capacity(groups.len() + 1);
        for (of, group) in groups {
            if of.is_disjoint(&loci) {
                apart.push((of, group));
            } else {
                loci.extend(of);
                members.extend(group);
            }
        }
        members.push(part.clone());
        apart.push((loci, members));
        groups = apart;
    }
    groups.into_iter().map(|(_, members)| members).collect()
}

// Genotypes that no part of the target tells apart become one, and parents' genotypes that then
// give the same young become one case.
fn alike(target: &Target, locus: LocusId, cases: &[(Young, f64)]) -> Vec<(Young, f64)> {
    let mut sets = Vec::new();
    sets_at(target, locus, &mut sets);
    let told = |g: Genotype| sets.iter().map(|s| s.contains(g)).collect::<Vec<_>>();
    let mut first: Vec<(Vec<bool>, Genotype)> = Vec::new();
    let mut out: Vec<(Young, f64)> = Vec::new();
    for (young, w) in cases {
        let mut classes: BTreeMap<Genotype, f64> = BTreeMap::new();
        for (genotype, p) in young {
            let signature = told(*genotype);
            let known = first.iter().find(|(s, _)| *s == signature).map(|(_, g)| *g);
            let class = known.unwrap_or_else(|| {
                first.push((signature, *genotype));
                *genotype
            });
            *classes.entry(class).or_insert(0.0) += p;
        }
        let young: Young = classes.into_iter().collect();
        match out.iter_mut().find(|(y, _)| *y == young) {
            Some((_, sum)) => *sum += w,
            None => out.push((young, *w)),
        }
    }
    out
}

fn sets_at(target: &Target, locus: LocusId, sets: &mut Vec<GenotypeSet>) {
    match target {
        Target::Is(at, set) if *at == locus => sets.push(*set),
        Target::Is(..) => {}
        Target::All(parts) | Target::Any(parts) => {
            parts.iter().for_each(|p| sets_at(p, locus, sets));
        }
    }
}

fn share(young: &Young, set: GenotypeSet) -> f64 {
    // Not `sum`, which makes -0 of nothing.
    young.iter().filter(|(g, _)| set.contains(*g)).fold(0.0, |sum, (_, p)| sum + p)
}

fn mean(mixture: &Mixture) -> f64 {
    mixture.iter().map(|(p, w)| p * w).sum::<f64>().clamp(0.0, 1.0)
}

// Bit-equal chances only: merging what is merely close would cost exactness.
fn merged(mut mixture: Mixture) -> Mixture {
    mixture.sort_by(|a, b| a.0.total_cmp(&b.0));
    mixture.dedup_by(|next, kept| {
        let same = next.0.to_bits() == kept.0.to_bits();
        if same {
            kept.1 += next.1;
        }
        same
    });
    mixture
}
