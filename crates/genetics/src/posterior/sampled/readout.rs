//! From the joint chances that are tallied to those of every animal: all of it is linear, so it is
//! done once for a batch, on means.

use super::Given;
use super::asks::Asks;
use super::lanes::{Lanes, add, add_times, all};
use super::peel::Peeled;
use super::table::{entries, n_entries};
use crate::pedigree::{Family, NOBODY};
use crate::posterior::network::Network;
use crate::posterior::row_tables::is_alone;

/// Steps from tallied numbers to those of animals, all in one list of numbers.
pub(super) struct Readout<'a> {
    given: Given<'a>,
    steps: Vec<Step>,
    asked: Vec<std::ops::Range<usize>>,
    len: usize,
    outputs: usize,
    /// Where each unknown's chances stand among the outputs.
    of_unknown: Vec<usize>,
    /// Where the young of each family stand: one block for each row of [`RowTables::counts`].
    of_family: Vec<usize>,
}

enum Step {
    /// Sums a table into a smaller one.
    Sum { from: usize, places: Vec<u32>, to: usize },
    /// Chances given others, times those of the others.
    Spread { from: usize, given: Vec<f64>, size: usize, to: usize },
    /// Chances of young of one family and row, from the joint chances of their parents.
    Young { from: usize, family: usize, row: u32, to: usize },
}

struct Builder<'a> {
    given: Given<'a>,
    sizes: &'a [u16],
    asks: &'a Asks,
    steps: Vec<Step>,
    len: usize,
    /// For each unknown that was peeled: its turn, where its table begins, and over what.
    tables: Vec<Option<(usize, usize, Vec<u32>)>>,
}

/// The sets that must be tallied.
pub(super) fn wanted(given: Given<'_>, peeled: &[Peeled], core: &[u32]) -> Vec<Vec<u32>> {
    let mut is_core = vec![false; given.network.breeder_of.len()];
    core.iter().for_each(|u| is_core[*u as usize] = true);
    let around = peeled.iter().map(|p| p.around.clone());
    let with_leaves = given.pedigree.families().iter().enumerate();
    let with_leaves = with_leaves.filter(|(at, _)| !given.rows.counts(*at).is_empty());
    let parents = with_leaves.map(|(_, family)| open_parents(given.network, family));
    let own = core.iter().map(|u| vec![*u]);
    let all = around.chain(parents).chain(own);
    all.filter(|scope| scope.iter().all(|u| is_core[*u as usize])).collect()
}

fn open_parents(network: &Network, family: &Family) -> Vec<u32> {
    let unknown = |b: u32| if b == NOBODY { NOBODY } else { network.unknown_of[b as usize] };
    [unknown(family.sire), unknown(family.dam)].into_iter().filter(|u| *u != NOBODY).collect()
}

impl<'a> Readout<'a> {
    pub(super) fn new(
        given: Given<'a>,
        sizes: &'a [u16],
        peeled: &[Peeled],
        asks: &'a Asks,
    ) -> Self {
        // The first number is the 1 that stands for nobody.
        let mut builder = Builder {
            given,
            sizes,
            asks,
            steps: Vec::new(),
            len: asks.len() + 1,
            tables: vec![None; sizes.len()],
        };
        for (turn, one) in peeled.iter().enumerate().rev() {
            builder.spread(turn, one);
        }
        let n_families = given.pedigree.families().len();
        let pairs: Vec<Option<usize>> = (0..n_families).map(|at| builder.parents(at)).collect();
        let outputs = builder.len;
        let unknowns = 0..u32::try_from(sizes.len()).unwrap_or(u32::MAX);
        let of_unknown = unknowns.map(|u| builder.sum(&[u], true) - outputs).collect();
        let families = pairs.into_iter().enumerate();
        let of_family = families.map(|(at, pair)| builder.young(at, pair) - outputs).collect();
        Self {
            given,
            steps: builder.steps,
            asked: asks.ranges().collect(),
            len: builder.len,
            outputs,
            of_unknown,
            of_family,
        }
    }

    /// Numbers that come out.
    pub(super) const fn n_outputs(&self) -> usize {
        self.len - self.outputs
    }

    /// Which of the numbers that come out rest on tallied ones; the others are exact.
    pub(super) fn rest_on_draws(&self) -> Vec<bool> {
        // What is not a number makes everything it touches not a number.
        let mut numbers = Vec::new();
        let unknown = vec![all(f64::NAN); self.asked.last().map_or(0, |range| range.end)];
        self.run(&unknown, &mut numbers).iter().map(|x| x[0].is_nan()).collect()
    }

