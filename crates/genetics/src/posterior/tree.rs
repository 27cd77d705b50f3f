//! One pass inwards, one pass outwards.

use super::Unanswered;
use super::network::Network;
use super::order::Order;
use super::table::{Lie, plus, rescale, times, total};
use crate::pedigree::{NOBODY, Pedigree};

/// Messages that may meet in a table before it is scaled anew: each has 1 as its largest number, but
/// many that disagree leave little of each other.
const PARTS_UNSCALED: u32 = 16;

/// Room for the tables of a run, so that the next run need not ask for it anew.
#[derive(Clone, Debug, Default)]
pub(super) struct Room {
    numbers: Vec<f64>,
    up: Vec<f64>,
}

/// A table for every unknown, over itself (outermost) and those summed out later that it stands
/// with, soonest first. After both passes each holds the joint chances of its animals.
pub(super) struct Calibrated<'a> {
    network: &'a Network,
    order: &'a Order,
    starts: Vec<usize>,
    up_starts: Vec<usize>,
    /// Tables, and what each unknown said inwards over those it stands with.
    room: &'a mut Room,
    /// The largest number of each inward message before it was scaled to 1.
    most: Vec<f64>,
    /// The smallest table in which each unknown stands.
    smallest: Vec<u32>,
    log: f64,
}

impl<'a> Calibrated<'a> {
    pub(super) fn new(
        network: &'a Network,
        order: &'a Order,
        room: &'a mut Room,
    ) -> Result<Self, Unanswered> {
        let n = order.sequence.len();
        let (mut starts, mut up_starts) = (Vec::with_capacity(n + 1), Vec::with_capacity(n + 1));
        starts.push(0);
        up_starts.push(0);
        for (place, unknown) in order.sequence.iter().enumerate() {
            let ups: usize = order.later(place).iter().map(|u| network.size(*u)).product();
            starts.push(starts[place] + ups * network.size(*unknown));
            up_starts.push(up_starts[place] + ups);
        }
        room.numbers.resize(starts[n].max(room.numbers.len()), 0.0);
        room.up.resize(up_starts[n].max(room.up.len()), 0.0);
        let mut tree = Self {
            network,
            order,
            starts,
            up_starts,
            room,
            most: vec![1.0; n],
            smallest: Vec::new(),
            log: network.log_settled,
        };
        tree.inwards()?;
        tree.outwards();
        tree.find_smallest();
        Ok(tree)
    }

    pub(super) const fn log_likelihood(&self) -> f64 {
        self.log
    }

    /// Joint chances of an unknown, outermost, and those it stands with.
    pub(super) fn table(&self, place: usize) -> &[f64] {
        &self.room.numbers[self.starts[place]..self.starts[place + 1]]
    }

    fn inwards(&mut self) -> Result<(), Unanswered> {
        let (network, order) = (self.network, self.order);
        let n = order.sequence.len();
        let factors = by_place(network, order);
        // Where a table has its first part, the part is written; later ones are multiplied in.
        let mut parts = vec![0_u32; n];
        for place in 0..n {
            let range = self.starts[place]..self.starts[place + 1];
            for factor in factors.of(place) {
                let factor = &network.factors.all[*factor as usize];
                let small = &network.factors.numbers[factor.range()];
                let lie = lies(network, order, place, factor.scope());
                lie.put(&mut self.room.numbers[range.clone()], small, parts[place] == 0);
                parts[place] += 1;
            }
            if parts[place] == 0 {
                self.room.numbers[range.clone()].fill(1.0);
            }
            let up = &mut self.room.up[self.up_starts[place]..self.up_starts[place + 1]];
            let mut blocks = self.room.numbers[range].chunks_exact(up.len());
            if let Some(first) = blocks.next() {
                up.copy_from_slice(first);
            }
            blocks.for_each(|block| plus(up, block));
            let most = up.iter().copied().fold(0.0, f64::max);
            if most <= 0.0 {
                return Err(Unanswered::Impossible { near: Vec::new() });
            }
            let scale = 1.0 / most;
            up.iter_mut().for_each(|u| *u *= scale);
            self.most[place] = most;
            self.log += most.ln();
            let Some(next) = order.later(place).first() else { continue };
            let to = order.position[*next as usize] as usize;
            let whole = &mut self.room.numbers[self.starts[to]..self.starts[to + 1]];
            lies(network, order, to, order.later(place)).put(whole, up, parts[to] == 0);
            parts[to] += 1;
            if parts[to] % PARTS_UNSCALED == 0 {
                self.log += rescale(whole);
            }
        }
        Ok(())
    }

