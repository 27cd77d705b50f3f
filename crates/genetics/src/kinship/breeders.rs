//! A pedigree reduced to what kinship needs: animals with young, and families of full sibs.

use super::founders::Founders;
use super::lines::{NO_SIRE, UNKNOWN};
use super::walk::{Ends, Walk};

/// The family of all animals without a known parent.
pub(super) const FOUNDERS: u32 = 0;

/// All young of the same two parents. They share inbreeding and Mendelian sampling, so both are
/// reckoned once for all of them.
#[derive(Clone, Copy, Debug)]
pub(super) struct Family {
    /// Sire and dam by their number as breeders.
    pub(super) parents: [u32; 2],
    /// Next family of the same dam, or of the same sire where the dam is unknown.
    next: u32,
    pub(super) inbreeding: f64,
    /// What a young's relationship to itself has beyond that to its parents (D of `A = T D T'`).
    pub(super) sampling: f64,
}

impl Family {
    /// The share of a young's genes that comes from each parent.
    pub(super) fn part(&self) -> f64 {
        if self.parents[0] == NO_SIRE { 1.0 } else { 0.5 }
    }
}

/// An animal with young.
#[derive(Clone, Copy, Debug)]
pub(super) struct Breeder {
    pub(super) animal: u32,
    pub(super) family: u32,
    /// Head of the list of its families.
    families: u32,
}

/// Breeders and families. Numbers are given as young come, so a breeder's number is above those of
/// its parents.
#[derive(Clone, Debug)]
pub(super) struct Breeders {
    pub(super) all: Vec<Breeder>,
    /// Founders of each breeder.
    pub(super) founders: Vec<Founders>,
    pub(super) families: Vec<Family>,
    n_founders: u32,
    walk: Walk,
}

impl Breeders {
    pub(super) fn new() -> Self {
        let parents = [UNKNOWN; 2];
        let none = Family { parents, next: UNKNOWN, inbreeding: 0.0, sampling: 1.0 };
        Self {
            all: Vec::new(),
            founders: Vec::new(),
            families: vec![none],
            n_founders: 0,
            walk: Walk::default(),
        }
    }

    /// Makes an animal of a family a breeder.
    #[expect(clippy::cast_possible_truncation, reason = "there are fewer breeders than animals")]
    pub(super) fn add(&mut self, animal: u32, family: u32) -> u32 {
        let founders = if family == FOUNDERS {
            self.n_founders += 1;
            Founders::one(self.n_founders)
        } else {
            self.founders_of(self.families[family as usize].parents)
        };
        self.founders.push(founders);
        self.all.push(Breeder { animal, family, families: UNKNOWN });
        self.all.len() as u32 - 1
    }

    /// Founders of all those breeders together.
    pub(super) fn founders_of(&self, breeders: [u32; 2]) -> Founders {
        let of = |breeder: u32| self.founders.get(breeder as usize).copied().unwrap_or_default();
        of(breeders[0]).and(of(breeders[1]))
    }

    /// The family of two breeders; a new one has its inbreeding reckoned.
    #[expect(clippy::cast_possible_truncation, reason = "there are no more families than animals")]
    pub(super) fn family(&mut self, parents: [u32; 2]) -> u32 {
        let of = if parents[1] < NO_SIRE { parents[1] } else { parents[0] } as usize;
        let head = self.all[of].families;
        let mut at = head;
        while at != UNKNOWN {
            let family = &self.families[at as usize];
            if family.parents == parents {
                return at;
            }
            at = family.next;
        }
        let mut family = Family { parents, next: head, inbreeding: 1.0, sampling: 0.0 };
        let own = parents.map(|parent| {
            let breeder = self.all.get(parent as usize);
            breeder.map(|breeder| self.families[breeder.family as usize].inbreeding)
        });
        (family.inbreeding, family.sampling) = match own {
            // One gamete of hers doubled: 2 - (1 + F).
            [None, Some(dam)] if parents[0] == NO_SIRE => (1.0, 1.0 - dam),
            [Some(sire), Some(dam)] => (self.inbreeding(parents), 0.5 - 0.25 * (sire + dam)),
            [Some(one), None] | [None, Some(one)] => (0.0, 0.75 - 0.25 * one),
            [None, None] => (0.0, 1.0),
        };
        self.families.push(family);
        self.all[of].families = self.families.len() as u32 - 1;
        self.all[of].families
    }

    /// Inbreeding of young, which is the kinship of the parents.
    fn inbreeding(&mut self, parents: [u32; 2]) -> f64 {
        if parents[0] == parents[1] {
            let own = &self.families[self.all[parents[0] as usize].family as usize];
            return 0.5 * (1.0 + own.inbreeding);
        }
        let mut walk = std::mem::take(&mut self.walk);
        let ends: [Ends; 2] = parents.map(|parent| [(parent, 1.0), (UNKNOWN, 0.0)]);
        let relationship = walk.relationship(self, ends);
        self.walk = walk;
        0.5 * relationship
    }
}
