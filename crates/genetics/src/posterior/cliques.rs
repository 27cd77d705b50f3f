//! Which tables there are and which hands on to which.
//!
//! Every unknown has the table in which it is summed out. Where such a table is large and many parts
//! meet in it, parts over few unknowns are first multiplied with each other in smaller tables of
//! their own (binary join trees: Shenoy 1997, Int J Approx Reason 17:239, from memory), so that few
//! passes go over the large one.

use super::network::Network;
use super::order::Order;

/// How many times smaller a table must be for parts to be joined in it.
const SMALLER: usize = 4;
/// Most unknowns of a table whose parts are joined.
const MOST_JOINED: usize = 64;

/// Stands for no table.
const NONE: u32 = u32::MAX;

/// Tables, those that hand on before those that take in.
pub(super) struct Cliques {
    starts: Vec<u32>,
    scopes: Vec<u32>,
    /// Whether the first unknown of each is summed out there; else nobody is.
    sums_out: Vec<bool>,
    above: Vec<u32>,
    factor_starts: Vec<u32>,
    factors: Vec<u32>,
    /// The table in which each unknown is summed out.
    last_of: Vec<u32>,
    /// The first of the tables that only join parts for the table at the end of their row.
    joins_from: Vec<u32>,
}

/// What goes into a table: a factor, or what a table hands on.
#[derive(Clone, Copy)]
enum Source {
    Factor(u32),
    Table(u32),
}

#[derive(Clone, Copy)]
struct Part {
    source: Source,
    /// Its unknowns as places in the scope of the table that it goes into.
    mask: u64,
    size: usize,
}

impl Cliques {
    /// Parts are joined for tables of `joined_from` numbers and more.
    pub(super) fn new(network: &Network, order: &Order, joined_from: usize) -> Self {
        let n = order.sequence.len();
        let by_place = ByPlace::new(network, order);
        let mut cliques = Self {
            starts: vec![0],
            scopes: Vec::with_capacity(4 * n),
            sums_out: Vec::with_capacity(n),
            above: Vec::with_capacity(n),
            factor_starts: vec![0],
            factors: Vec::with_capacity(network.factors.all.len()),
            last_of: vec![NONE; n],
            joins_from: Vec::with_capacity(n),
        };
        // Tables that hand on to the one of each place, as lists through `next`.
        let mut first = vec![NONE; n];
        let mut next: Vec<u32> = Vec::with_capacity(n);
        let (mut scope, mut parts) = (Vec::new(), Vec::new());
        for (place, unknown) in order.sequence.iter().enumerate() {
            scope.clear();
            scope.push(*unknown);
            scope.extend_from_slice(order.later(place));
            parts.clear();
            parts.extend(by_place.of(place).iter().map(|factor| Part::of(Source::Factor(*factor))));
            let mut table = first[place];
            while table != NONE {
                parts.push(Part::of(Source::Table(table)));
                table = next[table as usize];
            }
            let joins_from = cliques.len();
            let entries = scope.iter().map(|u| network.size(*u)).product::<usize>();
            if entries >= joined_from && scope.len() <= MOST_JOINED {
                cliques.join(network, &scope, &mut parts);
            }
            cliques.joins_from.resize(cliques.sums_out.len(), joins_from);
            let table = cliques.push(&scope, &parts, true);
            cliques.joins_from.push(joins_from);
            cliques.last_of[*unknown as usize] = table;
            next.resize(table as usize + 1, NONE);
            if let Some(later) = order.later(place).first() {
                let to = order.position[*later as usize] as usize;
                next[table as usize] = std::mem::replace(&mut first[to], table);
            }
        }
        cliques
    }

    fn push(&mut self, scope: &[u32], parts: &[Part], sums_out: bool) -> u32 {
        let table = self.len();
        self.scopes.extend_from_slice(scope);
        self.starts.push(narrow(self.scopes.len()));
        self.sums_out.push(sums_out);
        self.above.push(NONE);
        for part in parts {
            match part.source {
                Source::Factor(factor) => self.factors.push(factor),
                Source::Table(below) => self.above[below as usize] = table,
            }
        }
        self.factor_starts.push(narrow(self.factors.len()));
        table
    }

