//! Where an animal stands in the tree, and what is known of it anywhere else in the tree.

use std::collections::HashMap;

use super::leaves::Leaves;
use super::table::Lie;
use super::tree::Calibrated;
use crate::pedigree::{NOBODY, Origin};

/// Chances of an animal's states by the states of others, or none that depends on nobody.
pub(super) struct Seat {
    /// A table in which all of `scope` stand.
    place: usize,
    /// The unknowns that its states hang on: itself, or its parents where it has no young.
    scope: Vec<u32>,
    /// Each state it can have with its chances over `scope`, the first one's states outermost.
    given: Vec<(usize, Vec<f64>)>,
}

impl Seat {
    /// None for an animal that is settled, or whose parents are: it depends on nobody.
    pub(super) fn of(leaves: &Leaves<'_>, tree: &Calibrated<'_>, animal: usize) -> Option<Self> {
        let breeder = leaves.pedigree.breeder_of(animal);
        if breeder == NOBODY {
            return Self::of_leaf(leaves, tree, animal);
        }
        let unknown = leaves.network.unknown_of[breeder as usize];
        if unknown == NOBODY {
            return None;
        }
        let domain = leaves.network.domain(breeder);
        let is = |at: usize| (0..domain.len()).map(move |i| f64::from(u8::from(i == at))).collect();
        let given = domain.iter().enumerate().map(|(at, state)| (usize::from(*state), is(at)));
        let scope = vec![unknown];
        Some(Self { place: tree.home(&scope), scope, given: given.collect() })
    }

    fn of_leaf(leaves: &Leaves<'_>, tree: &Calibrated<'_>, animal: usize) -> Option<Self> {
        let (his, hers) = match leaves.pedigree.origin(animal) {
            Origin::Founder => return None,
            Origin::Alone { dam } => (NOBODY, leaves.pedigree.breeder_of(dam)),
            Origin::Parents { sire, dam } => {
                (leaves.pedigree.breeder_of(sire), leaves.pedigree.breeder_of(dam))
            }
        };
        let scope = leaves.unknowns(his, hers);
        if scope.is_empty() {
            return None;
        }
        let given = leaves.given_parents(animal, (his, hers));
        Some(Self { place: tree.home(&scope), scope, given })
    }
}

/// What one animal's states have to do with every other part of the tree.
///
/// Given the unknowns that two neighbouring tables share, one side says nothing of the other. So the
/// chances of an animal's states given those shared are carried from table to table, away from where
/// it stands, and kept wherever they were needed once.
pub(super) struct Carried<'a> {
    tree: &'a Calibrated<'a>,
    states: Vec<usize>,
    /// Tables above the animal's, each with the next on the way down to it.
    below: HashMap<usize, usize>,
    arrived: HashMap<usize, Arrived>,
}

/// The chances of each state over some unknowns of a table.
struct Arrived {
    scope: Vec<u32>,
    by_state: Vec<Vec<f64>>,
}

impl<'a> Carried<'a> {
    pub(super) fn from(tree: &'a Calibrated<'a>, seat: Seat) -> Self {
        let mut below = HashMap::new();
        let mut at = seat.place;
        while let Some(above) = tree.above(at) {
            below.insert(above, at);
            at = above;
        }
        let (states, by_state) = seat.given.into_iter().unzip();
        let arrived = HashMap::from([(seat.place, Arrived { scope: seat.scope, by_state })]);
        Self { tree, states, below, arrived }
    }

    /// Writes the joint chances with another animal, `m` states each; not where the two stand in
    /// different trees, and so do not depend on each other.
    pub(super) fn joint(&mut self, other: &Seat, m: usize, out: &mut [f64]) -> bool {
        if !self.reach(other.place) {
            return false;
        }
        for (state, shared) in self.states.iter().zip(self.passed(other.place, &other.scope)) {
            for (of_other, given) in &other.given {
                let both = given.iter().zip(&shared).map(|(g, p)| g * p).sum();
                out[state * m + of_other] = both;
            }
        }
        let sum: f64 = out.iter().sum();
        out.iter_mut().for_each(|p| *p /= sum);
        true
    }

    /// Carries the states to a table; not where it stands in another tree.
    fn reach(&mut self, to: usize) -> bool {
        let mut way = Vec::new();
        let mut at = to;
        while !self.arrived.contains_key(&at) {
            let next = self.below.get(&at).copied().or_else(|| self.tree.above(at));
            let Some(next) = next else { return false };
            way.push((next, at));
            at = next;
        }
        for (from, to) in way.into_iter().rev() {
            let upper = if self.tree.above(from) == Some(to) { from } else { to };
            let scope = self.tree.shared(upper).to_vec();
            let mut whole = vec![0.0; self.tree.numbers_over(&scope)];
            let mut lie = Lie::default();
            self.tree.lay(&mut lie, from, &scope);
            lie.sum(self.tree.table(from), &mut whole);
            let mut by_state = self.passed(from, &scope);
            for chances in &mut by_state {
                for (p, whole) in chances.iter_mut().zip(&whole) {
                    *p = if *whole > 0.0 { *p / whole } else { 0.0 };
                }
            }
            self.arrived.insert(to, Arrived { scope, by_state });
        }
        true
    }

    /// At a table that was reached: for each state its joint chances with some unknowns.
    fn passed(&self, at: usize, scope: &[u32]) -> Vec<Vec<f64>> {
        let Some(arrived) = self.arrived.get(&at) else { return Vec::new() };
        let (mut into, mut out) = (Lie::default(), Lie::default());
        self.tree.lay(&mut into, at, &arrived.scope);
        self.tree.lay(&mut out, at, scope);
        let mut one = |chances: &Vec<f64>| {
            let mut table = self.tree.table(at).to_vec();
            into.put(&mut table, chances, false);
            let mut sum = vec![0.0; self.tree.numbers_over(scope)];
            out.sum(&table, &mut sum);
            sum
        };
        arrived.by_state.iter().map(&mut one).collect()
    }
}
