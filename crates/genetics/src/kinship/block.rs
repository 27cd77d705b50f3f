//! Kinship of every male with every female, several males in one pass.

use std::collections::BinaryHeap;

use super::Kinship;
use super::graph::{Graph, NOBODY};
use super::lines::UNKNOWN;

/// Males reckoned in one pass: as many 64-bit numbers as a cache line holds.
const LANES: usize = 8;

/// Kinships of males and females.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    n_males: usize,
    values: Vec<f32>,
}

impl Block {
    /// Kinships of one female, by her position in the list asked for, with all males in theirs;
    /// empty for a position that was not asked for.
    ///
    /// Reckoned in 64 bits and rounded to 32 at the end: exact where the kinship has at most 24
    /// binary digits, else off by less than 1e-7 of itself.
    #[must_use]
    pub fn of_female(&self, female: usize) -> &[f32] {
        let from = female.saturating_mul(self.n_males);
        self.values.get(from..from.saturating_add(self.n_males)).unwrap_or_default()
    }
}

impl Kinship {
    /// The kinship of each of these males with each of these females, in the orders given; none if
    /// one of them is not there. Sex is not looked at: any two lists will do.
    ///
    /// `A v = T D T' v` (Colleau 2002), on the ancestors of those asked for only, and within a pass
    /// on those only that have to do with its males.
    #[must_use]
    pub fn block(&self, males: &[usize], females: &[usize]) -> Option<Block> {
        if males.iter().chain(females).any(|animal| *animal >= self.len()) {
            return None;
        }
        let graph = Graph::of(self, &[males, females]);
        let rows = Rows::of(self, &graph, females);
        let mut pass = Pass::of(&graph);
        let mut values = vec![0.0; males.len() * females.len()];
        let columns: Vec<u32> = males.iter().map(|male| graph.node(self, *male)).collect();
        for (chunk, columns) in columns.chunks(LANES).enumerate() {
            pass.up(columns);
            pass.down(|node, lane| {
                for row in rows.of_node(node) {
                    let from = row * males.len() + chunk * LANES;
                    for (value, relationship) in
                        values[from..].iter_mut().zip(&lane[..columns.len()])
                    {
                        #[expect(clippy::cast_possible_truncation, reason = "rounded to 32 bits")]
                        let kinship = (0.5 * relationship) as f32;
                        *value = kinship;
                    }
                }
            });
        }
        Some(Block { n_males: males.len(), values })
    }
}

/// Which rows of the block each node fills; a female asked for twice has two.
struct Rows {
    first: Vec<u32>,
    next: Vec<u32>,
}

impl Rows {
    fn of(kinship: &Kinship, graph: &Graph, females: &[usize]) -> Self {
        let mut rows = Self { first: vec![UNKNOWN; graph.nodes.len()], next: vec![] };
        for (female, row) in females.iter().zip(0..) {
            let node = graph.node(kinship, *female) as usize;
            rows.next.push(std::mem::replace(&mut rows.first[node], row));
        }
        rows
    }

    fn of_node(&self, node: usize) -> impl Iterator<Item = usize> {
        let some = |row: u32| (row != UNKNOWN).then_some(row as usize);
        std::iter::successors(some(self.first[node]), move |row| some(self.next[*row]))
    }
}

/// Room for one pass over the graph.
struct Pass<'g> {
    graph: &'g Graph,
    /// For each male of the pass: on the way up the share of a node in his genes, on the way down
    /// its relationship to him. Zero between passes.
    lanes: Vec<[f64; LANES]>,
    /// Whether a node has to do with any male of the pass.
    is_live: Vec<bool>,
    ahead: BinaryHeap<u32>,
}

impl<'g> Pass<'g> {
    fn of(graph: &'g Graph) -> Self {
        let n = graph.nodes.len();
        let (lanes, is_live) = (vec![[0.0; LANES]; n], vec![false; n]);
        Self { graph, lanes, is_live, ahead: BinaryHeap::new() }
    }

    /// `T' v`: the share of every ancestor in the genes of each male, then times D.
    fn up(&mut self, males: &[u32]) {
        for (lane, male) in males.iter().enumerate() {
            self.touch(*male);
            self.lanes[*male as usize][lane] = 1.0;
        }
        while let Some(at) = self.ahead.pop() {
            let node = &self.graph.nodes[at as usize];
            let shares = self.lanes[at as usize];
            self.lanes[at as usize] = shares.map(|share| share * node.sampling);
            for parent in node.parents {
                if parent != NOBODY {
                    self.touch(parent);
                    let cell = &mut self.lanes[parent as usize];
                    for (sum, share) in cell.iter_mut().zip(shares) {
                        *sum += node.part * share;
                    }
                }
            }
        }
    }

    fn touch(&mut self, node: u32) {
        if !std::mem::replace(&mut self.is_live[node as usize], true) {
            self.ahead.push(node);
        }
    }

    /// `T` of that: relationships from the oldest down; gives each that may not be zero, and leaves
    /// the room as it was.
    fn down(&mut self, mut each: impl FnMut(usize, &[f64; LANES])) {
        let mut live = Vec::new();
        for (at, node) in self.graph.nodes.iter().enumerate() {
            let [sire, dam] = node.parents.map(|parent| parent as usize);
            if !(self.is_live[at] | self.is_live[sire] | self.is_live[dam]) {
                continue;
            }
            self.is_live[at] = true;
            let (sire, dam) = (self.lanes[sire], self.lanes[dam]);
            let lane = &mut self.lanes[at];
            for (i, value) in lane.iter_mut().enumerate() {
                *value += node.part * (sire[i] + dam[i]);
            }
            each(at, lane);
            live.push(at);
        }
        for at in live {
            self.lanes[at] = [0.0; LANES];
            self.is_live[at] = false;
        }
    }
}
