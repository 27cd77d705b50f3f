//! One locus of the target for every pair.

use crate::belief::Belief;
use crate::catalogue::Catalogue;
use crate::chances::pair::LocusPair;
use crate::chances::transmission::{Among, young};
use crate::genotype::{Copies, GenotypeSet, LocusId};

/// Genotypes of one animal, numbered, with their chances.
type Numbered = Vec<(usize, f64)>;

/// A pair, with the joints it has at some loci.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair<'j> {
    pub(super) sire: usize,
    pub(super) dam: usize,
    pub(super) joints: &'j [LocusPair],
}

/// The share of the young with a genotype of one set.
///
/// The shares that any two genotypes can give are few; each pair is told by how likely it gives
/// each of them.
#[derive(Clone, Debug)]
pub(super) struct Leaf {
    locus: LocusId,
    values: Vec<f64>,
    /// Which value the genotypes numbered `s` and `d` give, at `s * of_dams.len() + d`.
    value_of: Vec<usize>,
    of_sires: Vec<Copies>,
    of_dams: Vec<Copies>,
    sires: Vec<Numbered>,
    dams: Vec<Numbered>,
}

impl Leaf {
    pub(super) fn new(
        catalogue: &Catalogue,
        (at, set): (LocusId, GenotypeSet),
        (sires, dams): (&[Belief], &[Belief]),
    ) -> Self {
        let (sires, of_sires) = numbered(sires, at);
        let (dams, of_dams) = numbered(dams, at);
        let share = |sire: &Copies, dam: &Copies| {
            let Some(locus) = catalogue.locus(at) else { return 0.0 };
            let young = young(locus, *sire, *dam, Among::All);
            young.iter().filter(|(g, _)| set.contains(*g)).map(|(_, p)| p).sum()
        };
        let shares: Vec<f64> =
            of_sires.iter().flat_map(|s| of_dams.iter().map(move |d| share(s, d))).collect();
        let mut values = shares.clone();
        values.sort_by(f64::total_cmp);
        values.dedup();
        let value_of = shares.iter().map(|share| values.partition_point(|v| v < share)).collect();
        Self { locus: at, values, value_of, of_sires, of_dams, sires, dams }
    }

    /// Whether the joint, where it speaks of this locus, holds no genotype that nobody has.
    pub(super) fn knows(&self, joints: &[LocusPair]) -> bool {
        let here = joints.iter().filter(|joint| joint.locus == self.locus);
        here.flat_map(|joint| &joint.joint).all(|(sire, dam, _)| self.value(sire, dam).is_some())
    }

    fn value(&self, sire: &Copies, dam: &Copies) -> Option<usize> {
        let s = self.of_sires.iter().position(|c| c == sire)?;
        let d = self.of_dams.iter().position(|c| c == dam)?;
        self.value_of.get(s * self.of_dams.len() + d).copied()
    }

    /// The chance of each value for a pair, by its joint at this locus if there is one.
    pub(super) fn weigh(&self, pair: &Pair<'_>, weights: &mut Vec<f64>) {
        let Pair { sire, dam, joints } = *pair;
        weights.clear();
        weights.resize(self.values.len(), 0.0);
        if let Some(joint) = joints.iter().find(|joint| joint.locus == self.locus) {
            for (sire, dam, w) in &joint.joint {
                if let Some(value) = self.value(sire, dam) {
                    weights[value] += w;
                }
            }
            return;
        }
        for (s, p) in &self.sires[sire] {
            for (d, q) in &self.dams[dam] {
                weights[self.value_of[s * self.of_dams.len() + d]] += p * q;
            }
        }
    }

    pub(super) fn values(&self) -> &[f64] {
        &self.values
    }
}

fn numbered(animals: &[Belief], at: LocusId) -> (Vec<Numbered>, Vec<Copies>) {
    let mut seen: Vec<Copies> = Vec::new();
    let mut number = |copies| {
        seen.iter().position(|c| *c == copies).unwrap_or_else(|| {
            seen.push(copies);
            seen.len() - 1
        })
    };
    let of = |animal: &Belief| animal.at(at).iter().map(|(c, p)| (number(*c), *p)).collect();
    (animals.iter().map(of).collect(), seen)
}
