//! Genotypes to start from that fit everything known: a search that strikes out, after each choice,
//! what no table allows any more, and goes back where nothing is left.
//!
//! Complete: if it ends without a find there is none. Starting states for pedigrees with loops:
//! Abraham, Totir & Fernando (2007) discuss why plain dropping of genes fails.

use super::random::SplitMix;
use super::table::{Table, strides};
use crate::linkage::{Mask, states_in};

/// Choices tried before the search gives up.
const PATIENCE: usize = 200_000;

/// What a search came to.
pub(super) enum Start {
    /// A state for every unknown.
    Found(Vec<u16>),
    /// Nothing fits.
    None,
    /// Neither after [`PATIENCE`] choices.
    GaveUp,
}

struct Search<'a> {
    tables: &'a [Table],
    strides: Vec<Vec<u32>>,
    sizes: &'a [u16],
    of: Vec<Vec<usize>>,
}

pub(super) fn find(sizes: &[u16], tables: &[Table], seeds: &mut SplitMix) -> Start {
    let mut of: Vec<Vec<usize>> = vec![Vec::new(); sizes.len()];
    for (at, table) in tables.iter().enumerate() {
        table.scope.iter().for_each(|u| of[*u as usize].push(at));
    }
    let strides = tables.iter().map(|table| strides(&table.scope, sizes)).collect();
    Search { tables, strides, sizes, of }.run(seeds)
}

impl Search<'_> {
    fn run(&self, seeds: &mut SplitMix) -> Start {
        let whole = |size: &u16| if *size >= 128 { Mask::MAX } else { (1 << *size) - 1 };
        let mut left: Vec<Mask> = self.sizes.iter().map(whole).collect();
        if !self.strike_out(&mut left, (0..self.tables.len()).collect()) {
            return Start::None;
        }
        // What was left before each choice, and what was chosen.
        let mut trail: Vec<(Vec<Mask>, usize, Mask)> = Vec::new();
        for _ in 0..PATIENCE {
            let open: Vec<usize> = (0..left.len()).filter(|u| left[*u].count_ones() > 1).collect();
            if open.is_empty() {
                let state = |mask: &Mask| u16::try_from(mask.trailing_zeros()).unwrap_or(0);
                return Start::Found(left.iter().map(state).collect());
            }
            let unknown = open[seeds.below(open.len())];
            let states: Vec<usize> = states_in(left[unknown]).collect();
            let chosen = 1 << states[seeds.below(states.len())];
            trail.push((left.clone(), unknown, chosen));
            left[unknown] = chosen;
            let mut fits = self.strike_out(&mut left, self.of[unknown].clone());
            while !fits {
                let Some((before, unknown, chosen)) = trail.pop() else { return Start::None };
                left = before;
                left[unknown] &= !chosen;
                fits = left[unknown] != 0 && self.strike_out(&mut left, self.of[unknown].clone());
            }
        }
        Start::GaveUp
    }

    // Whether every unknown keeps a state.
    fn strike_out(&self, left: &mut [Mask], mut waiting: Vec<usize>) -> bool {
        let mut is_waiting = vec![false; self.tables.len()];
        waiting.iter().for_each(|at| is_waiting[*at] = true);
        while let Some(at) = waiting.pop() {
            is_waiting[at] = false;
            let allowed = self.allowed(at, left);
            for (unknown, mask) in self.tables[at].scope.iter().zip(allowed) {
                let mine = &mut left[*unknown as usize];
                if *mine & mask == *mine {
                    continue;
                }
                *mine &= mask;
                if *mine == 0 {
                    return false;
                }
                for other in &self.of[*unknown as usize] {
                    if !std::mem::replace(&mut is_waiting[*other], true) {
                        waiting.push(*other);
                    }
                }
            }
        }
        true
    }

    // States of each unknown of a table that go with states left to the others.
    fn allowed(&self, at: usize, left: &[Mask]) -> Vec<Mask> {
        let (table, strides) = (&self.tables[at], &self.strides[at]);
        let mut allowed = vec![0; table.scope.len()];
        for (entry, number) in (0_u32..).zip(&table.numbers) {
            if *number <= 0.0 {
                continue;
            }
            let state =
                |i: usize| entry / strides[i] % u32::from(self.sizes[table.scope[i] as usize]);
            let n = table.scope.len();
            if (0..n).all(|i| left[table.scope[i] as usize] >> state(i) & 1 == 1) {
                (0..n).for_each(|i| allowed[i] |= 1 << state(i));
            }
        }
        allowed
    }
}