    /// Joins parts in tables of their own while that is worth it.
    fn join(&mut self, network: &Network, scope: &[u32], parts: &mut Vec<Part>) {
        let sizes: Vec<usize> = scope.iter().map(|u| network.size(*u)).collect();
        let whole: usize = sizes.iter().product();
        for part in parts.iter_mut() {
            let of = match part.source {
                Source::Factor(factor) => network.factors.all[factor as usize].scope(),
                Source::Table(table) => self.shared(table as usize),
            };
            let bit = |u: &u32| scope.iter().position(|v| v == u).map_or(0, |at| 1 << at);
            part.mask = of.iter().map(bit).sum();
            part.size = numbers(&sizes, part.mask);
        }
        // The smallest part goes with the one with which it makes the smallest table.
        let mut done = 0;
        while done + 1 < parts.len() {
            let open = parts[done..].iter().enumerate().min_by_key(|(_, part)| part.size);
            let Some((smallest, _)) = open else { return };
            parts.swap(done, done + smallest);
            let one = parts[done];
            let with = |(at, other): (usize, &Part)| (numbers(&sizes, one.mask | other.mask), at);
            let others = parts.iter().enumerate().filter(|(at, _)| *at != done);
            let Some((size, partner)) = others.map(with).min() else { return };
            if size.saturating_mul(SMALLER) > whole {
                done += 1;
                continue;
            }
            let mask = one.mask | parts[partner].mask;
            let unknowns: Vec<u32> = places(mask).map(|at| scope[at]).collect();
            let table = self.push(&unknowns, &[one, parts[partner]], false);
            let joined = Part { source: Source::Table(table), mask, size };
            parts[partner] = joined;
            // A partner that was set aside is open again.
            if partner < done {
                done -= 1;
                parts.swap(partner, done);
                parts.swap_remove(done + 1);
            } else {
                parts.swap_remove(done);
            }
        }
    }

    #[expect(clippy::cast_possible_truncation, reason = "there are fewer than 4 billion tables")]
    fn len(&self) -> u32 {
        self.sums_out.len() as u32
    }

    /// All tables, in order.
    pub(super) fn all(&self) -> std::ops::Range<usize> {
        0..self.sums_out.len()
    }

    /// The unknowns of a table: the one that is summed out there, then those summed out later,
    /// soonest first.
    pub(super) fn scope(&self, table: usize) -> &[u32] {
        &self.scopes[self.starts[table] as usize..self.starts[table + 1] as usize]
    }

    /// The unknowns that a table has in common with the one above it.
    pub(super) fn shared(&self, table: usize) -> &[u32] {
        &self.scope(table)[usize::from(self.sums_out[table])..]
    }

    /// The table that takes in what a table hands on.
    pub(super) fn above(&self, table: usize) -> Option<usize> {
        let above = self.above[table];
        (above != NONE).then_some(above as usize)
    }

    /// The factors that a table takes in.
    pub(super) fn factors(&self, table: usize) -> &[u32] {
        let range = self.factor_starts[table] as usize..self.factor_starts[table + 1] as usize;
        &self.factors[range]
    }

    /// The tables in which an unknown and those of one factor with it may stand together if it is
    /// the first of them to go: those that join parts, and the one in which it is summed out.
    pub(super) fn around(&self, unknown: u32) -> std::ops::RangeInclusive<usize> {
        let last = self.last_of[unknown as usize] as usize;
        self.joins_from[last] as usize..=last
    }
}

impl Part {
    const fn of(source: Source) -> Self {
        Self { source, mask: 0, size: 0 }
    }
}

fn places(mask: u64) -> impl Iterator<Item = usize> {
    let mut left = mask;
    std::iter::from_fn(move || {
        let at = left.trailing_zeros() as usize;
        left &= left.wrapping_sub(1);
        (at < 64).then_some(at)
    })
}

fn numbers(sizes: &[usize], mask: u64) -> usize {
    places(mask).map(|at| sizes[at]).product()
}

/// The factors by the place in the order of the first of their unknowns to go.
struct ByPlace {
    starts: Vec<u32>,
    factors: Vec<u32>,
}

impl ByPlace {
    fn new(network: &Network, order: &Order) -> Self {
        let first =
            |scope: &[u32]| scope.iter().map(|u| order.position[*u as usize]).min().unwrap_or(0);
        let mut starts = vec![0_u32; order.sequence.len() + 1];
        let places: Vec<u32> = network.factors.all.iter().map(|f| first(f.scope())).collect();
        places.iter().for_each(|place| starts[*place as usize + 1] += 1);
        for i in 1..starts.len() {
            starts[i] += starts[i - 1];
        }
        let mut next = starts.clone();
        let mut factors = vec![0; places.len()];
        for (factor, place) in (0_u32..).zip(&places) {
            factors[next[*place as usize] as usize] = factor;
            next[*place as usize] += 1;
        }
        Self { starts, factors }
    }

    fn of(&self, place: usize) -> &[u32] {
        &self.factors[self.starts[place] as usize..self.starts[place + 1] as usize]
    }
}

#[expect(clippy::cast_possible_truncation, reason = "scopes stay far below 4 billion unknowns")]
const fn narrow(x: usize) -> u32 {
    x as u32
}
