//! In which order the unknowns are summed out.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::network::Network;
use super::{Budget, Unanswered};

/// The order, and with whom each unknown stands in a table when it is summed out.
pub(super) struct Order {
    /// Unknowns, first summed out first.
    pub(super) sequence: Vec<u32>,
    /// Place of each unknown in the sequence.
    pub(super) position: Vec<u32>,
    starts: Vec<u32>,
    neighbours: Vec<u32>,
}

impl Order {
    /// Those summed out later than the unknown at `place` that stand in a table with it, soonest first.
    pub(super) fn later(&self, place: usize) -> &[u32] {
        &self.neighbours[self.starts[place] as usize..self.starts[place + 1] as usize]
    }
}

/// Greedy: next is the unknown whose table is smallest (min-weight).
pub(super) fn least_weight(network: &Network, budget: &Budget) -> Result<Order, Unanswered> {
    let n = network.breeder_of.len();
    let mut graph = Graph::new(network, n);
    let mut heap: BinaryHeap<Reverse<(u64, u32)>> = BinaryHeap::with_capacity(2 * n);
    for unknown in 0..u32::try_from(n).unwrap_or(u32::MAX) {
        let weight = graph.weigh(unknown);
        graph.weight[unknown as usize] = weight;
        heap.push(Reverse((weight, unknown)));
    }
    let mut order = Order {
        sequence: Vec::with_capacity(n),
        position: vec![u32::MAX; n],
        starts: vec![0],
        neighbours: Vec::with_capacity(4 * n),
    };
    let mut entries: u128 = 0;
    while let Some(Reverse((weight, unknown))) = heap.pop() {
        let at = unknown as usize;
        if order.position[at] != u32::MAX || graph.weight[at] != weight {
            continue;
        }
        order.position[at] = u32::try_from(order.sequence.len()).unwrap_or(u32::MAX);
        order.sequence.push(unknown);
        entries += u128::from(weight);
        let around = std::mem::take(&mut graph.around[at]);
        graph.join(unknown, &around);
        for other in &around {
            let weight = graph.weigh(*other);
            if weight != graph.weight[*other as usize] {
                graph.weight[*other as usize] = weight;
                heap.push(Reverse((weight, *other)));
            }
        }
        order.neighbours.extend_from_slice(&around);
        order.starts.push(u32::try_from(order.neighbours.len()).unwrap_or(u32::MAX));
    }
    if entries > budget.table_entries as u128 {
        return Err(Unanswered::TooWide { entries });
    }
    for place in 0..n {
        let range = order.starts[place] as usize..order.starts[place + 1] as usize;
        let position = &order.position;
        order.neighbours[range].sort_unstable_by_key(|u| position[*u as usize]);
    }
    Ok(order)
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
