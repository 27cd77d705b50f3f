//! The largest products of one number from each of several lists, without forming them all.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// One choice per list, and the product of the numbers chosen.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Product {
    /// Position chosen in each list.
    pub(super) at: Vec<usize>,
    /// The product.
    pub(super) value: f64,
}

/// The largest products, largest first.
///
/// Each is kept as what it changes against an earlier one, so that ranking many lists costs no more
/// than the few lists in which the products differ.
#[derive(Clone, Debug, Default)]
pub struct Ranking {
    best: Option<f64>,
    steps: Vec<Step>,
    /// Which steps, in order.
    ranks: Vec<u32>,
}

/// The product that takes the position of a list instead of its best, on top of the step `before`.
#[derive(Clone, Copy, Debug)]
struct Step {
    value: f64,
    /// Place of the list among those that have a second number, by loss.
    turn: u32,
    list: u32,
    position: u32,
    before: u32,
}

/// No step before: every list at its best.
const BEST: u32 = u32::MAX;

impl Ranking {
    /// How many products there are.
    #[must_use]
    pub const fn len(&self) -> usize {
        if self.best.is_some() { self.ranks.len() + 1 } else { 0 }
    }

    /// Whether no product was asked for or a list was empty.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.best.is_none()
    }

    /// The products, largest first.
    pub fn values(&self) -> impl Iterator<Item = f64> + '_ {
        let step = |at: &u32| self.steps.get(*at as usize).map(|step| step.value);
        self.best.into_iter().chain(self.ranks.iter().filter_map(step))
    }

    /// Writes the positions chosen by the product of a rank, from 0, into `at`, one per list.
    pub fn choose(&self, rank: usize, at: &mut [usize]) {
        at.fill(0);
        let mut next = rank.checked_sub(1).and_then(|i| self.ranks.get(i)).copied();
        while let Some(step) = next.and_then(|at| self.steps.get(at as usize)) {
            if let Some(slot) = at.get_mut(step.list as usize) {
                *slot = step.position as usize;
            }
            next = Some(step.before);
        }
    }
}

/// The `limit` largest products of one number from each list; every list holds positive numbers
/// sorted downwards.
///
/// A frontier of candidates in which each one has a single predecessor, so that nothing is seen
/// twice: lists are taken in order of the loss from their best to their second; a candidate leads to
/// the next position in its last list, to a first step in the following list, and to that step
/// instead of its own first one. Each product found opens one more list, so the `limit` lists of
/// least loss are enough. Cost O(lists + limit log limit). Same family as lazy k-best search (Huang &
/// Chiang 2005, from memory).
#[must_use]
pub fn likeliest<L: AsRef<[f64]>>(lists: &[L], limit: usize) -> Ranking {
    if limit == 0 || lists.iter().any(|l| l.as_ref().is_empty()) {
        return Ranking::default();
    }
    let best: f64 = lists.iter().filter_map(|l| l.as_ref().first()).product();
    let open = open_lists(lists, limit);
    let expected = limit.min(1024);
    let mut ranks = Vec::with_capacity(expected);
    let mut frontier = Frontier::new(best, 3 * expected);
    frontier.push(open.first(), 0, BEST);
    while ranks.len() + 1 < limit {
        let Some((at, step)) = frontier.pop() else { break };
        ranks.push(at);
        let Step { turn, list, position, before, .. } = step;
        let numbers = lists[list as usize].as_ref();
        if let Some(next) = numbers.get(position as usize + 1) {
            let value = frontier.value(before) * (next / numbers[0]);
            frontier.push_step(Step { value, position: position + 1, ..step });
        }
        let following = open.get(turn as usize + 1);
        frontier.push(following, turn + 1, at);
        if position == 1 {
            frontier.push(following, turn + 1, before);
        }
    }
    Ranking { best: Some(best), steps: frontier.steps, ranks }
}

/// Products that wait for their turn. Positive numbers are in the order of their bits.
struct Frontier {
    best: f64,
    steps: Vec<Step>,
    waiting: BinaryHeap<(u64, Reverse<u32>)>,
}

