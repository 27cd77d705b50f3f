//! One pass inwards, one pass outwards.

use super::Unanswered;
use super::cliques::Cliques;
use super::network::Network;
use super::order::Order;
use super::table::{Lie, MOST_DIMENSIONS, largest, plus, rescale, times, total};
use crate::pedigree::{NOBODY, Pedigree};

/// Messages that may meet in a table before it is scaled anew: each has 1 as its largest number, but
/// many that disagree leave little of each other.
const PARTS_UNSCALED: u32 = 16;

/// Numbers of a table from which its parts are joined in smaller ones first.
const JOINED_FROM: usize = 1 << 10;

/// Room for the tables of a run, so that the next run need not ask for it anew.
#[derive(Clone, Debug, Default)]
pub(super) struct Room {
    numbers: Vec<f64>,
    up: Vec<f64>,
    down: Vec<f64>,
    lie: Lie,
}

/// Room for the chances of a few unknowns.
#[derive(Default)]
pub(super) struct Scratch {
    lie: Lie,
    chances: Vec<f64>,
}

/// The tables of [`Cliques`], the first unknown of each outermost. After both passes each holds the
/// joint chances of its animals.
pub(super) struct Calibrated<'a> {
    network: &'a Network,
    order: &'a Order,
    cliques: Cliques,
    starts: Vec<usize>,
    up_starts: Vec<usize>,
    /// Tables, and what each handed on inwards over those it shares with the one above.
    room: &'a mut Room,
    /// The largest number of each inward message before it was scaled to 1.
    most: Vec<f64>,
    /// The smallest table in which each unknown stands.
    smallest: Vec<u32>,
    log: f64,
}

impl<'a> Calibrated<'a> {
    pub(super) fn new(
        network: &'a Network,
        order: &'a Order,
        room: &'a mut Room,
    ) -> Result<Self, Unanswered> {
        Self::over(network, order, Cliques::new(network, order, JOINED_FROM), room)
    }

    pub(super) fn over(
        network: &'a Network,
        order: &'a Order,
        cliques: Cliques,
        room: &'a mut Room,
    ) -> Result<Self, Unanswered> {
        let n = cliques.all().len();
        let (mut starts, mut up_starts) = (Vec::with_capacity(n + 1), Vec::with_capacity(n + 1));
        starts.push(0);
        up_starts.push(0);
        for table in cliques.all() {
            let over = |of: &[u32]| of.iter().map(|u| network.size(*u)).product::<usize>();
            starts.push(starts[table] + over(cliques.scope(table)));
            up_starts.push(up_starts[table] + over(cliques.shared(table)));
        }
        room.numbers.resize(starts[n].max(room.numbers.len()), 0.0);
        room.up.resize(up_starts[n].max(room.up.len()), 0.0);
        let mut tree = Self {
            network,
            order,
            cliques,
            starts,
            up_starts,
            room,
            most: vec![1.0; n],
            smallest: Vec::new(),
            log: network.log_settled,
        };
        tree.inwards()?;
        tree.outwards();
        tree.find_smallest();
        Ok(tree)
    }

    pub(super) const fn log_likelihood(&self) -> f64 {
        self.log
    }

    /// Joint chances of the unknowns of a table.
    pub(super) fn table(&self, table: usize) -> &[f64] {
        &self.room.numbers[self.starts[table]..self.starts[table + 1]]
    }

    fn inwards(&mut self) -> Result<(), Unanswered> {
        let (network, cliques) = (self.network, &self.cliques);
        let Room { numbers, up, lie, .. } = &mut *self.room;
        // Where a table has its first part, the part is written; later ones are multiplied in.
        let mut parts = vec![0_u32; self.most.len()];
        for table in cliques.all() {
            let (below, above) = numbers.split_at_mut(self.starts[table + 1]);
            let own = &mut below[self.starts[table]..];
            for factor in cliques.factors(table) {
                let factor = &network.factors.all[*factor as usize];
                lay(lie, network, cliques.scope(table), factor.scope());
                lie.put(own, &network.factors.numbers[factor.range()], parts[table] == 0);
                parts[table] += 1;
            }
            if parts[table] == 0 {
                own.fill(1.0);
            }
            let up = &mut up[self.up_starts[table]..self.up_starts[table + 1]];
            let mut blocks = own.chunks_exact(up.len());
            if let Some(first) = blocks.next() {
                up.copy_from_slice(first);
            }
            blocks.for_each(|block| plus(up, block));
            let most = largest(up);
            if most <= 0.0 {
                return Err(Unanswered::Impossible { near: Vec::new() });
            }
            let scale = 1.0 / most;
            up.iter_mut().for_each(|u| *u *= scale);
            self.most[table] = most;
            self.log += most.ln();
            let Some(to) = cliques.above(table) else { continue };
            let shift = self.starts[table + 1];
            let whole = &mut above[self.starts[to] - shift..self.starts[to + 1] - shift];
            lay(lie, network, cliques.scope(to), cliques.shared(table));
            lie.put(whole, up, parts[to] == 0);
            parts[to] += 1;
            if parts[to].is_multiple_of(PARTS_UNSCALED) {
                self.log += rescale(whole);
            }
        }
        Ok(())
    }

