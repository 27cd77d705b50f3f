//! What a keeper hopes for: a condition on the genotypes of one animal.

use std::collections::BTreeSet;

use crate::catalogue::Catalogue;
use crate::genotype::{AlleleId, Gene, Genotype, GenotypeSet, LocusId, LookId};

/// A condition on the genotypes of an animal, locus by locus.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Target {
    /// The genotype at the locus is one of these.
    Is(LocusId, GenotypeSet),
    /// Every part holds; holds when there is none.
    All(Vec<Target>),
    /// At least one part holds; fails when there is none.
    Any(Vec<Target>),
}

impl Target {
    /// The loci it speaks of.
    #[must_use]
    pub fn loci(&self) -> BTreeSet<LocusId> {
        match self {
            Self::Is(locus, _) => BTreeSet::from([*locus]),
            Self::All(parts) | Self::Any(parts) => parts.iter().flat_map(Self::loci).collect(),
        }
    }

    /// Met by exactly the animals that do not meet this one.
    #[must_use]
    pub fn negated(self) -> Self {
        match self {
            Self::Is(locus, set) => Self::Is(locus, set.complement()),
            Self::All(parts) => Self::Any(parts.into_iter().map(Self::negated).collect()),
            Self::Any(parts) => Self::All(parts.into_iter().map(Self::negated).collect()),
        }
    }

    /// The same target with nested parts of one kind drawn together, and one set per locus in each.
    #[must_use]
    pub(crate) fn gathered(&self) -> Self {
        let (parts, all) = match self {
            Self::Is(..) => return self.clone(),
            Self::All(parts) => (parts, true),
            Self::Any(parts) => (parts, false),
        };
        let mut sets: Vec<(LocusId, GenotypeSet)> = Vec::new();
        let mut rest: Vec<Self> = Vec::new();
        let mut add = |part: Self| match part {
            Self::Is(locus, set) => match sets.iter_mut().find(|(id, _)| *id == locus) {
                Some((_, so_far)) if all => *so_far = so_far.intersection(set),
                Some((_, so_far)) => *so_far = so_far.union(set),
                None => sets.push((locus, set)),
            },
            other => rest.push(other),
        };
        for part in parts.iter().map(Self::gathered) {
            match (part, all) {
                (Self::All(inner), true) | (Self::Any(inner), false) => {
                    inner.into_iter().for_each(&mut add);
                }
                (part, _) => add(part),
            }
        }
        let sets = sets.into_iter().map(|(locus, set)| Self::Is(locus, set));
        let parts = sets.chain(rest).collect();
        if all { Self::All(parts) } else { Self::Any(parts) }
    }

    /// Whether an animal meets it whose genotype at every locus is told by `genotype`.
    pub fn holds(&self, genotype: &impl Fn(LocusId) -> Genotype) -> bool {
        match self {
            Self::Is(locus, set) => set.contains(genotype(*locus)),
            Self::All(parts) => parts.iter().all(|p| p.holds(genotype)),
            Self::Any(parts) => parts.iter().any(|p| p.holds(genotype)),
        }
    }
}

impl Catalogue {
    fn genotypes_where(&self, gene: Gene, fits: impl Fn(Genotype) -> bool) -> Target {
        let set = self.locus(gene.locus).map(|l| l.genotypes().filter(|g| fits(*g)).collect());
        Target::Is(gene.locus, set.unwrap_or_default())
    }

    /// Carries the allele and looks different from the wild type for it: a super pastel shows
    /// pastel, a het clown does not show clown.
    #[must_use]
    pub fn shows(&self, gene: Gene) -> Target {
        let seen = |g| self.locus(gene.locus).is_some_and(|l| l.entry(g).look.is_some());
        self.genotypes_where(gene, |g| g.copies(gene.allele) > 0 && seen(g))
    }

    /// Two copies of the allele.
    #[must_use]
    pub fn two_copies(&self, gene: Gene) -> Target {
        self.genotypes_where(gene, |g| g.copies(gene.allele) == 2)
    }

    /// One copy of the allele beside the wild type.
    #[must_use]
    pub fn one_copy(&self, gene: Gene) -> Target {
        self.genotypes_where(gene, |g| g == Genotype::new(AlleleId::WILD, gene.allele))
    }

    /// No copy of the allele, seen or hidden.
    #[must_use]
    pub fn without(&self, gene: Gene) -> Target {
        self.genotypes_where(gene, |g| g.copies(gene.allele) == 0)
    }

    /// One copy of the allele at least, seen or hidden.
    #[must_use]
    pub fn carries(&self, gene: Gene) -> Target {
        self.without(gene).negated()
    }

    /// Exactly this look at the locus.
    #[must_use]
    pub fn looks_like(&self, locus: LocusId, look: LookId) -> Target {
        let set = self.locus(locus).map(|l| l.genotypes_with_look(Some(look)).collect());
        Target::Is(locus, set.unwrap_or_default())
    }
}
