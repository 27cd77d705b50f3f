//! What a chance rests on: the claim of a label, parents, possible sires, clashes near it.

use genetics::{Catalogue, LocusId};
use records::{Colony, RecordId};

use super::answer::{Clash, GeneChances, GenotypeChance, SireWeighed, Who};
use super::labels::{Claimed, Seen};
use super::weigh::who;

/// What a label's claim of hidden copies is worth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClaimRole {
    /// No parent is recorded: it sets the prior, as far as labels are trusted.
    Prior,
    /// One parent is recorded: it speaks for the other.
    OtherParent,
    /// Both are recorded: it is shown, and they decide.
    ShownOnly,
}

/// A claim with what it counts for.
#[derive(Clone, Debug, PartialEq)]
pub struct ClaimCounted {
    /// What it says.
    pub claimed: Claimed,
    /// What it is worth.
    pub role: ClaimRole,
    /// The label.
    pub record: Option<RecordId>,
}

/// A parent with its own chances.
#[derive(Clone, Debug, PartialEq)]
pub struct ParentShown {
    /// Who.
    pub who: Who,
    /// Whether it is the sire.
    pub is_sire: bool,
    /// What it is there.
    pub chances: Vec<GenotypeChance>,
}

impl GeneChances {
    /// What its label claims of a locus, with what that is worth.
    #[must_use]
    pub fn claim(
        &self,
        (colony, catalogue): (&Colony, &Catalogue),
        place: usize,
        locus: LocusId,
    ) -> Option<ClaimCounted> {
        let claimed = self.claimed(catalogue, place, locus)?;
        let role = match self.recorded_parents(place) {
            0 => ClaimRole::Prior,
            1 => ClaimRole::OtherParent,
            _ => ClaimRole::ShownOnly,
        };
        let animal = colony.animals.get(place)?;
        let record = animal.genes.as_ref().or(animal.look.as_ref()).map(|(_, record)| *record);
        Some(ClaimCounted { claimed, role, record })
    }

    /// Whether what it shows leaves one genotype of the alleles in play.
    #[must_use]
    pub fn is_told_by_look(&self, catalogue: &Catalogue, place: usize, locus: LocusId) -> bool {
        let Seen::Shows(look) = self.seen(catalogue, place, locus) else { return false };
        let (Some(known), Some(chances)) = (catalogue.locus(locus), self.locus(locus)) else {
            return false;
        };
        let possible = chances.play.genotypes();
        possible.iter().filter(|g| known.entry(**g).look == Some(look)).count() == 1
    }

    /// Sire and dam with their chances at a locus; a parent in doubt is not among them.
    #[must_use]
    pub fn parents(&self, place: usize, locus: LocusId) -> Vec<ParentShown> {
        let known = self.lineage.parents.get(place).filter(|p| p.are_known());
        let (Some(parents), Some(chances)) = (known, self.locus(locus)) else { return Vec::new() };
        let sire = self.sires_of(place).is_none().then_some((parents.sire, true));
        let both = sire.into_iter().chain([(parents.dam, false)]);
        let one = |(node, is_sire): (u32, bool)| ParentShown {
            who: who(&self.lineage, node as usize),
            is_sire,
            chances: chances.genotypes(node as usize),
        };
        both.map(one).collect()
    }

    /// The possible sires of an animal whose sire is in doubt.
    #[must_use]
    pub fn sires_of(&self, place: usize) -> Option<&SireWeighed> {
        self.sires.iter().find(|weighed| weighed.young.contains(&place))
    }

    /// The clash at a locus, where it bears on an animal.
    #[must_use]
    pub fn clash_near(&self, place: usize, locus: LocusId) -> Option<&Clash> {
        let clash = self.locus(locus)?.clash.as_ref();
        clash.filter(|clash| self.is_near(clash, place))
    }

    fn is_below(&self, who: Who, place: usize) -> bool {
        matches!(who, Who::Animal(above) if self.lineage.is_above(above, place))
    }

    /// Whether a clash bears on an animal: it stands near it, or among those who may explain it.
    fn is_near(&self, clash: &Clash, place: usize) -> bool {
        let who = Who::Animal(place);
        let above = |near: &Who| {
            let young = match near {
                Who::Animal(at) | Who::SireOf(at) | Who::DamOf(at) => *at,
            };
            self.lineage.is_above(place, young)
        };
        clash.near.contains(&who)
            || clash.carriers.iter().any(|c| c.who == who || self.is_below(c.who, place))
            || clash.near.iter().any(above)
    }
}
