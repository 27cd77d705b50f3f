//! In which order the unknowns are summed out.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::network::Network;
use super::split_mix::SplitMix;
use super::{Budget, Unanswered};

/// The order, and with whom each unknown stands in a table when it is summed out.
pub(super) struct Order {
    /// Unknowns, first summed out first.
    pub(super) sequence: Vec<u32>,
    /// Place of each unknown in the sequence.
    pub(super) position: Vec<u32>,
    starts: Vec<u32>,
    neighbours: Vec<u32>,
    pub(super) entries: u128,
}

impl Order {
    /// Those summed out later than the unknown at `place` that stand in a table with it, soonest first.
    pub(super) fn later(&self, place: usize) -> &[u32] {
        &self.neighbours[self.starts[place] as usize..self.starts[place + 1] as usize]
    }

    fn sort_neighbours(&mut self) {
        for range in self.starts.windows(2) {
            let position = &self.position;
            self.neighbours[range[0] as usize..range[1] as usize]
                .sort_unstable_by_key(|u| position[*u as usize]);
        }
    }

    /// The first greedy order.
    #[cfg(test)]
    pub(super) fn plain(network: &Network) -> Self {
        let mut order = greedy(network, |weight| weight);
        order.sort_neighbours();
        order
    }
}

/// Numbers in all tables from which states are drawn together into kinds.
const KINDS_FROM: u128 = 1 << 12;
/// Orders tried beyond the first for every so many numbers that an answer would need.
const NUMBERS_A_TRY: u128 = 1 << 19;
/// Most orders tried.
const MOST_TRIES: u128 = 200;
/// How far above the budget an order may be for others to be tried; trying has gained less.
const FARTHEST: u128 = 4;

/// The best of some greedy orders; only the first is tried where it is cheap.
///
/// Greedy: next is the unknown whose table is smallest (min-weight). The further tries blur the
/// sizes by up to a factor of four, drawn from a fixed seed, and so break ties and near ties
/// otherwise; with tables of millions the search costs a small share of what it saves.
pub(super) fn least_weight(network: &Network, budget: &Budget) -> Result<Order, Unanswered> {
    best_of_some(network, budget, greedy(network, |weight| weight))
}

/// The same; where tables are large, over the network by kinds, which comes with it.
///
/// Refused wherever the tables over states are refused, for joint chances rest on those: whoever has
/// exact chances has exact joint chances too.
pub(super) fn by_kinds(
    network: &Network,
    budget: &Budget,
) -> Result<(Order, Option<Network>), Unanswered> {
    let first = greedy(network, |weight| weight);
    let is_large = first.entries >= KINDS_FROM;
    let is_wide = first.entries > budget.table_entries as u128;
    let plain = if is_wide { best_of_some(network, budget, first)? } else { first };
    let by_kinds = if is_large { network.by_kinds() } else { None };
    if let Some(by_kinds) = by_kinds
        && let Ok(order) = least_weight(&by_kinds, budget)
    {
        return Ok((order, Some(by_kinds)));
    }
    Ok((best_of_some(network, budget, plain)?, None))
}

fn best_of_some(network: &Network, budget: &Budget, first: Order) -> Result<Order, Unanswered> {
    let mut best = first;
    let mut draws = SplitMix::new(1);
    let mut tried = 0;
    // Trying does not make an answer possible that is out of reach by far.
    let within_reach = budget.table_entries as u128 * FARTHEST;
    while tried < (best.entries / NUMBERS_A_TRY).min(MOST_TRIES) && best.entries < within_reach {
        tried += 1;
        let next = greedy(network, |weight| blur(&mut draws, weight));
        if next.entries < best.entries {
            best = next;
        }
    }
    if best.entries > budget.table_entries as u128 {
        return Err(Unanswered::TooWide { entries: best.entries });
    }
    best.sort_neighbours();
    Ok(best)
}

fn greedy(network: &Network, mut blurred: impl FnMut(u64) -> u64) -> Order {
    let n = network.breeder_of.len();
    let mut graph = Graph::new(network, n);
    let mut heap: BinaryHeap<Reverse<(u64, u32)>> = BinaryHeap::with_capacity(2 * n);
    for unknown in 0..u32::try_from(n).unwrap_or(u32::MAX) {
        let weight = blurred(graph.weigh(unknown));
        graph.weight[unknown as usize] = weight;
        heap.push(Reverse((weight, unknown)));
    }
    let mut order = Order {
        sequence: Vec::with_capacity(n),
        position: vec![u32::MAX; n],
        starts: vec![0],
        neighbours: Vec::with_capacity(4 * n),
        entries: 0,
    };
    while let Some(Reverse((weight, unknown))) = heap.pop() {
        let at = unknown as usize;
        if order.position[at] != u32::MAX || graph.weight[at] != weight {
            continue;
        }
        order.position[at] = u32::try_from(order.sequence.len()).unwrap_or(u32::MAX);
        order.sequence.push(unknown);
        order.entries += u128::from(graph.weigh(unknown));
        let around = std::mem::take(&mut graph.around[at]);
        graph.join(unknown, &around);
        for other in &around {
            let weight = blurred(graph.weigh(*other));
            if weight != graph.weight[*other as usize] {
                graph.weight[*other as usize] = weight;
                heap.push(Reverse((weight, *other)));
            }
        }
        order.neighbours.extend_from_slice(&around);
        order.starts.push(u32::try_from(order.neighbours.len()).unwrap_or(u32::MAX));
    }
    order
}

/// The weight times a number from 1 to almost 4.
fn blur(draws: &mut SplitMix, weight: u64) -> u64 {
    (weight / 16).max(1).saturating_mul(16 + (draws.next() & 47))
}

struct Graph {
    around: Vec<Vec<u32>>,
    size: Vec<u64>,
    weight: Vec<u64>,
}

impl Graph {
    fn new(network: &Network, n: usize) -> Self {
        let count = u32::try_from(n).unwrap_or(u32::MAX);
        let mut around: Vec<Vec<u32>> = vec![Vec::new(); n];
        for factor in &network.factors.all {
            for a in factor.scope() {
                let others = factor.scope().iter().filter(|b| *b != a);
                around[*a as usize].extend(others);
            }
        }
        for list in &mut around {
            list.sort_unstable();
            list.dedup();
        }
        let size = (0..count).map(|u| network.size(u) as u64).collect();
        Self { around, size, weight: vec![0; n] }
    }

    // Saturating: a table that large is refused anyway.
    fn weigh(&self, unknown: u32) -> u64 {
        let others = self.around[unknown as usize].iter();
        others.fold(self.size[unknown as usize], |w, u| w.saturating_mul(self.size[*u as usize]))
    }

    fn join(&mut self, gone: u32, around: &[u32]) {
        for one in around {
            let mine = &mut self.around[*one as usize];
            mine.retain(|u| *u != gone);
            mine.extend(around.iter().filter(|u| *u != one));
            mine.sort_unstable();
            mine.dedup();
        }
    }
}
