//! A pedigree reduced to what kinship needs: animals with young, and families of full sibs.

use super::founders::Founders;
use super::lines::{NO_SIRE, UNKNOWN};
use super::walk::{Ends, Walk};

/// A family without a known parent.
pub(super) const FOUNDERS: u32 = 0;

/// Young of the same two parents. They share inbreeding and Mendelian sampling, so both are
/// reckoned once for all of them. A couple may have several families: to look for the first would
/// take longer than to reckon it again.
#[derive(Clone, Copy, Debug)]
pub(super) struct Family {
    /// Sire and dam by their number as breeders.
    pub(super) parents: [u32; 2],
    pub(super) inbreeding: f64,
    /// What a young's relationship to itself has beyond that to its parents (D of `A = T D T'`).
    pub(super) sampling: f64,
}

impl Family {
    /// The share of a young's genes that comes from each parent.
    pub(super) fn part(&self) -> f64 {
        part(self.parents)
    }
}

/// An animal with young: all that a walk asks of it, in one cache line.
#[derive(Clone, Copy, Debug)]
#[repr(align(64))]
pub(super) struct Breeder {
    /// The founders it goes back to.
    pub(super) founders: Founders,
    /// Its parents by their numbers as breeders.
    pub(super) parents: [u32; 2],
    pub(super) inbreeding: f64,
    pub(super) sampling: f64,
    /// Its last family as a dam, or as a sire where the dam is unknown; and with whom.
    last_family: u32,
    last_mate: u32,
}

impl Breeder {
    /// The share of its genes that comes from each parent.
    pub(super) fn part(&self) -> f64 {
        part(self.parents)
    }
}

/// The share of genes that comes from each of these parents.
fn part(parents: [u32; 2]) -> f64 {
    if parents[0] == NO_SIRE { 1.0 } else { 0.5 }
}

/// Breeders and families. A breeder's number is above those of its parents.
#[derive(Clone, Debug)]
pub(super) struct Breeders {
    pub(super) all: Vec<Breeder>,
    /// Which animal each breeder is, and the family it comes of.
    pub(super) animals: Vec<u32>,
    pub(super) family_of: Vec<u32>,
    pub(super) families: Vec<Family>,
    n_founders: u32,
    walk: Walk,
}

impl Breeders {
    /// With room for the young of so many animals.
    pub(super) fn with_room(animals: usize) -> Self {
        let families = Vec::with_capacity(animals / 4 + 1);
        let all = Vec::with_capacity(animals / 8);
        let (animals, family_of) = (Vec::new(), Vec::new());
        let walk = Walk::default();
        let mut breeders = Self { all, animals, family_of, families, n_founders: 0, walk };
        breeders.add_founders();
        breeders
    }

    /// Makes an animal of a family a breeder.
    #[expect(clippy::cast_possible_truncation, reason = "there are fewer breeders than animals")]
    pub(super) fn add(&mut self, animal: u32, family: u32) -> u32 {
        let Family { parents, inbreeding, sampling, .. } = self.families[family as usize];
        let founders = if parents == [UNKNOWN; 2] {
            self.n_founders += 1;
            Founders::one(self.n_founders)
        } else {
            self.founders_of(parents)
        };
        let (last_family, last_mate) = (FOUNDERS, UNKNOWN);
        let own = Breeder { founders, parents, inbreeding, sampling, last_family, last_mate };
        self.all.push(own);
        self.family_of.push(family);
        self.animals.push(animal);
        self.all.len() as u32 - 1
    }

    /// Founders of all those breeders together.
    pub(super) fn founders_of(&self, breeders: [u32; 2]) -> Founders {
        let of = |breeder: u32| {
            let breeder = self.all.get(breeder as usize);
            breeder.map(|breeder| breeder.founders).unwrap_or_default()
        };
        of(breeders[0]).and(of(breeders[1]))
    }

    /// The family of two breeders, the last one where it is theirs.
    pub(super) fn family(&mut self, parents: [u32; 2]) -> u32 {
        self.last_family(parents).unwrap_or_else(|| self.add_family(parents))
    }

    fn last_family(&self, [sire, dam]: [u32; 2]) -> Option<u32> {
        let (of, mate) = if dam < NO_SIRE { (dam, sire) } else { (sire, dam) };
        let own = &self.all[of as usize];
        (own.last_mate == mate && own.last_family != FOUNDERS).then_some(own.last_family)
    }

    /// A family without a known parent.
    pub(super) fn add_founders(&mut self) {
        self.families.push(Family { parents: [UNKNOWN; 2], inbreeding: 0.0, sampling: 1.0 });
    }

    /// A new family of two breeders, its inbreeding reckoned.
    #[expect(clippy::cast_possible_truncation, reason = "there are no more families than animals")]
    pub(super) fn add_family(&mut self, parents: [u32; 2]) -> u32 {
        let [sire, dam] = parents;
        let (of, mate) = if dam < NO_SIRE { (dam, sire) } else { (sire, dam) };
        let own = parents.map(|parent| self.all.get(parent as usize).map(|own| own.inbreeding));
        let (inbreeding, sampling) = match own {
            // One gamete of hers doubled: 2 - (1 + F).
            [None, Some(dam)] if parents[0] == NO_SIRE => (1.0, 1.0 - dam),
            [Some(sire), Some(dam)] => (self.kinship(parents), 0.5 - 0.25 * (sire + dam)),
            [Some(one), None] | [None, Some(one)] => (0.0, 0.75 - 0.25 * one),
            [None, None] => (0.0, 1.0),
        };
        let family = self.families.len() as u32;
        self.families.push(Family { parents, inbreeding, sampling });
        let of = &mut self.all[of as usize];
        (of.last_family, of.last_mate) = (family, mate);
        family
    }

    /// Kinship of two breeders, which is the inbreeding of their young.
    fn kinship(&mut self, parents: [u32; 2]) -> f64 {
        let [sire, dam] = parents.map(|parent| &self.all[parent as usize]);
        if parents[0] == parents[1] {
            return 0.5 * (1.0 + sire.inbreeding);
        }
        if !sire.founders.may_meet(&dam.founders) {
            return 0.0;
        }
        if let Some(last) = self.last_family(parents) {
            return self.families[last as usize].inbreeding;
        }
        let ends: [Ends; 2] = parents.map(|parent| [(parent, 1.0), (UNKNOWN, 0.0)]);
        0.5 * self.walk.relationship(&self.all, ends)
    }
}
