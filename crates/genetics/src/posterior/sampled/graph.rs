//! Which unknowns stand together in a table, while they are summed out or conditioned on.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Unknowns with their neighbours; takes unknowns out, cheapest first.
#[derive(Clone)]
pub(super) struct Graph {
    around: Vec<Vec<u32>>,
    sizes: Vec<u16>,
    weight: Vec<u64>,
    is_gone: Vec<bool>,
    heap: BinaryHeap<Reverse<(u64, u32)>>,
}

impl Graph {
    /// Every two unknowns of one scope are neighbours.
    pub(super) fn new<'a>(sizes: &[u16], scopes: impl Iterator<Item = &'a [u32]>) -> Self {
        let mut around: Vec<Vec<u32>> = vec![Vec::new(); sizes.len()];
        for scope in scopes {
            for a in scope {
                around[*a as usize].extend(scope.iter().filter(|b| *b != a));
            }
        }
        for list in &mut around {
            list.sort_unstable();
            list.dedup();
        }
        let n = sizes.len();
        let mut graph = Self {
            around,
            sizes: sizes.to_vec(),
            weight: vec![0; n],
            is_gone: vec![false; n],
            heap: BinaryHeap::with_capacity(2 * n),
        };
        for unknown in 0..u32::try_from(n).unwrap_or(u32::MAX) {
            graph.weigh(unknown);
        }
        graph
    }

    /// The unknown whose table is smallest, and the numbers in that table.
    pub(super) fn cheapest(&mut self) -> Option<(u64, u32)> {
        while let Some(Reverse((weight, unknown))) = self.heap.peek().copied() {
            if !self.is_gone[unknown as usize] && self.weight[unknown as usize] == weight {
                return Some((weight, unknown));
            }
            self.heap.pop();
        }
        None
    }

    /// Sums an unknown out: its neighbours become neighbours of each other. Gives them.
    pub(super) fn sum_out(&mut self, unknown: u32) -> Vec<u32> {
        let around = self.take(unknown);
        for one in &around {
            let mine = &mut self.around[*one as usize];
            mine.retain(|u| *u != unknown);
            mine.extend(around.iter().filter(|u| *u != one));
            mine.sort_unstable();
            mine.dedup();
        }
        around.iter().for_each(|one| self.weigh(*one));
        around
    }

    /// Conditions on an unknown: it leaves, and binds nobody.
    pub(super) fn condition(&mut self, unknown: u32) {
        let around = self.take(unknown);
        for one in &around {
            self.around[*one as usize].retain(|u| *u != unknown);
            self.weigh(*one);
        }
    }

    /// Neighbours of an unknown among those left.
    pub(super) fn around(&self, unknown: u32) -> &[u32] {
        &self.around[unknown as usize]
    }

    /// Unknowns that are left.
    pub(super) fn left(&self) -> impl Iterator<Item = u32> + '_ {
        (0_u32..).zip(&self.is_gone).filter(|(_, gone)| !**gone).map(|(unknown, _)| unknown)
    }

    fn take(&mut self, unknown: u32) -> Vec<u32> {
        self.is_gone[unknown as usize] = true;
        std::mem::take(&mut self.around[unknown as usize])
    }

    // Saturating: such a table is never made.
    fn weigh(&mut self, unknown: u32) {
        let own = u64::from(self.sizes[unknown as usize]);
        let weight = self.around[unknown as usize]
            .iter()
            .fold(own, |w, u| w.saturating_mul(u64::from(self.sizes[*u as usize])));
        if self.weight[unknown as usize] != weight {
            self.weight[unknown as usize] = weight;
            self.heap.push(Reverse((weight, unknown)));
        }
    }
}
