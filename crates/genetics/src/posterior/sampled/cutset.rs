//! Which unknowns to hold fixed, so that the others can be drawn together.
//!
//! Several cutsets take turns. Within one all free unknowns are drawn jointly, so what matters is
//! who is *never* free together: two animals that force each other's genotype and are never free at
//! once would be stuck for ever. Later cutsets therefore spare the tables that no cutset has left
//! whole so far, and go on until every table is whole in one of them or there are [`MOST`].

use std::cmp::Reverse;

use super::graph::Graph;
use crate::posterior::split_mix::SplitMix;

/// Fewest cutsets, where any is needed: more of them reach more of what must change together.
const FEWEST: usize = 8;
/// Most cutsets, but for those without which somebody would never move.
const MOST: usize = 12;

/// Whom to hold last, if at all: the higher, the later.
type Spared = u8;

/// Cutsets as marks on the unknowns, such that no table over the free ones has more than `cap`
/// numbers. One without marks if nobody need be held.
pub(super) fn choose(
    sizes: &[u16],
    scopes: &[&[u32]],
    cap: u64,
    seeds: &mut SplitMix,
) -> Vec<Vec<bool>> {
    let whole = Graph::new(sizes, scopes.iter().copied());
    // Alone, everybody's table is small enough.
    let cap = sizes.iter().fold(cap, |cap, size| cap.max(u64::from(*size)));
    let first = cut(whole.clone(), cap, &vec![0; sizes.len()]);
    if !first.contains(&true) {
        return vec![first];
    }
    let mut stuck = first.clone();
    let mut cutsets = vec![first];
    let mut open: Vec<&[u32]> = scopes.to_vec();
    loop {
        let last = &cutsets[cutsets.len() - 1];
        open.retain(|scope| scope.iter().any(|u| last[*u as usize]));
        stuck.iter_mut().zip(last).for_each(|(stuck, is_cut)| *stuck &= is_cut);
        let never = stuck.iter().position(|stuck| *stuck);
        let enough = cutsets.len() >= FEWEST && open.is_empty() || cutsets.len() >= MOST;
        if enough && never.is_none() {
            return cutsets;
        }
        let mut spared = spare(if open.is_empty() { scopes } else { &open }, sizes.len(), seeds);
        spared.iter_mut().zip(&stuck).for_each(|(s, stuck)| *s = (*s).max(2 * u8::from(*stuck)));
        if let Some(never) = never {
            spared[never] = 3;
        }
        cutsets.push(cut(whole.clone(), cap, &spared));
    }
}

// Whole scopes, at random, until half of the unknowns are among them.
fn spare(scopes: &[&[u32]], n: usize, seeds: &mut SplitMix) -> Vec<Spared> {
    let mut scopes = scopes.to_vec();
    let (mut spared, mut count) = (vec![0; n], 0);
    while count * 2 < n && !scopes.is_empty() {
        let scope = scopes.swap_remove(seeds.below(scopes.len()));
        for unknown in scope {
            count += usize::from(std::mem::replace(&mut spared[*unknown as usize], 1) == 0);
        }
    }
    spared
}

// Greedy: sums out what is cheap, and when nothing is, holds the one that is bound to most others,
// a spared one only if no other is left.
fn cut(mut graph: Graph, cap: u64, spared: &[Spared]) -> Vec<bool> {
    let mut is_cut = vec![false; spared.len()];
    while let Some((weight, cheapest)) = graph.cheapest() {
        if weight <= cap {
            graph.sum_out(cheapest);
            continue;
        }
        let bound = |u: &u32| (Reverse(spared[*u as usize]), graph.around(*u).len());
        let Some(victim) = graph.left().max_by_key(bound) else { break };
        graph.condition(victim);
        is_cut[victim as usize] = true;
    }
    is_cut
}
