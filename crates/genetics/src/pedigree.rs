//! Who descends from whom, checked once.

use std::fmt;

/// Where an animal comes from, as places in the same pedigree.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Origin {
    /// Nobody above it is in the pedigree.
    Founder,
    /// Out of two parents. Somebody who is not recorded is a founder of its own.
    Parents {
        /// The male.
        sire: usize,
        /// The female.
        dam: usize,
    },
    /// Out of a female without a male: parthenogenesis.
    Alone {
        /// The female.
        dam: usize,
    },
}

impl Origin {
    /// Sire and dam, as far as there are any.
    pub(crate) const fn parents(self) -> [Option<usize>; 2] {
        match self {
            Self::Founder => [None, None],
            Self::Parents { sire, dam } => [Some(sire), Some(dam)],
            Self::Alone { dam } => [None, Some(dam)],
        }
    }
}

/// Why a pedigree was refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PedigreeError {
    /// A parent is named that is not there.
    NoSuchAnimal {
        /// The young one.
        animal: usize,
        /// The place named.
        parent: usize,
    },
    /// An animal is its own ancestor.
    OwnAncestor {
        /// The circle: each is followed by a parent of it.
        circle: Vec<usize>,
    },
    /// More animals than can be counted: 4 billion.
    TooMany,
}

impl fmt::Display for PedigreeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSuchAnimal { animal, parent } => {
                write!(f, "animal {animal} has parent {parent}, who is not in the pedigree")
            }
            Self::OwnAncestor { circle } => {
                write!(f, "an animal is its own ancestor, through the animals {circle:?}")
            }
            Self::TooMany => f.write_str("a pedigree holds at most 4 billion animals"),
        }
    }
}

impl std::error::Error for PedigreeError {}

/// No animal.
pub(crate) const NOBODY: u32 = u32::MAX;

/// A sire and a dam with all their young, as places among the [`Pedigree::breeders`]. The sire of
/// young out of a female alone is [`NOBODY`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Family {
    pub(crate) sire: u32,
    pub(crate) dam: u32,
    leaves: (u32, u32),
    inner: (u32, u32),
}

/// A pedigree in which every parent exists and nobody is his own ancestor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pedigree {
    origins: Vec<Origin>,
    oldest_first: Vec<u32>,
    breeders: Vec<u32>,
    breeder_of: Vec<u32>,
    families: Vec<Family>,
    leaves: Vec<u32>,
    inner: Vec<u32>,
    family_starts: Vec<u32>,
    families_of: Vec<u32>,
}

impl Pedigree {
    /// Checks the origins of the animals 0, 1, 2, ..., in any order.
    ///
    /// # Errors
    /// [`PedigreeError`] for a parent who is not there and for a circle.
    pub fn new(origins: Vec<Origin>) -> Result<Self, PedigreeError> {
        if origins.len() >= NOBODY as usize {
            return Err(PedigreeError::TooMany);
        }
        let mut breeder_of = vec![NOBODY; origins.len()];
        for (animal, origin) in origins.iter().enumerate() {
            for parent in origin.parents().into_iter().flatten() {
                let slot = breeder_of.get_mut(parent);
                *slot.ok_or(PedigreeError::NoSuchAnimal { animal, parent })? = 0;
            }
        }
        let oldest_first = oldest_first(&origins)?;
        let mut breeders = Vec::new();
        for animal in &oldest_first {
            if breeder_of[*animal as usize] != NOBODY {
                breeder_of[*animal as usize] = count(&breeders);
                breeders.push(*animal);
            }
        }
        let mut pedigree = Self {
            origins,
            oldest_first,
            breeders,
            breeder_of,
            families: Vec::new(),
            leaves: Vec::new(),
            inner: Vec::new(),
            family_starts: Vec::new(),
            families_of: Vec::new(),
        };
        pedigree.gather_families();
        pedigree.gather_memberships();
        Ok(pedigree)
    }

    /// Number of animals.
    #[must_use]
    pub fn len(&self) -> usize {
        self.origins.len()
    }

