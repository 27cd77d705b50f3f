//! The records of one linkage group, each of which can be left out.

use super::irreducible::{Clash, irreducible, search};
use crate::evidence::Evidence;
use crate::linkage::LinkageGroup;
use crate::pedigree::{Origin, Pedigree};
use crate::posterior::{Budget, Unanswered, Workspace, posteriors_in};

/// How many steps from parent to young a clash is sought around the family that shows it, before it
/// is sought everywhere.
const FARTHEST: usize = 4;

/// A record, as far as the genes of one group are concerned.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// Something seen or measured of an animal: a weight per state.
    Seen {
        /// Of whom.
        animal: usize,
        /// The chance of it for each state.
        weights: Vec<f64>,
    },
    /// That these young, of one clutch, have the sire they are written with, or none. Left out, they
    /// share one whom nobody knows.
    Sire {
        /// The young.
        young: Vec<usize>,
    },
    /// The same of their dam.
    Dam {
        /// The young.
        young: Vec<usize>,
    },
}

/// What is taken for granted, and the records that may be wrong.
#[derive(Clone, Debug)]
pub struct Case<'a> {
    /// Who descends from whom if every record holds.
    pub origins: Vec<Origin>,
    /// The group.
    pub group: &'a LinkageGroup,
    /// What is not in doubt: priors of founders, sexes by role.
    pub granted: Evidence,
    /// Weights of a parent whom nobody knows.
    pub background: Vec<f64>,
    /// The records.
    pub pieces: Vec<Piece>,
    /// What one question may cost.
    pub budget: Budget,
}