    fn outwards(&mut self) {
        let (network, cliques) = (self.network, &self.cliques);
        let Room { numbers, up, down, lie } = &mut *self.room;
        for table in cliques.all().rev() {
            let (below, above) = numbers.split_at_mut(self.starts[table + 1]);
            let own = &mut below[self.starts[table]..];
            let up = &up[self.up_starts[table]..self.up_starts[table + 1]];
            let scale = 1.0 / self.most[table];
            let Some(from) = cliques.above(table) else {
                own.iter_mut().for_each(|x| *x *= scale);
                continue;
            };
            down.clear();
            down.resize(up.len(), 0.0);
            let shift = self.starts[table + 1];
            let whole = &above[self.starts[from] - shift..self.starts[from + 1] - shift];
            lay(lie, network, cliques.scope(from), cliques.shared(table));
            lie.sum(whole, down);
            // Where the animal said "impossible" inwards, the whole says so too: 0 / 0 is 0.
            for (d, u) in down.iter_mut().zip(up) {
                let told = *d * scale / u;
                *d = if *u > 0.0 { told } else { 0.0 };
            }
            own.chunks_exact_mut(up.len()).for_each(|block| times(block, down));
        }
    }

    fn find_smallest(&mut self) {
        let mut smallest = vec![0; self.order.sequence.len()];
        let mut least = vec![usize::MAX; smallest.len()];
        for (table, number) in self.cliques.all().zip(0_u32..) {
            let size = self.starts[table + 1] - self.starts[table];
            for unknown in self.cliques.scope(table) {
                let at = *unknown as usize;
                if size < least[at] {
                    (smallest[at], least[at]) = (number, size);
                }
            }
        }
        self.smallest = smallest;
    }

    /// The table that took in what a table handed on.
    pub(super) fn above(&self, table: usize) -> Option<usize> {
        self.cliques.above(table)
    }

    /// The unknowns that a table has in common with the one above it.
    pub(super) fn shared(&self, table: usize) -> &[u32] {
        self.cliques.shared(table)
    }

    /// How many numbers a table over these unknowns has.
    pub(super) fn numbers_over(&self, of: &[u32]) -> usize {
        of.iter().map(|u| self.network.size(*u)).product()
    }

    /// A small table in which one unknown stands, or two of a family.
    pub(super) fn home(&self, of: &[u32]) -> usize {
        // Who has one kind only stands with nobody.
        let mut open = of.iter().filter(|u| self.network.size(**u) > 1);
        let one = match (open.next(), open.next()) {
            (Some(one), Some(other)) => return self.home_of_two([*one, *other]),
            (Some(one), None) => one,
            _ => &of[0],
        };
        self.smallest[*one as usize] as usize
    }

    // A family is bound where the first of them goes, or where parts are joined for that.
    fn home_of_two(&self, of: [u32; 2]) -> usize {
        let first = of.iter().min_by_key(|u| self.order.position[**u as usize]);
        let around = self.cliques.around(*first.unwrap_or(&of[0]));
        let holds = |table: &usize| of.iter().all(|u| self.cliques.scope(*table).contains(u));
        let size = |table: &usize| self.starts[table + 1] - self.starts[*table];
        around.filter(holds).min_by_key(size).unwrap_or(0)
    }

    /// Chances of one or two unknowns of a family, in their own order.
    pub(super) fn marginal<'b>(&self, scratch: &'b mut Scratch, of: &[u32]) -> &'b [f64] {
        let Scratch { lie, chances } = scratch;
        chances.clear();
        if of.is_empty() {
            chances.push(1.0);
            return chances;
        }
        let table = self.home(of);
        chances.resize(self.numbers_over(of), 0.0);
        self.lay(lie, table, of);
        lie.sum(self.table(table), chances);
        let scale = 1.0 / total(chances);
        chances.iter_mut().for_each(|x| *x *= scale);
        self.network.over_states(of, chances);
        chances
    }

    /// Lays a table over `of`, in any order, in one of the tables.
    pub(super) fn lay(&self, lie: &mut Lie, table: usize, of: &[u32]) {
        lay(lie, self.network, self.cliques.scope(table), of);
    }

    /// Fills in the breeders.
    pub(super) fn write_breeders(&self, pedigree: &Pedigree, chances: &mut [f64]) {
        let states = chances.len() / pedigree.len().max(1);
        let mut scratch = Scratch::default();
        for (breeder, animal) in (0_u32..).zip(pedigree.breeders()) {
            let from = *animal as usize * states;
            let out = &mut chances[from..from + states];
            let domain = self.network.domain(breeder);
            let unknown = self.network.unknown_of[breeder as usize];
            if unknown == NOBODY {
                out[usize::from(domain[0])] = 1.0;
                continue;
            }
            for (state, p) in domain.iter().zip(self.marginal(&mut scratch, &[unknown])) {
                out[usize::from(*state)] = *p;
            }
        }
    }
}

// Both scopes mostly go the same way, so each unknown is looked for behind the last one found.
fn lay(lie: &mut Lie, network: &Network, scope: &[u32], of: &[u32]) {
    let mut stride_of = [0; MOST_DIMENSIONS];
    let mut stride = 1;
    for (cell, unknown) in stride_of.iter_mut().zip(of).rev() {
        *cell = stride;
        stride *= network.size(*unknown);
    }
    let mut next = 0;
    lie.lay(scope.iter().map(|unknown| {
        let is_next = of.get(next) == Some(unknown);
        let found = if is_next { Some(next) } else { of.iter().position(|u| u == unknown) };
        let stride = found.map_or(0, |at| stride_of[at]);
        next = found.map_or(next, |at| at + 1);
        (network.size(*unknown), stride)
    }));
}