    fn outwards(&mut self) {
        let (network, order) = (self.network, self.order);
        let mut down = Vec::new();
        for place in (0..order.sequence.len()).rev() {
            let (below, above) = self.room.numbers.split_at_mut(self.starts[place + 1]);
            let table = &mut below[self.starts[place]..];
            let up = &self.room.up[self.up_starts[place]..self.up_starts[place + 1]];
            let scale = 1.0 / self.most[place];
            down.clear();
            down.resize(up.len(), 0.0);
            let Some(next) = order.later(place).first() else {
                table.iter_mut().for_each(|x| *x *= scale);
                continue;
            };
            let from = order.position[*next as usize] as usize;
            let shift = self.starts[place + 1];
            let whole = &above[self.starts[from] - shift..self.starts[from + 1] - shift];
            lies(network, order, from, order.later(place)).sum(whole, &mut down);
            // Where the animal said "impossible" inwards, the whole says so too: 0 / 0 is 0.
            for (d, u) in down.iter_mut().zip(up) {
                *d = if *u > 0.0 { *d * scale / u } else { 0.0 };
            }
            table.chunks_exact_mut(up.len()).for_each(|block| times(block, &down));
        }
    }

    fn find_smallest(&mut self) {
        let order = self.order;
        let size = |place: usize| self.starts[place + 1] - self.starts[place];
        let mut smallest = order.position.clone();
        for place in 0..order.sequence.len() {
            for unknown in order.later(place) {
                let best = &mut smallest[*unknown as usize];
                if size(place) < size(*best as usize) {
                    *best = u32::try_from(place).unwrap_or(*best);
                }
            }
        }
        self.smallest = smallest;
    }

    /// The table into which one was summed.
    pub(super) fn above(&self, place: usize) -> Option<usize> {
        let next = self.order.later(place).first()?;
        Some(self.order.position[*next as usize] as usize)
    }

    /// The unknowns that a table has in common with the one above it.
    pub(super) fn shared(&self, place: usize) -> &[u32] {
        self.order.later(place)
    }

    /// How many numbers a table over these unknowns has.
    pub(super) fn numbers_over(&self, of: &[u32]) -> usize {
        of.iter().map(|u| self.network.size(*u)).product()
    }

    /// A table in which one unknown stands, or two of a family.
    pub(super) fn home(&self, of: &[u32]) -> usize {
        match of {
            [one] => self.smallest[*one as usize] as usize,
            // A family is bound in the table of the first of them to go.
            _ => of.iter().map(|u| self.order.position[*u as usize] as usize).min().unwrap_or(0),
        }
    }

    /// Chances of one or two unknowns of a family, in their own order.
    pub(super) fn marginal(&self, of: &[u32]) -> Vec<f64> {
        if of.is_empty() {
            return vec![1.0];
        }
        let place = self.home(of);
        let mut out = vec![0.0; self.numbers_over(of)];
        lie(self, place, of).sum(self.table(place), &mut out);
        let scale = 1.0 / total(&out);
        out.iter_mut().for_each(|x| *x *= scale);
        out
    }

    /// Fills in the breeders.
    pub(super) fn write_breeders(&self, pedigree: &Pedigree, chances: &mut [f64]) {
        let states = chances.len() / pedigree.len().max(1);
        for (breeder, animal) in (0_u32..).zip(pedigree.breeders()) {
            let from = *animal as usize * states;
            let out = &mut chances[from..from + states];
            let domain = self.network.domain(breeder);
            let unknown = self.network.unknown_of[breeder as usize];
            if unknown == NOBODY {
                out[usize::from(domain[0])] = 1.0;
                continue;
            }
            for (state, p) in domain.iter().zip(self.marginal(&[unknown])) {
                out[usize::from(*state)] = p;
            }
        }
    }
}

/// The factors that each table takes in: those whose first animal to go is its own.
struct ByPlace {
    starts: Vec<u32>,
    factors: Vec<u32>,
}

impl ByPlace {
    fn of(&self, place: usize) -> &[u32] {
        &self.factors[self.starts[place] as usize..self.starts[place + 1] as usize]
    }
}

fn by_place(network: &Network, order: &Order) -> ByPlace {
    let first =
        |scope: &[u32]| scope.iter().map(|u| order.position[*u as usize]).min().unwrap_or(0);
    let mut starts = vec![0_u32; order.sequence.len() + 1];
    let places: Vec<u32> = network.factors.all.iter().map(|f| first(f.scope())).collect();
    places.iter().for_each(|place| starts[*place as usize + 1] += 1);
    for i in 1..starts.len() {
        starts[i] += starts[i - 1];
    }
    let mut next = starts.clone();
    let mut factors = vec![0; places.len()];
    for (factor, place) in (0_u32..).zip(&places) {
        factors[next[*place as usize] as usize] = factor;
        next[*place as usize] += 1;
    }
    ByPlace { starts, factors }
}

/// How a table over `of` lies in the table of the unknown at `place`; `of` may be in any order.
pub(super) fn lie(tree: &Calibrated<'_>, place: usize, of: &[u32]) -> Lie {
    lies(tree.network, tree.order, place, of)
}

fn lies(network: &Network, order: &Order, place: usize, of: &[u32]) -> Lie {
    let stride = |unknown: u32| match of.iter().position(|u| *u == unknown) {
        Some(i) => of[i + 1..].iter().map(|u| network.size(*u)).product(),
        None => 0,
    };
    let scope = std::iter::once(&order.sequence[place]).chain(order.later(place));
    Lie::new(scope.map(|u| (network.size(*u), stride(*u))))
}