impl Case<'_> {
    /// The clashes among the records, up to `most`.
    ///
    /// A question that needs more than the budget counts as possible, so that nothing is blamed
    /// without proof. Around the family at which a clash came out it is sought first.
    #[must_use]
    pub fn clashes(&self, most: usize) -> Vec<Clash> {
        let mut workspace = Workspace::default();
        let at = |kept: &[bool]| self.clash_at(&mut workspace, kept);
        search(self.pieces.len(), most, at, |family, left| self.near(family, left))
    }

    /// Whether all records can be true; so, too, where the question needs more than the budget.
    #[must_use]
    pub fn is_possible(&self) -> bool {
        let all = vec![true; self.pieces.len()];
        self.clash_at(&mut Workspace::default(), &all).is_none()
    }

    // The family at which a clash comes out; none where the records kept can all be true.
    fn clash_at(&self, workspace: &mut Workspace, kept: &[bool]) -> Option<Vec<usize>> {
        match self.log10_likelihood(workspace, kept) {
            Err(Unanswered::Impossible { near }) => Some(near),
            _ => None,
        }
    }

    // An irreducible set among the records of the animals around a family, where they clash by
    // themselves: what lies further out can only forbid more.
    fn near(&self, family: Vec<usize>, left: &[bool]) -> Option<Vec<usize>> {
        let (origins, _) = self.origins_without(left);
        let mut around = family;
        for _ in 0..FARTHEST {
            around = widened(&origins, &around);
            let (part, names) = self.part(&origins, &around, left);
            if part.is_possible() {
                continue;
            }
            let mut workspace = Workspace::default();
            let all: Vec<usize> = (0..names.len()).collect();
            let mut at = |kept: &[bool]| part.clash_at(&mut workspace, kept);
            let set = irreducible(names.len(), &all, &mut at);
            let set: Vec<usize> = set.into_iter().map(|i| names[i]).collect();
            return (!set.is_empty()).then_some(set);
        }
        None
    }

    // The case of some animals alone, with the names of its records. Parents who are not among them
    // are nobody.
    fn part(&self, origins: &[Origin], animals: &[usize], left: &[bool]) -> (Self, Vec<usize>) {
        let place = |animal: &usize| animals.binary_search(animal).ok();
        let origin = |animal: &usize| match origins[*animal] {
            Origin::Parents { sire, dam } => match (place(&sire), place(&dam)) {
                (Some(sire), Some(dam)) => Origin::Parents { sire, dam },
                _ => Origin::Founder,
            },
            Origin::Alone { dam } => {
                place(&dam).map_or(Origin::Founder, |dam| Origin::Alone { dam })
            }
            Origin::Founder => Origin::Founder,
        };
        let mut granted = Evidence::flat(animals.len(), self.group.n_states());
        for (at, animal) in animals.iter().enumerate() {
            let is_stranger = *animal >= self.granted.animals();
            let known = if is_stranger { &self.background } else { self.granted.weights(*animal) };
            granted.see(at, known);
        }
        let (mut pieces, mut names) = (Vec::new(), Vec::new());
        for (name, piece) in self.pieces.iter().enumerate().filter(|(name, _)| left[*name]) {
            let within = |young: &[usize]| {
                let young: Vec<usize> = young.iter().filter_map(place).collect();
                (!young.is_empty()).then_some(young)
            };
            let piece = match piece {
                Piece::Seen { animal, weights } => {
                    place(animal).map(|animal| Piece::Seen { animal, weights: weights.clone() })
                }
                Piece::Sire { young } => within(young).map(|young| Piece::Sire { young }),
                Piece::Dam { young } => within(young).map(|young| Piece::Dam { young }),
            };
            if let Some(piece) = piece {
                pieces.push(piece);
                names.push(name);
            }
        }
        let part = Self {
            origins: animals.iter().map(origin).collect(),
            group: self.group,
            granted,
            background: self.background.clone(),
            pieces,
            budget: self.budget,
        };
        (part, names)
    }

    /// By how much the log10 likelihood of all other records rises when one is left out, for each
    /// record asked about; infinite where only that makes them possible.
    ///
    /// # Errors
    /// [`Unanswered`] where even without it there is no answer.
    pub fn relief(&self, asked: &[usize]) -> Result<Vec<f64>, Unanswered> {
        let mut workspace = Workspace::default();
        let mut kept = vec![true; self.pieces.len()];
        let (pedigree, evidence) = self.assembled(&kept)?;
        let whole = match self.run(&mut workspace, &pedigree, &evidence) {
            Err(Unanswered::Impossible { .. }) => f64::NEG_INFINITY,
            other => other?,
        };
        let mut one = |i: &usize| {
            let without = match self.pieces.get(*i) {
                None => return Ok(0.0),
                // Who descends from whom stays; only one animal's row changes.
                Some(Piece::Seen { animal, .. }) => {
                    let without = self.without(&evidence, *animal, *i);
                    self.run(&mut workspace, &pedigree, &without)
                }
                Some(_) => {
                    kept[*i] = false;
                    let without = self.log10_likelihood(&mut workspace, &kept);
                    kept[*i] = true;
                    without
                }
            };
            match without {
                Err(Unanswered::Impossible { .. }) => Ok(0.0),
                other => Ok(other? - whole),
            }
        };
        asked.iter().map(&mut one).collect()
    }

    fn without(&self, evidence: &Evidence, animal: usize, piece: usize) -> Evidence {
        let mut without = evidence.clone();
        without.forget(animal);
        without.see(animal, self.granted.weights(animal));
        for (_, other) in self.pieces.iter().enumerate().filter(|(at, _)| *at != piece) {
            if let Piece::Seen { animal: of, weights } = other
                && *of == animal
            {
                without.see(animal, weights);
            }
        }
        without
    }

    fn log10_likelihood(
        &self,
        workspace: &mut Workspace,
        kept: &[bool],
    ) -> Result<f64, Unanswered> {
        let (pedigree, evidence) = self.assembled(kept)?;
        self.run(workspace, &pedigree, &evidence)
    }

    fn run(
        &self,
        workspace: &mut Workspace,
        pedigree: &Pedigree,
        evidence: &Evidence,
    ) -> Result<f64, Unanswered> {
        let budget = self.budget.exact();
        let found = posteriors_in(workspace, pedigree, self.group, evidence, &budget)?;
        Ok(found.log10_likelihood().unwrap_or(f64::NEG_INFINITY))
    }

    fn assembled(&self, kept: &[bool]) -> Result<(Pedigree, Evidence), Unanswered> {
        let (origins, strangers) = self.origins_without(kept);
        let pedigree = Pedigree::new(origins).map_err(|_| Unanswered::Mismatch)?;
        let n = self.granted.animals();
        let mut evidence = self.granted.grown(strangers);
        for stranger in n..n + strangers {
            evidence.see(stranger, &self.background);
        }
        for (piece, _) in self.pieces.iter().zip(kept).filter(|(_, kept)| **kept) {
            if let Piece::Seen { animal, weights } = piece {
                evidence.see(*animal, weights);
            }
        }
        Ok((pedigree, evidence))
    }

    // A record of a parent that is left out puts a stranger in its place.
    fn origins_without(&self, kept: &[bool]) -> (Vec<Origin>, usize) {
        let mut origins = self.origins.clone();
        let mut strangers = 0;
        for (piece, _) in self.pieces.iter().zip(kept).filter(|(_, kept)| !**kept) {
            let stranger = self.origins.len() + strangers;
            let (young, is_sire) = match piece {
                Piece::Seen { .. } => continue,
                Piece::Sire { young } => (young, true),
                Piece::Dam { young } => (young, false),
            };
            strangers += 1;
            for one in young {
                let Some(slot) = origins.get_mut(*one) else { continue };
                *slot = match (*slot, is_sire) {
                    (Origin::Parents { dam, .. } | Origin::Alone { dam }, true) => {
                        Origin::Parents { sire: stranger, dam }
                    }
                    (Origin::Parents { sire, .. }, false) => {
                        Origin::Parents { sire, dam: stranger }
                    }
                    (Origin::Alone { .. }, false) => Origin::Alone { dam: stranger },
                    (Origin::Founder, _) => Origin::Founder,
                };
            }
        }
        origins.resize(self.origins.len() + strangers, Origin::Founder);
        (origins, strangers)
    }
}

// These animals, their parents and their young, sorted.
fn widened(origins: &[Origin], animals: &[usize]) -> Vec<usize> {
    let mut is_in = vec![false; origins.len()];
    animals.iter().filter(|a| **a < origins.len()).for_each(|a| is_in[*a] = true);
    let mut wide = is_in.clone();
    for (young, origin) in origins.iter().enumerate() {
        for parent in origin.parents().into_iter().flatten() {
            wide[parent] |= is_in[young];
            wide[young] |= is_in[parent];
        }
    }
    // Both parents of each, so that a young one is not taken for a founder.
    let young = wide.clone();
    for (origin, _) in origins.iter().zip(&young).filter(|(_, is_young)| **is_young) {
        origin.parents().into_iter().flatten().for_each(|parent| wide[parent] = true);
    }
    (0..origins.len()).filter(|a| wide[*a]).collect()
}
