//! The joint chances of two parents' genotypes.

use std::collections::BTreeMap;
use std::fmt;

use super::transmission::{Among, Young, young};
use crate::belief::{Assumptions, Belief};
use crate::catalogue::{Catalogue, Locus};
use crate::genotype::{Copies, LocusId, Sex};
use crate::label::Label;

/// The joint chances of sire's and dam's genotype at one locus.
#[derive(Clone, Debug, PartialEq)]
pub struct LocusPair {
    /// The locus.
    pub locus: LocusId,
    /// Sire, dam, chance; the chances sum to 1.
    pub joint: Vec<(Copies, Copies, f64)>,
}

/// Why a joint was refused.
#[derive(Clone, Debug, PartialEq)]
pub enum JointError {
    /// The locus is another catalogue's.
    NotInCatalogue,
    /// A locus comes twice.
    Twice {
        /// Its name.
        locus: String,
    },
    /// A chance that is none, or a sum off 1 by more than 1e-9.
    NotAChance {
        /// Name of the locus.
        locus: String,
        /// Sum of its chances.
        sum: f64,
    },
}

impl fmt::Display for JointError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotInCatalogue => {
                f.write_str("a locus is not in the catalogue: use ids that it handed out")
            }
            Self::Twice { locus } => {
                write!(f, "locus \"{locus}\" comes twice: give one joint table for it")
            }
            Self::NotAChance { locus, sum } => {
                write!(
                    f,
                    "the chances of locus \"{locus}\" make {sum}: give numbers from 0 that sum to 1"
                )
            }
        }
    }
}

impl std::error::Error for JointError {}

/// What is believed of a pair's genotypes, ready to answer what their young will be.
#[derive(Clone, Debug)]
pub struct PairBelief<'c> {
    pub(super) catalogue: &'c Catalogue,
    pub(super) loci: Vec<LocusPair>,
}

impl<'c> PairBelief<'c> {
    /// The pair of two labelled animals, under the default [`Assumptions`].
    #[must_use]
    pub fn from_labels(catalogue: &'c Catalogue, sire: &Label, dam: &Label) -> Self {
        Self::assuming(catalogue, sire, dam, &Assumptions::default())
    }

    /// The pair of two labelled animals.
    #[must_use]
    pub fn assuming(
        catalogue: &'c Catalogue,
        sire: &Label,
        dam: &Label,
        assume: &Assumptions,
    ) -> Self {
        let sire = Belief::from_label(catalogue, sire, Sex::Male, assume);
        let dam = Belief::from_label(catalogue, dam, Sex::Female, assume);
        Self::independent(catalogue, &sire, &dam)
    }

    /// The pair of two animals whose genotypes do not depend on each other.
    #[must_use]
    pub fn independent(catalogue: &'c Catalogue, sire: &Belief, dam: &Belief) -> Self {
        let mut named: Vec<_> = sire.loci().iter().chain(dam.loci()).map(|(id, _)| *id).collect();
        named.sort_unstable();
        named.dedup();
        let pair = |locus| {
            let (sire, dam) = (sire.at(locus), dam.at(locus));
            let row = |(s, p): &(Copies, f64)| {
                let (s, p) = (*s, *p);
                dam.iter().map(move |(d, q)| (s, *d, p * q)).collect::<Vec<_>>()
            };
            LocusPair { locus, joint: sire.iter().flat_map(row).collect() }
        };
        Self { catalogue, loci: named.into_iter().map(pair).collect() }
    }

    /// The pair of which a joint is given per locus, for parents who are dependent; loci left out
    /// are wild type in both.
    ///
    /// # Errors
    /// [`JointError`] when a locus is unknown or named twice, or its chances are none.
    pub fn from_joint(
        catalogue: &'c Catalogue,
        mut loci: Vec<LocusPair>,
    ) -> Result<Self, JointError> {
        loci.sort_by_key(|l| l.locus);
        for (i, pair) in loci.iter().enumerate() {
            let locus = catalogue.locus(pair.locus).ok_or(JointError::NotInCatalogue)?;
            let name = || locus.name().to_owned();
            if i > 0 && loci.get(i - 1).is_some_and(|before| before.locus == pair.locus) {
                return Err(JointError::Twice { locus: name() });
            }
            let sum: f64 = pair.joint.iter().map(|(_, _, p)| p).sum();
            let fine = pair.joint.iter().all(|(_, _, p)| (0.0..=1.0).contains(p));
            if !fine || (sum - 1.0).abs() > 1e-9 {
                return Err(JointError::NotAChance { locus: name(), sum });
            }
        }
        Ok(Self { catalogue, loci })
    }

    /// The same pair with these joints instead of what it had at their loci.
    pub(super) fn joined(mut self, joints: &[LocusPair]) -> Self {
        self.loci.retain(|pair| joints.iter().all(|joint| joint.locus != pair.locus));
        self.loci.extend_from_slice(joints);
        self.loci.sort_by_key(|pair| pair.locus);
        self
    }

    /// The catalogue it speaks in.
    #[must_use]
    pub const fn catalogue(&self) -> &'c Catalogue {
        self.catalogue
    }

    /// The loci where a parent may differ from the wild type.
    #[must_use]
    pub fn loci(&self) -> &[LocusPair] {
        &self.loci
    }

    pub(super) fn known_loci(&self) -> impl Iterator<Item = (&LocusPair, &'c Locus)> {
        let catalogue = self.catalogue;
        self.loci.iter().filter_map(move |pair| Some((pair, catalogue.locus(pair.locus)?)))
    }

    /// Chances of the young's genotypes at one locus, over all that the parents may be.
    #[must_use]
    pub fn young_at(&self, at: LocusId, among: Among) -> Young {
        let mut sum = BTreeMap::new();
        for (pair, locus) in self.known_loci().filter(|(pair, _)| pair.locus == at) {
            for (sire, dam, w) in &pair.joint {
                for (genotype, p) in young(locus, *sire, *dam, among) {
                    *sum.entry(genotype).or_insert(0.0) += w * p;
                }
            }
        }
        sum.into_iter().filter(|(_, p)| *p > 0.0).collect()
    }
}