impl Frontier {
    fn new(best: f64, expected: usize) -> Self {
        let waiting = BinaryHeap::with_capacity(expected);
        Self { best, steps: Vec::with_capacity(expected), waiting }
    }

    fn value(&self, step: u32) -> f64 {
        self.steps.get(step as usize).map_or(self.best, |step| step.value)
    }

    fn push(&mut self, list: Option<&(f64, u32)>, turn: u32, before: u32) {
        if let Some((second, list)) = list {
            let value = self.value(before) * second;
            self.push_step(Step { value, turn, list: *list, position: 1, before });
        }
    }

    fn push_step(&mut self, step: Step) {
        if let Ok(at) = u32::try_from(self.steps.len()) {
            self.waiting.push((step.value.to_bits(), Reverse(at)));
            self.steps.push(step);
        }
    }

    fn pop(&mut self) -> Option<(u32, Step)> {
        let (_, Reverse(at)) = self.waiting.pop()?;
        Some((at, *self.steps.get(at as usize)?))
    }
}

/// Second over best of the lists that have a second, least loss first; ties in the lists' order.
fn open_lists<L: AsRef<[f64]>>(lists: &[L], limit: usize) -> Vec<(f64, u32)> {
    let ratio = |(i, l): (usize, &L)| match l.as_ref() {
        [best, second, ..] => Some((second / best, u32::try_from(i).ok()?)),
        _ => None,
    };
    let mut open: Vec<(f64, u32)> = lists.iter().enumerate().filter_map(ratio).collect();
    let by_loss = |a: &(f64, u32), b: &(f64, u32)| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1));
    if limit < open.len() {
        open.select_nth_unstable_by(limit, by_loss);
        open.truncate(limit);
    }
    open.sort_unstable_by(by_loss);
    open
}

/// As [`likeliest`], each product with all its positions.
pub(super) fn largest(lists: &[Vec<f64>], limit: usize) -> Vec<Product> {
    let ranking = likeliest(lists, limit);
    let product = |(rank, value)| {
        let mut at = vec![0; lists.len()];
        ranking.choose(rank, &mut at);
        Product { at, value }
    };
    ranking.values().enumerate().map(product).collect()
}

/// Every product, in no useful order.
pub(super) fn every(lists: &[Vec<f64>]) -> Vec<Product> {
    let mut all = vec![Product { at: Vec::with_capacity(lists.len()), value: 1.0 }];
    for list in lists {
        let mut longer = Vec::with_capacity(all.len() * list.len());
        for product in &all {
            for (i, number) in list.iter().enumerate() {
                let mut at = Vec::with_capacity(lists.len());
                at.extend_from_slice(&product.at);
                at.push(i);
                longer.push(Product { at, value: product.value * number });
            }
        }
        all = longer;
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn lists() -> impl Strategy<Value = Vec<Vec<f64>>> {
        let list = prop::collection::vec(0.001_f64..1.0, 1..4).prop_map(|mut l| {
            l.sort_by(|a, b| b.total_cmp(a));
            l
        });
        prop::collection::vec(list, 0..7)
    }

    proptest! {
        #[test]
        fn finds_what_sorting_everything_finds(lists in lists(), limit in 1_usize..40) {
            let mut all = every(&lists);
            all.sort_by(|a, b| b.value.total_cmp(&a.value));
            all.truncate(limit);
            let found = largest(&lists, limit);
            prop_assert_eq!(found.len(), all.len());
            for (a, b) in found.iter().zip(&all) {
                prop_assert!((a.value - b.value).abs() <= 1e-14 * b.value, "{} {}", a.value, b.value);
            }
        }

        #[test]
        fn never_names_a_choice_twice(lists in lists()) {
            let found = largest(&lists, 10_000);
            let mut seen: Vec<_> = found.iter().map(|p| p.at.clone()).collect();
            seen.sort();
            seen.dedup();
            prop_assert_eq!(seen.len(), found.len());
            prop_assert_eq!(found.len(), lists.iter().map(Vec::len).product::<usize>());
        }
    }
}
