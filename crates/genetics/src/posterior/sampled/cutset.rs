//! Which unknowns to hold fixed, so that the others can be drawn together.
//!
//! Several cutsets take turns. Within one all free unknowns are drawn jointly, so what matters is
//! who is *never* free together: two animals that force each other's genotype and are never free at
//! once would be stuck for ever. Later cutsets therefore spare the tables that no cutset has left
//! whole so far, and go on until every table is whole in one of them or there are [`MOST`].

use super::graph::Graph;
use super::random::SplitMix;

/// Fewest cutsets, where any is needed.
const FEWEST: usize = 8;
/// Most cutsets.
const MOST: usize = 16;

/// Cutsets as marks on the unknowns, such that no table over the free ones has more than `cap`
/// numbers. One without marks if nobody need be held.
pub(super) fn choose(
    sizes: &[u16],
    scopes: &[&[u32]],
    cap: u64,
    seeds: &mut SplitMix,
) -> Vec<Vec<bool>> {
    let whole = Graph::new(sizes, scopes.iter().copied());
    let first = cut(whole.clone(), cap, &vec![false; sizes.len()]);
    if !first.contains(&true) {
        return vec![first];
    }
    let mut cutsets = vec![first];
    let mut open: Vec<&[u32]> = scopes.to_vec();
    while cutsets.len() < MOST {
        let last = &cutsets[cutsets.len() - 1];
        open.retain(|scope| scope.iter().any(|u| last[*u as usize]));
        if open.is_empty() && cutsets.len() >= FEWEST {
            break;
        }
        let spared = spare(if open.is_empty() { scopes } else { &open }, sizes.len(), seeds);
        cutsets.push(cut(whole.clone(), cap, &spared));
    }
    // Who would never move gets a cutset that spares it; alone, its table is small enough.
    while let Some(stuck) = (0..sizes.len()).find(|u| cutsets.iter().all(|cut| cut[*u])) {
        let spared: Vec<bool> = (0..sizes.len()).map(|u| u == stuck).collect();
        cutsets.push(cut(whole.clone(), cap.max(u64::from(sizes[stuck])), &spared));
    }
    cutsets
}

// Marks whole scopes, at random, until half of the unknowns are marked.
fn spare(scopes: &[&[u32]], n: usize, seeds: &mut SplitMix) -> Vec<bool> {
    let mut scopes = scopes.to_vec();
    let (mut spared, mut count) = (vec![false; n], 0);
    while count * 2 < n && !scopes.is_empty() {
        let scope = scopes.swap_remove(seeds.below(scopes.len()));
        for unknown in scope {
            count += usize::from(!std::mem::replace(&mut spared[*unknown as usize], true));
        }
    }
    spared
}

// Greedy: sums out what is cheap, and when nothing is, holds the one that is bound to most others,
// a spared one only if no other is left.
fn cut(mut graph: Graph, cap: u64, spared: &[bool]) -> Vec<bool> {
    let mut is_cut = vec![false; spared.len()];
    while let Some((weight, cheapest)) = graph.cheapest() {
        if weight <= cap {
            graph.sum_out(cheapest);
            continue;
        }
        let bound = |u: &u32| (!spared[*u as usize], graph.around(*u).len());
        let Some(victim) = graph.left().max_by_key(bound) else { break };
        graph.condition(victim);
        is_cut[victim as usize] = true;
    }
    is_cut
}
