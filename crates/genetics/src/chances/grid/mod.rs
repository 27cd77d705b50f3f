//! One target for every pair of many animals.

mod leaf;
mod mix;
mod plan;

use super::clutch::ClutchSize;
use super::mixture::{TargetChance, TargetTooTangled};
use super::pair::{LocusPair, PairBelief};
use crate::belief::Belief;
use crate::catalogue::Catalogue;
use crate::target::Target;
use leaf::Pair;
use plan::Plan;

/// Two animals whose genotypes depend on each other at some loci.
#[derive(Clone, Debug, PartialEq)]
pub struct Connected {
    /// Position among the sires.
    pub sire: usize,
    /// Position among the dams.
    pub dam: usize,
    /// Their joint chances at those loci; at all others they are independent.
    pub loci: Vec<LocusPair>,
}

/// The chances of one target for every pair.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    dams: usize,
    chances: Vec<TargetChance>,
}

impl Grid {
    /// The chances of a pair; none where there is no such pair.
    #[must_use]
    pub fn at(&self, sire: usize, dam: usize) -> Option<&TargetChance> {
        self.of_sire(sire)?.get(dam)
    }

    /// The chances of a sire with every dam, in the order of the dams.
    #[must_use]
    pub fn of_sire(&self, sire: usize) -> Option<&[TargetChance]> {
        let start = sire.checked_mul(self.dams)?;
        self.chances.get(start..start.checked_add(self.dams)?)
    }
}

/// Chances of a target in a clutch of every pair of sire and dam, as [`PairBelief::target`] gives
/// them for one.
///
/// Only the loci that the target names, and those at which some egg may not live, are looked at.
/// Pairs in `connected` take their joint at the loci it holds; entries for pairs that do not exist
/// are left aside, of two for one pair the later one counts.
///
/// # Errors
/// As [`PairBelief::target`].
pub fn grid(
    catalogue: &Catalogue,
    (sires, dams): (&[Belief], &[Belief]),
    connected: &[Connected],
    target: &Target,
    clutch: &ClutchSize,
) -> Result<Grid, TargetTooTangled> {
    let slowly = |pair: &Pair<'_>| {
        let alone = PairBelief::independent(catalogue, &sires[pair.sire], &dams[pair.dam]);
        alone.joined(pair.joints).target(target, clutch)
    };
    let plan = Plan::new(catalogue, target, (sires, dams), connected);
    let mut asked = plan.as_ref().map(|plan| plan.asked(clutch));
    let mut chance = |pair: &Pair<'_>| match (&plan, &mut asked) {
        (Some(plan), Some(asked)) if plan.knows(pair.joints) => Ok(asked.chance(pair)),
        _ => slowly(pair),
    };
    let mut chances = Vec::with_capacity(sires.len().saturating_mul(dams.len()));
    for sire in 0..sires.len() {
        for dam in 0..dams.len() {
            chances.push(chance(&Pair { sire, dam, joints: &[] })?);
        }
    }
    for Connected { sire, dam, loci } in connected {
        if *sire < sires.len() && *dam < dams.len() {
            let pair = Pair { sire: *sire, dam: *dam, joints: loci };
            chances[sire * dams.len() + dam] = chance(&pair)?;
        }
    }
    Ok(Grid { dams: dams.len(), chances })
}