    /// From sums of joint chances to chances of animals, which it hands over.
    pub(super) fn run<'b>(&self, sums: &[Lanes], numbers: &'b mut Vec<Lanes>) -> &'b [Lanes] {
        numbers.clear();
        numbers.resize(self.len, all(0.0));
        numbers[0] = all(1.0);
        for range in &self.asked {
            let sums = &sums[range.clone()];
            let mut total = all(0.0);
            sums.iter().for_each(|x| add(&mut total, x));
            for (number, sum) in numbers[1..][range.clone()].iter_mut().zip(sums) {
                *number = std::array::from_fn(|l| sum[l] / total[l]);
            }
        }
        self.steps.iter().for_each(|step| self.step(step, numbers));
        &numbers[self.outputs..]
    }

    fn step(&self, step: &Step, numbers: &mut [Lanes]) {
        match step {
            Step::Sum { from, places, to } => {
                let (before, rest) = numbers.split_at_mut(*to);
                let from = &before[*from..*from + places.len()];
                from.iter().zip(places).for_each(|(x, at)| add(&mut rest[*at as usize], x));
            }
            Step::Spread { from, given, size, to } => {
                let (before, rest) = numbers.split_at_mut(*to);
                let rows = given.chunks_exact(*size).zip(rest.chunks_exact_mut(*size));
                for (x, (given, out)) in before[*from..].iter().zip(rows) {
                    given.iter().zip(out).for_each(|(p, out)| add_times(out, x, *p));
                }
            }
            Step::Young { from, family, row, to } => {
                let (before, rest) = numbers.split_at_mut(*to);
                self.young(&before[*from..], (*family, *row), rest);
            }
        }
    }

    fn young(&self, pairs: &[Lanes], (family, row): (usize, u32), out: &mut [Lanes]) {
        let Given { pedigree, group, evidence, rows, network } = self.given;
        let family = &pedigree.families()[family];
        let weights = evidence.row(row);
        let alone = is_alone(family);
        let his = if alone { &[0][..] } else { network.domain(family.sire) };
        let mut pairs = pairs.iter();
        for sire in his.iter().map(|s| usize::from(*s)) {
            for dam in network.domain(family.dam).iter().map(|d| usize::from(*d)) {
                let Some(p) = pairs.next() else { return };
                let term = rows.term(row, alone, (sire, dam));
                if term <= 0.0 {
                    continue;
                }
                let young = if alone { group.young_alone(dam) } else { group.young(sire, dam) };
                for (state, q) in young {
                    let state = usize::from(*state);
                    add_times(&mut out[state], p, q * weights[state] / term);
                }
            }
        }
    }

    /// Hands over, for every state of every unknown animal, where among the numbers that come out
    /// its chance stands: (animal, state, place).
    pub(super) fn write(&self, mut to: impl FnMut(usize, usize, usize)) {
        let Given { pedigree, evidence, rows, network, .. } = self.given;
        for (breeder, animal) in (0_u32..).zip(pedigree.breeders()) {
            let domain = network.domain(breeder);
            let unknown = network.unknown_of[breeder as usize];
            for (at, state) in domain.iter().enumerate().filter(|_| unknown != NOBODY) {
                to(*animal as usize, usize::from(*state), self.of_unknown[unknown as usize] + at);
            }
        }
        let states = evidence.states();
        for (at, family) in pedigree.families().iter().enumerate() {
            for leaf in pedigree.leaves_of(family) {
                let own = evidence.rows_of()[*leaf as usize];
                let place = rows.counts(at).iter().position(|(row, _)| *row == own).unwrap_or(0);
                let from = self.of_family[at] + place * states;
                for state in 0..states {
                    to(*leaf as usize, state, from + state);
                }
            }
        }
    }
}

impl Builder<'_> {
    // The table that holds a set of unknowns: that of the first peeled, or one that is tallied.
    fn holding(&self, scope: &[u32]) -> (Vec<u32>, usize) {
        let peeled = scope.iter().filter_map(|u| self.tables[*u as usize].as_ref());
        match peeled.min_by_key(|(turn, _, _)| *turn) {
            Some((_, at, scope)) => (scope.clone(), *at),
            None => match self.asks.holding(scope) {
                Some((scope, at)) => (scope.to_vec(), at + 1),
                None => (Vec::new(), 0),
            },
        }
    }

    fn room(&mut self, n: usize) -> usize {
        self.len += n;
        self.len - n
    }

    fn sum(&mut self, scope: &[u32], is_output: bool) -> usize {
        let (whole, from) = self.holding(scope);
        if whole == scope && !is_output {
            return from;
        }
        let to = self.room(n_entries(scope, self.sizes));
        let places = entries(&whole, scope, self.sizes);
        self.steps.push(Step::Sum { from, places, to });
        to
    }

    fn spread(&mut self, turn: usize, one: &Peeled) {
        let from = self.sum(&one.around, false);
        let mut scope = one.around.clone();
        scope.push(one.unknown);
        let to = self.room(one.given.len());
        self.tables[one.unknown as usize] = Some((turn, to, scope));
        let size = usize::from(self.sizes[one.unknown as usize]);
        self.steps.push(Step::Spread { from, given: one.given.clone(), size, to });
    }

    fn parents(&mut self, family: usize) -> Option<usize> {
        let is_empty = self.given.rows.counts(family).is_empty();
        let open = open_parents(self.given.network, &self.given.pedigree.families()[family]);
        (!is_empty).then(|| self.sum(&open, false))
    }

    fn young(&mut self, family: usize, pair: Option<usize>) -> usize {
        let first = self.len;
        for (row, _) in self.given.rows.counts(family) {
            let Some(from) = pair else { continue };
            let to = self.room(self.given.evidence.states());
            self.steps.push(Step::Young { from, family, row: *row, to });
        }
        first
    }
}