    /// Whether it holds nobody.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.origins.is_empty()
    }

    /// Where an animal comes from; a founder if it is not in the pedigree.
    #[must_use]
    pub fn origin(&self, animal: usize) -> Origin {
        self.origins.get(animal).copied().unwrap_or(Origin::Founder)
    }

    /// All animals, parents before their young.
    #[must_use]
    pub fn oldest_first(&self) -> &[u32] {
        &self.oldest_first
    }

    /// Whether the animal has young.
    #[must_use]
    pub fn is_parent(&self, animal: usize) -> bool {
        self.breeder_of.get(animal).is_some_and(|b| *b != NOBODY)
    }

    /// The place among the breeders of an animal that has young, else [`NOBODY`].
    pub(crate) fn breeder_of(&self, animal: usize) -> u32 {
        self.breeder_of.get(animal).copied().unwrap_or(NOBODY)
    }

    /// Animals that have young, oldest first.
    pub(crate) fn breeders(&self) -> &[u32] {
        &self.breeders
    }

    pub(crate) fn families(&self) -> &[Family] {
        &self.families
    }

    /// Animals of the family that have no young.
    pub(crate) fn leaves_of(&self, family: &Family) -> &[u32] {
        &self.leaves[family.leaves.0 as usize..family.leaves.1 as usize]
    }

    /// Young of the family that have young themselves, as places among the breeders.
    pub(crate) fn inner_of(&self, family: &Family) -> &[u32] {
        &self.inner[family.inner.0 as usize..family.inner.1 as usize]
    }

    /// Families in which a breeder is a parent or one of the young.
    pub(crate) fn families_of(&self, breeder: u32) -> &[u32] {
        let at = breeder as usize;
        &self.families_of[self.family_starts[at] as usize..self.family_starts[at + 1] as usize]
    }

    fn gather_families(&mut self) {
        let mut young: Vec<(u32, u32, u32)> = Vec::new();
        for (animal, origin) in (0_u32..).zip(&self.origins) {
            match *origin {
                Origin::Founder => {}
                Origin::Parents { sire, dam } => {
                    young.push((self.breeder_of[sire], self.breeder_of[dam], animal));
                }
                Origin::Alone { dam } => young.push((NOBODY, self.breeder_of[dam], animal)),
            }
        }
        young.sort_unstable();
        for siblings in young.chunk_by(|a, b| (a.0, a.1) == (b.0, b.1)) {
            let from = (count(&self.leaves), count(&self.inner));
            for (_, _, animal) in siblings {
                match self.breeder_of[*animal as usize] {
                    NOBODY => self.leaves.push(*animal),
                    breeder => self.inner.push(breeder),
                }
            }
            self.families.push(Family {
                sire: siblings[0].0,
                dam: siblings[0].1,
                leaves: (from.0, count(&self.leaves)),
                inner: (from.1, count(&self.inner)),
            });
        }
    }

    fn gather_memberships(&mut self) {
        let mut pairs: Vec<(u32, u32)> = Vec::new();
        for (place, family) in (0_u32..).zip(&self.families) {
            let own = [family.sire, family.dam].into_iter().filter(|b| *b != NOBODY);
            pairs.extend(own.chain(self.inner_of(family).iter().copied()).map(|b| (b, place)));
        }
        pairs.sort_unstable();
        pairs.dedup();
        let mut starts = vec![0_u32; self.breeders.len() + 1];
        pairs.iter().for_each(|(breeder, _)| starts[*breeder as usize + 1] += 1);
        for i in 1..starts.len() {
            starts[i] += starts[i - 1];
        }
        self.family_starts = starts;
        self.families_of = pairs.into_iter().map(|(_, family)| family).collect();
    }
}

#[expect(clippy::cast_possible_truncation, reason = "fewer than NOBODY animals, checked first")]
const fn place(animal: usize) -> u32 {
    animal as u32
}

#[expect(clippy::cast_possible_truncation, reason = "at most one entry per animal")]
const fn count(list: &[u32]) -> u32 {
    list.len() as u32
}

fn oldest_first(origins: &[Origin]) -> Result<Vec<u32>, PedigreeError> {
    let mut order = Vec::with_capacity(origins.len());
    // 0 not met, 1 on the path from below, 2 done.
    let mut state = vec![0_u8; origins.len()];
    let mut path: Vec<(usize, usize)> = Vec::new();
    for start in 0..origins.len() {
        if state[start] != 0 {
            continue;
        }
        state[start] = 1;
        path.push((start, 0));
        while let Some((animal, next)) = path.last_mut() {
            let above = origins[*animal].parents();
            let Some(parent) = above.get(*next) else {
                state[*animal] = 2;
                order.push(place(*animal));
                path.pop();
                continue;
            };
            *next += 1;
            match parent.map(|p| (p, state[p])) {
                Some((p, 0)) => {
                    state[p] = 1;
                    path.push((p, 0));
                }
                Some((p, 1)) => return Err(circle(&path, p)),
                _ => {}
            }
        }
    }
    Ok(order)
}

fn circle(path: &[(usize, usize)], met: usize) -> PedigreeError {
    let from = path.iter().position(|(animal, _)| *animal == met).unwrap_or(0);
    let circle = path[from..].iter().map(|(animal, _)| *animal).collect();
    PedigreeError::OwnAncestor { circle }
}
