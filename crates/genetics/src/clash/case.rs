//! The records of one linkage group, each of which can be left out.

use super::irreducible::{Clash, clashes};
use crate::evidence::Evidence;
use crate::linkage::LinkageGroup;
use crate::pedigree::{Origin, Pedigree};
use crate::posterior::{Budget, Unanswered, Workspace, posteriors_in};

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
    /// without proof.
    #[must_use]
    pub fn clashes(&self, most: usize) -> Vec<Clash> {
        let mut workspace = Workspace::default();
        clashes(self.pieces.len(), most, |kept| {
            let found = self.log10_likelihood(&mut workspace, kept);
            !matches!(found, Err(Unanswered::Impossible { .. }))
        })
    }

    /// By how much the log10 likelihood of all other records rises when one is left out, for each
    /// record asked about; infinite where only that makes them possible.
    ///
    /// # Errors
    /// [`Unanswered`] where even without it there is no answer.
    pub fn relief(&self, asked: &[usize]) -> Result<Vec<f64>, Unanswered> {
        let mut workspace = Workspace::default();
        let mut kept = vec![true; self.pieces.len()];
        let whole = match self.log10_likelihood(&mut workspace, &kept) {
            Err(Unanswered::Impossible { .. }) => f64::NEG_INFINITY,
            other => other?,
        };
        let mut one = |i: &usize| {
            let Some(slot) = kept.get_mut(*i) else { return Ok(0.0) };
            *slot = false;
            let without = self.log10_likelihood(&mut workspace, &kept);
            kept[*i] = true;
            match without {
                Err(Unanswered::Impossible { .. }) => Ok(0.0),
                other => Ok(other? - whole),
            }
        };
        asked.iter().map(&mut one).collect()
    }

    fn log10_likelihood(
        &self,
        workspace: &mut Workspace,
        kept: &[bool],
    ) -> Result<f64, Unanswered> {
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
        let found =
            posteriors_in(workspace, &pedigree, self.group, &evidence, &self.budget.exact())?;
        Ok(found.log10_likelihood().unwrap_or(f64::NEG_INFINITY))
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
