//! One walk up the ancestors of two animals together.

use std::collections::BinaryHeap;

use super::breeders::Breeder;
use super::founders::Founders;
use super::lines::NO_SIRE;

/// Where a side of the walk begins: breeders with their share of the animal's genes.
pub(super) type Ends = [(u32, f64); 2];

/// Room for walks, kept between them so that a walk allocates nothing.
#[derive(Clone, Debug, Default)]
pub(super) struct Walk {
    /// Share of each breeder in the genes of either side; zero between walks.
    shares: Vec<[f64; 2]>,
    /// Breeders touched and not yet passed, youngest on top.
    ahead: BinaryHeap<u32>,
}

impl Walk {
    /// The relationship of two different animals, which is twice their kinship: over all ancestors
    /// the product of the shares times the variance each adds by Mendelian sampling
    /// (`A = T D T'`; Henderson 1976, Meuwissen and Luo 1992).
    ///
    /// Ancestors through whom the sides cannot meet are left out, so animals that have nothing in
    /// common cost no walk.
    pub(super) fn relationship(&mut self, breeders: &[Breeder], ends: [Ends; 2]) -> f64 {
        let founders = ends.map(|side| founders(breeders, side));
        if !founders[0].may_meet(&founders[1]) {
            return 0.0;
        }
        if self.shares.len() < breeders.len() {
            self.shares.resize(breeders.len(), [0.0; 2]);
        }
        for (side, ends) in ends.iter().enumerate() {
            for (breeder, share) in ends {
                if *breeder < NO_SIRE {
                    let shares = if side == 0 { [*share, 0.0] } else { [0.0, *share] };
                    self.add(breeders, *breeder, shares, &founders);
                }
            }
        }
        let mut sum = 0.0;
        while let Some(at) = self.ahead.pop() {
            let [ours, theirs] = std::mem::take(&mut self.shares[at as usize]);
            let breeder = &breeders[at as usize];
            sum += ours * theirs * breeder.sampling;
            let part = breeder.part();
            for parent in breeder.parents {
                if parent < NO_SIRE {
                    self.add(breeders, parent, [ours * part, theirs * part], &founders);
                }
            }
        }
        sum
    }

    fn add(&mut self, breeders: &[Breeder], at: u32, shares: [f64; 2], founders: &[Founders; 2]) {
        let own = &breeders[at as usize].founders;
        let other = usize::from(shares[0] != 0.0);
        let is_one_sided = shares[0] == 0.0 || shares[1] == 0.0;
        if is_one_sided && !own.may_meet(&founders[other]) {
            return;
        }
        let cell = &mut self.shares[at as usize];
        if *cell == [0.0; 2] {
            self.ahead.push(at);
        }
        cell[0] += shares[0];
        cell[1] += shares[1];
    }
}

fn founders(breeders: &[Breeder], ends: Ends) -> Founders {
    let of = |(breeder, _): (u32, f64)| breeders.get(breeder as usize).map(|b| b.founders);
    let [one, other] = ends.map(|end| of(end).unwrap_or_default());
    one.and(other)
}
