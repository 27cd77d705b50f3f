//! The common ancestors a kinship comes from.

use std::collections::BTreeMap;

use super::Kinship;
use super::lines::NO_SIRE;

/// What is left of a common ancestor's product of shares when all of it meets further down: below
/// this part of the product it is rounding.
const ROUNDING: f64 = 1e-12;

/// What one common ancestor adds to a kinship.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// Place of the ancestor; it may be one of the two animals itself.
    pub ancestor: usize,
    /// Its part of the kinship, above 0. All parts together are the kinship.
    pub share: f64,
}

impl Kinship {
    /// The common ancestors of two animals with what each adds to their kinship, the largest part
    /// first; empty where they are unrelated or not there.
    ///
    /// After Wright 1922 (Am Nat 56:330, from memory): an ancestor `A` adds
    /// `(1/2)^(n1 + n2 + 1) (1 + F_A)` for every pair of paths of `n1` and `n2` steps that lead from
    /// the two animals to `A` and have nobody else in common. The pairs are not counted one by one.
    /// With `u` and `v` the shares of `A` in the genes of either animal, `u v` counts all pairs of
    /// paths; those that met in a younger `C` are `m(C) t^2`, with `m(C)` what meets first in `C` and
    /// `t` the share of `A` in the genes of `C`. So `m(A) = u v - sum over C of m(C) t^2`, from the
    /// youngest common ancestor up, and `A` adds `m(A) (1 + F_A) / 2`.
    #[must_use]
    pub fn behind(&self, a: usize, b: usize) -> Vec<Share> {
        let (Some(own), Some(_)) = (self.inbreeding(a), self.inbreeding(b)) else { return vec![] };
        if a == b {
            return vec![Share { ancestor: a, share: 0.5 * (1.0 + own) }];
        }
        let mut common = self.common(a, b);
        let mut shares = Vec::new();
        while let Some((at, (product, meeting))) = common.pop_last() {
            if meeting <= ROUNDING * product {
                continue;
            }
            let breeder = &self.breeders.all[at as usize];
            let share = 0.5 * meeting * (1.0 + breeder.inbreeding);
            shares.push(Share { ancestor: self.breeders.animals[at as usize] as usize, share });
            let mut ahead = BTreeMap::from([(at, 1.0)]);
            while let Some((at, part)) = ahead.pop_last() {
                if let Some((_, left)) = common.get_mut(&at) {
                    *left -= meeting * part * part;
                }
                self.up(at, |parent, half| *ahead.entry(parent).or_insert(0.0) += half * part);
            }
        }
        shares.sort_by(|a, b| b.share.total_cmp(&a.share));
        shares
    }

    /// Common ancestors by their number as breeders, each with the product of its shares, twice.
    fn common(&self, a: usize, b: usize) -> BTreeMap<u32, (f64, f64)> {
        let mut ahead: BTreeMap<u32, [f64; 2]> = BTreeMap::new();
        for (side, animal) in [a, b].into_iter().enumerate() {
            for (breeder, share) in self.ends(animal) {
                if breeder < NO_SIRE {
                    ahead.entry(breeder).or_default()[side] += share;
                }
            }
        }
        let mut common = BTreeMap::new();
        while let Some((at, [ours, theirs])) = ahead.pop_last() {
            if ours != 0.0 && theirs != 0.0 {
                common.insert(at, (ours * theirs, ours * theirs));
            }
            self.up(at, |parent, half| {
                let cell = ahead.entry(parent).or_default();
                cell[0] += half * ours;
                cell[1] += half * theirs;
            });
        }
        common
    }

    /// The parents of a breeder with the part of its genes that each gives.
    fn up(&self, at: u32, mut each: impl FnMut(u32, f64)) {
        let breeder = &self.breeders.all[at as usize];
        for parent in breeder.parents {
            if parent < NO_SIRE {
                each(parent, breeder.part());
            }
        }
    }
}
