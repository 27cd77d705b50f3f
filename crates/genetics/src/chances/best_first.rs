//! The largest products of one number from each of several lists, without forming them all.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// One choice per list, and the product of the numbers chosen.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Product {
    /// Position chosen in each list.
    pub(super) at: Vec<usize>,
    /// The product.
    pub(super) value: f64,
}

struct Waiting {
    value: f64,
    list: usize,
    position: usize,
    before: Option<usize>,
}

impl PartialEq for Waiting {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Waiting {}
impl PartialOrd for Waiting {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Waiting {
    fn cmp(&self, other: &Self) -> Ordering {
        self.value
            .total_cmp(&other.value)
            .then_with(|| other.list.cmp(&self.list))
            .then_with(|| other.position.cmp(&self.position))
    }
}

struct Deviation {
    list: usize,
    position: usize,
    before: Option<usize>,
}

/// The `limit` largest products, largest first, of lists of positive numbers sorted downwards.
///
/// A frontier of candidates in which each one has a single predecessor, so that nothing is seen
/// twice: lists are taken in order of the loss from their best to their second; a candidate leads to
/// the next position in its last list, to a first step in the following list, and to that step
/// instead of its own first one. Cost O(sum n log n + limit log limit). Same family as lazy k-best
/// search (Huang & Chiang 2005, from memory).
pub(super) fn largest(lists: &[Vec<f64>], limit: usize) -> Vec<Product> {
    if limit == 0 || lists.iter().any(Vec::is_empty) {
        return Vec::new();
    }
    let mut open: Vec<usize> = (0..lists.len()).filter(|i| lists[*i].len() > 1).collect();
    let second = |i: usize| lists[i][1] / lists[i][0];
    open.sort_by(|a, b| second(*b).total_cmp(&second(*a)));
    let best: f64 = lists.iter().map(|l| l[0]).product();
    let mut found = vec![Product { at: vec![0; lists.len()], value: best }];
    let Some(first) = open.first() else { return found };

    let mut steps: Vec<Deviation> = Vec::new();
    let mut frontier = BinaryHeap::new();
    frontier.push(Waiting { value: best * second(*first), list: 0, position: 1, before: None });
    while found.len() < limit {
        let Some(Waiting { value, list, position, before }) = frontier.pop() else { break };
        let numbers = &lists[open[list]];
        found.push(trace(lists, &open, &steps, (list, position, before)));
        if let Some(next) = numbers.get(position + 1) {
            let value = value * (next / numbers[position]);
            frontier.push(Waiting { value, list, position: position + 1, before });
        }
        if let Some(following) = open.get(list + 1) {
            let step = value * second(*following);
            steps.push(Deviation { list, position, before });
            frontier.push(Waiting {
                value: step,
                list: list + 1,
                position: 1,
                before: Some(steps.len() - 1),
            });
            if position == 1 {
                let value = step * (numbers[0] / numbers[1]);
                frontier.push(Waiting { value, list: list + 1, position: 1, before });
            }
        }
    }
    found
}

type Candidate = (usize, usize, Option<usize>);

fn trace(lists: &[Vec<f64>], open: &[usize], steps: &[Deviation], candidate: Candidate) -> Product {
    let (list, position, mut before) = candidate;
    let mut at = vec![0; lists.len()];
    at[open[list]] = position;
    while let Some(step) = before.and_then(|i| steps.get(i)) {
        at[open[step.list]] = step.position;
        before = step.before;
    }
    // Formed anew: the running value has gone through many divisions.
    let value = at.iter().zip(lists).map(|(i, l)| l[*i]).product();
    Product { at, value }
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
                prop_assert!((a.value - b.value).abs() <= 1e-12 * b.value, "{} {}", a.value, b.value);
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
