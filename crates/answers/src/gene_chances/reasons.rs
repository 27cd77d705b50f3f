//! What made a chance so: the records and relatives behind it, in the order in which they are told.

use genetics::catalogue::Linkage;
use genetics::{Catalogue, LocusId, LookId};
use records::facts::Tested;
use records::{Colony, RecordId};

use super::answer::{Clash, GeneChances, GenotypeChance, LocusChances, SireWeighed, Who};
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

/// A claim with what is made of it.
#[derive(Clone, Debug, PartialEq)]
pub struct ClaimShown {
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

/// Young with one mate that were looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct YoungShown {
    /// The mate.
    pub mate: Who,
    /// What the mate is there.
    pub mate_chances: Vec<GenotypeChance>,
    /// What the young show there, with how many each; none shows nothing.
    pub looks: Vec<(Option<LookId>, usize)>,
}

/// One thing that made a chance so.
#[derive(Clone, Debug, PartialEq)]
pub enum Because {
    /// What was seen of it, with the record.
    Look(Seen, Option<RecordId>),
    /// A laboratory's result, with the chance that it is wrong.
    Lab {
        /// The result.
        test: Tested,
        /// The chance that it is wrong.
        error: f64,
        /// The record.
        record: RecordId,
    },
    /// What its label claims.
    Claim(ClaimShown),
    /// What a parent is.
    Parent(ParentShown),
    /// Its sire is in doubt.
    Sires(SireWeighed),
    /// Neither parent is recorded, and no claim sets its chances.
    NoParents,
    /// What its young show.
    Young(YoungShown),
    /// Records near it clash.
    Clash(Clash),
}

impl GeneChances {
    /// What its label claims of a locus, with what that is worth.
    #[must_use]
    pub fn claim(
        &self,
        (colony, catalogue): (&Colony, &Catalogue),
        place: usize,
        locus: LocusId,
    ) -> Option<ClaimShown> {
        let claimed = self.claimed(catalogue, place, locus)?;
        let role = match self.recorded_parents(place) {
            0 => ClaimRole::Prior,
            1 => ClaimRole::OtherParent,
            _ => ClaimRole::ShownOnly,
        };
        let animal = colony.animals.get(place)?;
        let record = animal.genes.as_ref().or(animal.look.as_ref()).map(|(_, record)| *record);
        Some(ClaimShown { claimed, role, record })
    }

    /// What made an animal's chances at a locus so.
    #[must_use]
    pub fn because(
        &self,
        (colony, catalogue): (&Colony, &Catalogue),
        place: usize,
        locus: LocusId,
    ) -> Vec<Because> {
        let (Some(animal), Some(chances)) = (colony.animals.get(place), self.locus(locus)) else {
            return Vec::new();
        };
        let seen = self.seen(catalogue, place, locus);
        let look_record = animal.look.as_ref().or(animal.genes.as_ref()).map(|(_, id)| *id);
        let mut all = vec![Because::Look(seen, look_record)];
        let lab_error = crate::settings::in_force(colony).genes.lab_error;
        for (_, record, test) in &animal.tested {
            if catalogue.gene(&test.gene).is_some_and(|gene| gene.locus == locus) {
                let error = test.error.unwrap_or(lab_error).get();
                all.push(Because::Lab { test: test.clone(), error, record: *record });
            }
        }
        let claim = self.claim((colony, catalogue), place, locus);
        let is_plain = is_told_by_look(catalogue, chances, seen);
        let is_claimed = claim.is_some();
        all.extend(claim.map(Because::Claim));
        if !is_plain || chances.clash.is_some() {
            let doubt = self.sires_of(colony, place);
            let is_told = |p: &ParentShown| doubt.is_none() || !p.is_sire;
            all.extend(self.parents(place, chances).filter(is_told).map(Because::Parent));
            all.extend(doubt.cloned().map(Because::Sires));
            if self.recorded_parents(place) == 0 && !is_claimed {
                all.push(Because::NoParents);
            }
            all.extend(self.young(catalogue, place, chances).into_iter().map(Because::Young));
        }
        let near = |clash: &&Clash| self.is_near(clash, place);
        all.extend(chances.clash.as_ref().filter(near).cloned().map(Because::Clash));
        all
    }

    /// The possible sires of an animal whose sire is in doubt.
    #[must_use]
    pub fn sires_of(&self, colony: &Colony, place: usize) -> Option<&SireWeighed> {
        let is_open = colony.animals.get(place).is_some_and(|animal| animal.sire.is_none());
        self.sires.iter().filter(|_| is_open).find(|weighed| {
            colony.clutches.get(weighed.clutch).is_some_and(|clutch| clutch.young.contains(&place))
        })
    }

    fn parents<'a>(
        &'a self,
        place: usize,
        chances: &'a LocusChances,
    ) -> impl Iterator<Item = ParentShown> + 'a {
        let parents = self.lineage.parents.get(place).filter(|p| p.are_known());
        let both = parents.map(|p| [(p.sire as usize, true), (p.dam as usize, false)]);
        both.into_iter().flatten().map(|(node, is_sire)| ParentShown {
            who: who(&self.lineage, node),
            is_sire,
            chances: chances.genotypes(node),
        })
    }

    fn young(
        &self,
        catalogue: &Catalogue,
        place: usize,
        chances: &LocusChances,
    ) -> Vec<YoungShown> {
        let mut all: Vec<YoungShown> = Vec::new();
        for young in self.lineage.young.get(place).into_iter().flatten() {
            let look = match self.seen(catalogue, *young as usize, chances.play.id) {
                Seen::Shows(look) => Some(look),
                Seen::ShowsNothing => None,
                Seen::NotLooked | Seen::Open | Seen::Unsure(..) | Seen::HiddenBy(..) => continue,
            };
            let parents = self.lineage.parents[*young as usize];
            let mate = if parents.sire as usize == place { parents.dam } else { parents.sire };
            let mate = (who(&self.lineage, mate as usize), mate as usize);
            let known = all.iter_mut().find(|known| known.mate == mate.0);
            let litter = match known {
                Some(known) => known,
                None => {
                    let mate_chances = chances.genotypes(mate.1);
                    all.push(YoungShown { mate: mate.0, mate_chances, looks: Vec::new() });
                    let last = all.len() - 1;
                    &mut all[last]
                }
            };
            match litter.looks.iter_mut().find(|(known, _)| *known == look) {
                Some((_, n)) => *n += 1,
                None => litter.looks.push((look, 1)),
            }
        }
        all.iter_mut().for_each(|litter| {
            litter.looks.sort_by_key(|(look, n)| (look.is_none(), usize::MAX - n));
        });
        all
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

/// Whether what an animal shows tells its genotype.
fn is_told_by_look(catalogue: &Catalogue, chances: &LocusChances, seen: Seen) -> bool {
    let Seen::Shows(look) = seen else { return false };
    let Some(locus) = catalogue.locus(chances.play.id) else { return false };
    let possible = chances.play.genotypes();
    let n = possible.iter().filter(|g| locus.entry(**g).look == Some(look)).count();
    n == 1 && locus.linkage() == Linkage::Autosomal
}
