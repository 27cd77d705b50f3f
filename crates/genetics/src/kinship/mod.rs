//! Inbreeding and kinship.
//!
//! The *kinship* of two animals is the chance that a gene drawn from one and a gene drawn at the
//! same locus from the other are copies of one gene of a common ancestor (Malécot 1948). The
//! *inbreeding* of an animal is the kinship of its parents (Wright 1922). Founders, and parents that
//! nobody knows, count as unrelated and not inbred.
//!
//! [`Kinship::new`] reckons the inbreeding of everyone (after Meuwissen and Luo 1992, Genet Sel Evol
//! 24:305: one walk up the ancestors per family of full sibs), [`Kinship::block`] the kinship of any
//! males with any females (after Colleau 2002, Genet Sel Evol 34:409), [`Kinship::behind`] the common
//! ancestors a kinship comes from.

mod behind;
mod block;
mod breeders;
mod founders;
mod graph;
mod lines;
mod walk;

use crate::pedigree::PedigreeError;
pub use behind::Share;
pub use block::Block;
use breeders::{Breeders, FOUNDERS};
pub use lines::{Descent, Lines};
use lines::{NO_SIRE, UNKNOWN, known};
use walk::{Ends, Walk};

/// How many animals families are sought ahead.
const AHEAD: usize = 1024;

/// The kinships of a pedigree.
#[derive(Clone, Debug)]
pub struct Kinship {
    breeders: Breeders,
    /// Number of each animal as a breeder; unknown without young.
    breeder_of: Vec<u32>,
    family_of: Vec<u32>,
}

impl Kinship {
    /// Reckons the inbreeding of every animal.
    #[must_use]
    pub fn new(lines: &Lines) -> Self {
        let n = lines.len();
        let mut kinship = Self {
            breeders: Breeders::with_room(n),
            breeder_of: vec![UNKNOWN; n],
            family_of: Vec::with_capacity(n),
        };
        match &lines.oldest_first {
            None => kinship.take_in(lines),
            Some(order) => kinship.take_in_by(lines, order),
        }
        kinship
    }

    /// Takes in everyone, parents before young. Where families begin and who has young is found some
    /// animals ahead and without a branch that the processor would have to guess, so that it looks up
    /// the parents of the next family meanwhile.
    fn take_in(&mut self, lines: &Lines) {
        let (mut last, mut family) = ([UNKNOWN; 2], FOUNDERS);
        let (mut begins, mut with_young) = ([0_usize; AHEAD], [0_usize; AHEAD]);
        let mut families = [FOUNDERS; AHEAD];
        let mut from = 0;
        for (parents, has_young) in lines.parents.chunks(AHEAD).zip(lines.has_young.chunks(AHEAD)) {
            let (mut n_begins, mut n_with_young) = (0, 0);
            let animals = families.iter_mut().zip(parents.iter().zip(has_young));
            for (animal, (family_of, (parents, has_young))) in (from..).zip(animals) {
                let is_first = *parents != last;
                last = *parents;
                family += u32::from(is_first);
                *family_of = family;
                begins[n_begins % AHEAD] = animal;
                n_begins += usize::from(is_first);
                with_young[n_with_young % AHEAD] = animal;
                n_with_young += usize::from(*has_young);
            }
            self.family_of.extend_from_slice(&families[..parents.len()]);
            let mut breeders = with_young[..n_with_young].iter().peekable();
            for first in &begins[..n_begins] {
                while let Some(animal) = breeders.next_if(|animal| *animal < first) {
                    self.make_breeder(*animal);
                }
                self.add_family(lines.parents[*first]);
            }
            breeders.for_each(|animal| self.make_breeder(*animal));
            from += AHEAD;
        }
    }

    fn take_in_by(&mut self, lines: &Lines, order: &[u32]) {
        let (mut last, mut family) = ([UNKNOWN; 2], FOUNDERS);
        self.family_of.resize(lines.len(), FOUNDERS);
        for animal in order.iter().map(|animal| *animal as usize) {
            let parents = lines.parents[animal];
            if parents != last {
                (last, family) = (parents, self.family(parents));
            }
            self.family_of[animal] = family;
            if lines.has_young[animal] {
                self.make_breeder(animal);
            }
        }
    }

