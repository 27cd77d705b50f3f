//! Genotypes to start from that fit everything known: a search that strikes out, after each choice,
//! what no table allows any more, and goes back where nothing is left.
//!
//! Complete: if it ends without a find there is none. Next is the unknown with few states left in
//! tables that failed often (Boussemart, Hemery, Lecoutre & Sais 2004, from memory), and the search
//! begins anew, with longer and longer patience, keeping what it learnt of failures. Why plain
//! dropping of genes fails with loops: Abraham, Totir & Fernando (2007).

use super::table::{Table, strides};
use crate::linkage::{Mask, states_in};
use crate::posterior::split_mix::SplitMix;

/// Failures before the first new beginning; each time half as many more.
const FIRST_PATIENCE: usize = 100;
/// Failures before the search gives up for good.
const PATIENCE: usize = 50_000;

/// What a search came to.
pub(super) enum Start {
    /// A state for every unknown.
    Found(Vec<u16>),
    /// Nothing fits.
    None,
    /// Neither, after many failures.
    GaveUp,
}

/// Searches over the same tables.
pub(super) struct Search<'a> {
    tables: &'a [Table],
    strides: Vec<Vec<u32>>,
    sizes: &'a [u16],
    of: Vec<Vec<usize>>,
    /// How often each table left nothing.
    failures: Vec<u32>,
}

/// What was left before a choice, and what was chosen.
struct Choice {
    before: Vec<Mask>,
    unknown: usize,
    chosen: Mask,
}

impl<'a> Search<'a> {
    pub(super) fn new(sizes: &'a [u16], tables: &'a [Table]) -> Self {
        let mut of: Vec<Vec<usize>> = vec![Vec::new(); sizes.len()];
        for (at, table) in tables.iter().enumerate() {
            table.scope.iter().for_each(|u| of[*u as usize].push(at));
        }
        let strides = tables.iter().map(|table| strides(&table.scope, sizes)).collect();
        Self { tables, strides, sizes, of, failures: vec![1; tables.len()] }
    }

    /// A random start.
    pub(super) fn find(&mut self, seeds: &mut SplitMix) -> Start {
        let whole = |size: &u16| if *size >= 128 { Mask::MAX } else { (1 << *size) - 1 };
        let mut left: Vec<Mask> = self.sizes.iter().map(whole).collect();
        if !self.strike_out(&mut left, (0..self.tables.len()).collect()) {
            return Start::None;
        }
        let (mut patience, mut spent) = (FIRST_PATIENCE, 0);
        while spent < PATIENCE {
            match self.once(left.clone(), patience, seeds) {
                Start::GaveUp => (),
                done => return done,
            }
            spent += patience;
            patience += patience / 2;
        }
        Start::GaveUp
    }

    fn once(&mut self, mut left: Vec<Mask>, patience: usize, seeds: &mut SplitMix) -> Start {
        let mut trail: Vec<Choice> = Vec::new();
        let mut failures = 0;
        while let Some(unknown) = self.next(&left, seeds) {
            let states: Vec<usize> = states_in(left[unknown]).collect();
            let chosen = 1 << states[seeds.below(states.len())];
            trail.push(Choice { before: left.clone(), unknown, chosen });
            left[unknown] = chosen;
            let mut fits = self.strike_out(&mut left, self.of[unknown].clone());
            while !fits {
                failures += 1;
                let Some(last) = trail.pop() else { return Start::None };
                left = last.before;
                left[last.unknown] &= !last.chosen;
                fits = left[last.unknown] != 0
                    && self.strike_out(&mut left, self.of[last.unknown].clone());
            }
            if failures > patience {
                return Start::GaveUp;
            }
        }
        let state = |mask: &Mask| u16::try_from(mask.trailing_zeros()).unwrap_or(0);
        Start::Found(left.iter().map(state).collect())
    }

    // None where every unknown has one state.
    fn next(&self, left: &[Mask], seeds: &mut SplitMix) -> Option<usize> {
        let mut best: Option<(f64, usize)> = None;
        for unknown in (0..left.len()).filter(|u| left[*u].count_ones() > 1) {
            let failed: u32 = self.of[unknown].iter().map(|at| self.failures[*at]).sum();
            let fickle = 1.0 + f64::from(u8::try_from(seeds.below(64)).unwrap_or(0)) / 128.0;
            let score = f64::from(left[unknown].count_ones()) * fickle / f64::from(failed.max(1));
            if best.is_none_or(|(least, _)| score < least) {
                best = Some((score, unknown));
            }
        }
        best.map(|(_, unknown)| unknown)
    }

    // Whether every unknown keeps a state.
    fn strike_out(&mut self, left: &mut [Mask], mut waiting: Vec<usize>) -> bool {
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
                    self.failures[at] += 1;
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
        let n = table.scope.len();
        let mut allowed = vec![0; n];
        for (entry, number) in (0_u32..).zip(&table.numbers) {
            if *number <= 0.0 {
                continue;
            }
            let state = |i: usize| {
                let size = u32::from(self.sizes[table.scope[i] as usize]);
                entry / strides[i] % size
            };
            if (0..n).all(|i| left[table.scope[i] as usize] >> state(i) & 1 == 1) {
                (0..n).for_each(|i| allowed[i] |= 1 << state(i));
            }
        }
        allowed
    }
}
