//! States of an unknown that nothing tells apart but a constant.
//!
//! A parent of plain young may hold a plain allele beside any of several visible ones that it did not
//! pass on: in every table it stands in, these states differ by one factor only. They are one *kind*,
//! which stands in the tables once with the weights of all its states together; in the end its
//! chances are parted among them by these weights. Nothing is lost. (Alleles that the data cannot
//! tell apart were first drawn together by O'Connell & Weeks 1995, Nat Genet 11:402, from memory;
//! here it is read off the tables, whatever they stand for.)
//!
//! Hazard: two animals at once hang on the state itself where one is a parent of the other or both have
//! the same parent, so their joint chances are taken from tables over states.

use super::factor::Factor;
use super::network::Network;
use super::table::times;

/// Proportional but for rounding: a few units in the last place.
const ROUNDING: f64 = 4.0 * f64::EPSILON;

/// The states of all breeders as kinds, in the order of their domains.
#[derive(Default)]
pub(super) struct Kinds {
    pub(super) of: Vec<u16>,
    /// Share of each state in the chances of its kind.
    pub(super) shares: Vec<f64>,
}

/// The states of one unknown.
struct Parted {
    kind_of: Vec<u16>,
    /// How many times its kind's first state each state is, times what is known of it alone.
    weights: Vec<f64>,
    firsts: Vec<usize>,
}

impl Network {
    /// The same with states drawn together into kinds; none where each is a kind of its own.
    pub(super) fn by_kinds(&self) -> Option<Self> {
        let mut standing: Vec<Vec<&Factor>> = vec![Vec::new(); self.breeder_of.len()];
        for factor in &self.factors.all {
            factor.scope().iter().for_each(|u| standing[*u as usize].push(factor));
        }
        let parted: Vec<Parted> =
            (0_u32..).zip(&standing).map(|(u, standing)| Parted::of(self, u, standing)).collect();
        if parted.iter().all(|parted| parted.firsts.len() == parted.kind_of.len()) {
            return None;
        }
        let mut network = self.bare();
        let mut kinds = Kinds { of: vec![0; self.states()], shares: vec![1.0; self.states()] };
        for (unknown, parted) in (0_u32..).zip(&parted) {
            let range = self.domain_range(self.breeder_of[unknown as usize]);
            let sums = parted.sums();
            kinds.of[range.clone()].copy_from_slice(&parted.kind_of);
            let states = parted.kind_of.iter().zip(&parted.weights);
            for (share, (kind, weight)) in kinds.shares[range].iter_mut().zip(states) {
                let sum = sums[usize::from(*kind)];
                *share = if sum > 0.0 { weight / sum } else { 0.0 };
            }
            network.resize(unknown, sums.len());
            let at = network.factors.numbers.len();
            network.factors.numbers.extend(sums);
            network.factors.close(at, &[unknown]);
        }
        for factor in self.factors.all.iter().filter(|factor| factor.scope().len() > 1) {
            network.keep_firsts(self, factor, &parted);
        }
        network.kinds = Some(kinds);
        Some(network)
    }

    /// Takes in a table of another network with the first state of each kind only.
    fn keep_firsts(&mut self, from: &Self, factor: &Factor, parted: &[Parted]) {
        let (mut places, mut scope) = (vec![0], Vec::new());
        for unknown in factor.scope() {
            let size = from.size(*unknown);
            let firsts = &parted[*unknown as usize].firsts;
            let along = |place| firsts.iter().map(move |first| place * size + first);
            places = places.into_iter().flat_map(along).collect::<Vec<usize>>();
            if firsts.len() > 1 {
                scope.push(*unknown);
            }
        }
        let at = self.factors.numbers.len();
        let numbers = from.numbers(factor);
        self.factors.numbers.extend(places.into_iter().map(|place| numbers[place]));
        if scope.is_empty() {
            self.log_settled += self.factors.numbers[at].ln();
            self.factors.numbers.truncate(at);
        } else {
            self.factors.close(at, &scope);
        }
    }

    fn numbers(&self, factor: &Factor) -> &[f64] {
        &self.factors.numbers[factor.range()]
    }

    /// Makes a table over the kinds of some unknowns one over their states.
    pub(super) fn over_states(&self, of: &[u32], table: &mut Vec<f64>) {
        let Some(kinds) = &self.kinds else { return };
        for (at, unknown) in of.iter().enumerate() {
            let range = self.domain_range(self.breeder_of[*unknown as usize]);
            let states = kinds.of[range.clone()].iter().zip(&kinds.shares[range]);
            // Those before are states already, and the table says how many.
            let inner: usize = of[at + 1..].iter().map(|u| self.size(*u)).product();
            let mut wider = Vec::new();
            for block in table.chunks_exact(self.size(*unknown) * inner) {
                for (kind, share) in states.clone() {
                    let row = &block[usize::from(*kind) * inner..][..inner];
                    wider.extend(row.iter().map(|p| p * share));
                }
            }
            *table = wider;
        }
    }
}

impl Parted {
    fn of(network: &Network, unknown: u32, factors: &[&Factor]) -> Self {
        let n = network.size(unknown);
        let mut parted = Self { kind_of: Vec::new(), weights: Vec::new(), firsts: Vec::new() };
        for state in 0..n {
            let scale = |first: &usize| {
                let others = factors.iter().filter(|factor| factor.scope().len() > 1);
                let mut ratios = others.map(|f| ratio(network, f, unknown, (state, *first)));
                ratios.try_fold(1.0, |product, ratio| Some(product * ratio?))
            };
            let found = parted.firsts.iter().enumerate().find_map(|(k, f)| Some((k, scale(f)?)));
            let (kind, weight) = found.unwrap_or((parted.firsts.len(), 1.0));
            if kind == parted.firsts.len() {
                parted.firsts.push(state);
            }
            parted.kind_of.push(u16::try_from(kind).unwrap_or(u16::MAX));
            parted.weights.push(weight);
        }
        for own in factors.iter().filter(|factor| factor.scope().len() == 1) {
            times(&mut parted.weights, network.numbers(own));
        }
        parted
    }

    /// The weight of each kind.
    fn sums(&self) -> Vec<f64> {
        let mut sums = vec![0.0; self.firsts.len()];
        let states = self.kind_of.iter().zip(&self.weights);
        states.for_each(|(kind, weight)| sums[usize::from(*kind)] += weight);
        sums
    }
}

/// How many times the second state the first one is, all along a table; none where that differs.
fn ratio(network: &Network, factor: &Factor, unknown: u32, (a, b): (usize, usize)) -> Option<f64> {
    let scope = factor.scope();
    let at = scope.iter().position(|u| *u == unknown)?;
    let inner: usize = scope[at + 1..].iter().map(|u| network.size(*u)).product();
    let blocks = network.numbers(factor).chunks_exact(network.size(unknown) * inner);
    let pairs = blocks
        .flat_map(|block| block[a * inner..][..inner].iter().zip(&block[b * inner..][..inner]));
    let mut found = None;
    for (x, y) in pairs {
        if *x == 0.0 && *y == 0.0 {
            continue;
        }
        let ratio = *found.get_or_insert(x / y);
        // Zero beside a number gives a ratio of 0 or none, which no other number bears out.
        if *x <= 0.0 || *y <= 0.0 || (x - ratio * y).abs() > ROUNDING * x {
            return None;
        }
    }
    Some(found.unwrap_or(1.0))
}