    /// Adds one animal and gives its place. Its siblings cost nothing more.
    ///
    /// # Errors
    /// [`PedigreeError::NoSuchAnimal`] for a parent that is not there.
    pub fn extend(&mut self, descent: Descent) -> Result<usize, PedigreeError> {
        let animal = self.family_of.len();
        let parents = known(descent, animal, animal)?;
        for parent in parents.into_iter().filter(|parent| *parent < NO_SIRE) {
            self.make_breeder(parent as usize);
        }
        let family = self.family(parents);
        self.family_of.push(family);
        self.breeder_of.push(UNKNOWN);
        Ok(animal)
    }

    /// How many animals there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.family_of.len()
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.family_of.is_empty()
    }

    /// Inbreeding of one animal, 0 to 1; none if it is not there.
    #[must_use]
    pub fn inbreeding(&self, animal: usize) -> Option<f64> {
        let family = self.family_of.get(animal)?;
        Some(self.breeders.families[*family as usize].inbreeding)
    }

    /// Inbreeding of every animal.
    #[must_use]
    pub fn inbreedings(&self) -> Vec<f64> {
        let of = |family: &u32| self.breeders.families[*family as usize].inbreeding;
        self.family_of.iter().map(of).collect()
    }

    /// The variance of Mendelian sampling of an animal, in units of the additive variance of the
    /// founders: the diagonal of D in `A = T D T'` (Henderson 1976); none if it is not there.
    #[must_use]
    pub fn sampling(&self, animal: usize) -> Option<f64> {
        let family = self.family_of.get(animal)?;
        Some(self.breeders.families[*family as usize].sampling)
    }

    /// Kinship of two animals, 0 to 1; that of an animal with itself is `(1 + F) / 2`. None if one
    /// of them is not there.
    #[must_use]
    pub fn pair(&self, a: usize, b: usize) -> Option<f64> {
        self.pairs(&[(a, b)]).pop()?
    }

    /// Kinship of each pair, as [`Kinship::pair`] gives it.
    #[must_use]
    pub fn pairs(&self, pairs: &[(usize, usize)]) -> Vec<Option<f64>> {
        let mut walk = Walk::default();
        let mut one = |(a, b): &(usize, usize)| {
            let (own, _) = (self.inbreeding(*a)?, self.inbreeding(*b)?);
            if a == b {
                return Some(0.5 * (1.0 + own));
            }
            Some(0.5 * walk.relationship(&self.breeders.all, [self.ends(*a), self.ends(*b)]))
        };
        pairs.iter().map(&mut one).collect()
    }

    /// The animal itself where it has young, else its parents.
    fn ends(&self, animal: usize) -> Ends {
        let own = self.breeder_of[animal];
        if own != UNKNOWN {
            return [(own, 1.0), (UNKNOWN, 0.0)];
        }
        let family = &self.breeders.families[self.family_of[animal] as usize];
        family.parents.map(|parent| (parent, family.part()))
    }

    /// The family of two animals.
    fn family(&mut self, parents: [u32; 2]) -> u32 {
        let breeders = self.as_breeders(parents);
        if parents == [UNKNOWN; 2] { FOUNDERS } else { self.breeders.family(breeders) }
    }

    fn add_family(&mut self, parents: [u32; 2]) {
        if parents == [UNKNOWN; 2] {
            self.breeders.add_founders();
        } else {
            self.breeders.add_family(self.as_breeders(parents));
        }
    }

    fn as_breeders(&self, parents: [u32; 2]) -> [u32; 2] {
        parents.map(|parent| match self.breeder_of.get(parent as usize) {
            Some(breeder) => *breeder,
            None => parent,
        })
    }

    #[expect(clippy::cast_possible_truncation, reason = "places of animals are 32 bits")]
    fn make_breeder(&mut self, animal: usize) {
        if self.breeder_of[animal] == UNKNOWN {
            self.breeder_of[animal] = self.breeders.add(animal as u32, self.family_of[animal]);
        }
    }
}
