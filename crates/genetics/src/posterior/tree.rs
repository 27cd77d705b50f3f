//! One pass inwards, one pass outwards.

use super::Unanswered;
use super::network::Network;
use super::order::Order;
use super::table::Lie;
use crate::pedigree::{NOBODY, Pedigree};

/// A table for every unknown, over itself (outermost) and those summed out later that it stands
/// with, soonest first. After both passes each holds the joint chances of its animals.
pub(super) struct Calibrated {
    starts: Vec<usize>,
    numbers: Vec<f64>,
    up_starts: Vec<usize>,
    /// What each unknown said inwards, over those it stands with.
    up: Vec<f64>,
    log: f64,
}

impl Calibrated {
    pub(super) fn new(network: &Network, order: &Order) -> Result<Self, Unanswered> {
        let (mut starts, mut up_starts) = (vec![0], vec![0]);
        for (place, unknown) in order.sequence.iter().enumerate() {
            let ups: usize = order.later(place).iter().map(|u| network.size(*u)).product();
            starts.push(starts[place] + ups * network.size(*unknown));
            up_starts.push(up_starts[place] + ups);
        }
        let mut tree = Self {
            numbers: vec![1.0; starts.last().copied().unwrap_or(0)],
            up: vec![0.0; up_starts.last().copied().unwrap_or(0)],
            starts,
            up_starts,
            log: network.log_settled,
        };
        for factor in &network.factors.all {
            let first = factor.scope().iter().map(|u| order.position[*u as usize]).min();
            let Some(place) = first else { continue };
            let lie = lie(network, order, place as usize, factor.scope());
            let small = &network.factors.numbers[factor.range()];
            lie.multiply(
                &mut tree.numbers[tree.starts[place as usize]..tree.starts[place as usize + 1]],
                small,
            );
        }
        tree.inwards(network, order)?;
        tree.outwards(network, order);
        Ok(tree)
    }

    pub(super) const fn log_likelihood(&self) -> f64 {
        self.log
    }

    fn inwards(&mut self, network: &Network, order: &Order) -> Result<(), Unanswered> {
        for place in 0..order.sequence.len() {
            let table = &self.numbers[self.starts[place]..self.starts[place + 1]];
            let up = &mut self.up[self.up_starts[place]..self.up_starts[place + 1]];
            for block in table.chunks_exact(up.len()) {
                up.iter_mut().zip(block).for_each(|(u, x)| *u += x);
            }
            let most = up.iter().copied().fold(0.0, f64::max);
            if most <= 0.0 {
                return Err(Unanswered::Impossible { near: Vec::new() });
            }
            up.iter_mut().for_each(|u| *u /= most);
            self.log += most.ln();
            let Some(next) = order.later(place).first() else { continue };
            let to = order.position[*next as usize] as usize;
            let lie = lie(network, order, to, order.later(place));
            lie.multiply(&mut self.numbers[self.starts[to]..self.starts[to + 1]], up);
        }
        Ok(())
    }

    fn outwards(&mut self, network: &Network, order: &Order) {
        let mut down = Vec::new();
        for place in (0..order.sequence.len()).rev() {
            let (below, above) = self.numbers.split_at_mut(self.starts[place + 1]);
            let table = &mut below[self.starts[place]..];
            let up = &self.up[self.up_starts[place]..self.up_starts[place + 1]];
            if let Some(next) = order.later(place).first() {
                let from = order.position[*next as usize] as usize;
                let shift = self.starts[place + 1];
                let whole = &above[self.starts[from] - shift..self.starts[from + 1] - shift];
                down.clear();
                down.resize(up.len(), 0.0);
                lie(network, order, from, order.later(place)).sum(whole, &mut down);
                // Where the animal said "impossible" inwards, the whole says so too: 0 / 0 is 0.
                down.iter_mut().zip(up).for_each(|(d, u)| *d = if *u > 0.0 { *d / u } else { 0.0 });
                for block in table.chunks_exact_mut(up.len()) {
                    block.iter_mut().zip(&down).for_each(|(x, d)| *x *= d);
                }
            }
            let sum: f64 = table.iter().sum();
            if sum > 0.0 {
                let scale = 1.0 / sum;
                table.iter_mut().for_each(|x| *x *= scale);
            }
        }
    }

    /// Chances of some unknowns that stand in the table of the first of them to go, in their own
    /// order.
    pub(super) fn marginal(&self, network: &Network, order: &Order, of: &[u32]) -> Vec<f64> {
        let size = of.iter().map(|u| network.size(*u)).product();
        let mut out = vec![0.0; size];
        let Some(place) = of.iter().map(|u| order.position[*u as usize] as usize).min() else {
            return vec![1.0];
        };
        let table = &self.numbers[self.starts[place]..self.starts[place + 1]];
        lie(network, order, place, of).sum(table, &mut out);
        out
    }

    /// Fills in the breeders.
    pub(super) fn write_breeders(
        &self,
        pedigree: &Pedigree,
        network: &Network,
        order: &Order,
        chances: &mut [f64],
    ) {
        let states = chances.len() / pedigree.len().max(1);
        for (breeder, animal) in (0_u32..).zip(pedigree.breeders()) {
            let from = *animal as usize * states;
            let out = &mut chances[from..from + states];
            let domain = network.domain(breeder);
            let unknown = network.unknown_of[breeder as usize];
            if unknown == NOBODY {
                out[usize::from(domain[0])] = 1.0;
                continue;
            }
            let place = order.position[unknown as usize] as usize;
            let table = &self.numbers[self.starts[place]..self.starts[place + 1]];
            let block = table.len() / domain.len();
            for (state, block) in domain.iter().zip(table.chunks_exact(block)) {
                out[usize::from(*state)] = block.iter().sum();
            }
        }
    }
}

// How a table over `of` lies in the table of the unknown at `place`; `of` may be in any order.
fn lie(network: &Network, order: &Order, place: usize, of: &[u32]) -> Lie {
    let stride = |unknown: u32| match of.iter().position(|u| *u == unknown) {
        Some(i) => of[i + 1..].iter().map(|u| network.size(*u)).product(),
        None => 0,
    };
    let scope = std::iter::once(&order.sequence[place]).chain(order.later(place));
    Lie::new(scope.map(|u| (network.size(*u), stride(*u))))
}
