//! What is done in every sweep while one cutset is held, laid out once.

use super::graph::Graph;
use super::table::{Table, entries, n_entries, strides};

/// Tables that are cut are multiplied beforehand up to so many numbers: one look-up instead of many.
const MOST_HELD: usize = 512;

/// Unknowns with how far the table moves with one step of each.
pub(super) type Strides = Vec<(u32, u32)>;

/// Free unknowns in the order in which they are summed out, and who is asked for.
pub(super) struct Program {
    pub(super) steps: Vec<Step>,
    pub(super) asked: Vec<Asked>,
    /// Numbers of all tables, of all messages, of all slices.
    pub(super) lengths: [usize; 3],
}

/// Summing out one unknown. Its table lies over those summed out later that it stands with, then
/// itself, innermost.
pub(super) struct Step {
    pub(super) unknown: u32,
    pub(super) size: usize,
    pub(super) table: std::ops::Range<usize>,
    /// Its message to those later.
    pub(super) up: std::ops::Range<usize>,
    /// The product of what no cut unknown touches.
    pub(super) base: Vec<f64>,
    pub(super) slices: Vec<Slice>,
    pub(super) inputs: Vec<Input>,
    pub(super) later: Strides,
    /// The step of the first of those later, and for each number of its table the one of `up`.
    pub(super) above: Option<(usize, Vec<u32>)>,
}

/// A table that a cut unknown touches, cut unknowns outermost.
pub(super) struct Slice {
    pub(super) numbers: Vec<f64>,
    pub(super) cut: Strides,
    pub(super) to: std::ops::Range<usize>,
}

/// Something to multiply a table by.
pub(super) struct Input {
    pub(super) is_slice: bool,
    pub(super) from: std::ops::Range<usize>,
    /// For each number of the table the one of the input.
    pub(super) places: Vec<u32>,
}

/// Joint chances that are tallied in this program.
pub(super) struct Asked {
    pub(super) at: usize,
    /// The step whose table holds the free ones, and for each of its numbers the place.
    pub(super) free: Option<(usize, Vec<u32>)>,
    pub(super) cut: Strides,
}

struct Layout<'a> {
    sizes: &'a [u16],
    is_cut: &'a [bool],
    position: Vec<usize>,
    /// Of each step: those later, then the unknown itself.
    scopes: Vec<Vec<u32>>,
}

impl Program {
    /// `asks`: what to tally, each with where its numbers begin.
    pub(super) fn new(
        sizes: &[u16],
        tables: &[Table],
        is_cut: &[bool],
        asks: &[(Vec<u32>, usize)],
    ) -> Self {
        let layout = Layout::new(sizes, tables, is_cut);
        let mut program = Self { steps: Vec::new(), asked: Vec::new(), lengths: [0; 3] };
        for place in 0..layout.scopes.len() {
            let step = layout.step(place, &mut program.lengths);
            program.steps.push(step);
        }
        for (place, held) in layout.bind(tables, &mut program.steps).into_iter().enumerate() {
            for table in held {
                program.slice(&layout, place, &table);
            }
        }
        for place in 0..layout.scopes.len() {
            let Some((above, _)) = program.steps[place].above else { continue };
            let later = &layout.scopes[place][..layout.scopes[place].len() - 1];
            let places = entries(&layout.scopes[above], later, sizes);
            let from = program.steps[place].up.clone();
            program.steps[above].inputs.push(Input { is_slice: false, from, places });
        }
        program.asked = asks.iter().map(|(scope, at)| layout.asked(scope, *at)).collect();
        program
    }

    // Adds a table that is cut, its cut unknowns outermost.
    fn slice(&mut self, layout: &Layout<'_>, place: usize, table: &Table) {
        let (cut, free) = layout.split(&table.scope);
        let turned: Vec<u32> = cut.iter().chain(&free).copied().collect();
        let places = entries(&turned, &table.scope, layout.sizes);
        let numbers = places.iter().map(|at| table.numbers[*at as usize]).collect();
        let by = strides(&turned, layout.sizes);
        let from = self.lengths[2];
        self.lengths[2] += n_entries(&free, layout.sizes);
        let to = from..self.lengths[2];
        let places = entries(&layout.scopes[place], &free, layout.sizes);
        let step = &mut self.steps[place];
        step.inputs.push(Input { is_slice: true, from: to.clone(), places });
        step.slices.push(Slice { numbers, cut: cut.into_iter().zip(by).collect(), to });
    }
}

impl<'a> Layout<'a> {
    fn new(sizes: &'a [u16], tables: &[Table], is_cut: &'a [bool]) -> Self {
        let free = |u: &u32| !is_cut[*u as usize];
        let scopes: Vec<Vec<u32>> =
            tables.iter().map(|t| t.scope.iter().copied().filter(free).collect()).collect();
        let mut graph = Graph::new(sizes, scopes.iter().map(Vec::as_slice));
        let held = (0_u32..).zip(is_cut).filter(|(_, is_cut)| **is_cut);
        held.for_each(|(unknown, _)| graph.condition(unknown));
        let mut layout =
            Self { sizes, is_cut, position: vec![usize::MAX; sizes.len()], scopes: Vec::new() };
        while let Some((_, unknown)) = graph.cheapest() {
            layout.position[unknown as usize] = layout.scopes.len();
            let mut scope = graph.sum_out(unknown);
            scope.push(unknown);
            layout.scopes.push(scope);
        }
        layout
    }

    // Multiplies tables that are free into their steps; gives those that are cut, of each step.
    fn bind(&self, tables: &[Table], steps: &mut [Step]) -> Vec<Vec<Table>> {
        let mut held: Vec<Vec<Table>> = self.scopes.iter().map(|_| Vec::new()).collect();
        let mut tables: Vec<(&Table, Vec<u32>, Vec<u32>)> = tables
            .iter()
            .map(|table| {
                let (cut, free) = self.split(&table.scope);
                (table, cut, free)
            })
            .collect();
        tables.sort_by_key(|(_, _, free)| std::cmp::Reverse(free.len()));
        for (table, cut, free) in tables {
            let Some(place) = free.iter().map(|u| self.position[*u as usize]).min() else {
                continue;
            };
            if cut.is_empty() {
                let places = entries(&self.scopes[place], &table.scope, self.sizes);
                let base = steps[place].base.iter_mut().zip(places);
                base.for_each(|(b, at)| *b *= table.numbers[at as usize]);
            } else {
                self.hold(&mut held[place], table, &free);
            }
        }
        held
    }

    // Into one that has all its free unknowns, if that does not grow too large.
    fn hold(&self, held: &mut Vec<Table>, table: &Table, free: &[u32]) {
        for other in held.iter_mut().filter(|o| free.iter().all(|u| o.scope.contains(u))) {
            let more = table.scope.iter().filter(|u| !other.scope.contains(u));
            let union: Vec<u32> = other.scope.iter().chain(more).copied().collect();
            if n_entries(&union, self.sizes) <= MOST_HELD {
                let mut both = Table::even(union, self.sizes);
                both.multiply(other, self.sizes);
                both.multiply(table, self.sizes);
                *other = both;
                return;
            }
        }
        held.push(table.clone());
    }

    fn split(&self, scope: &[u32]) -> (Vec<u32>, Vec<u32>) {
        scope.iter().partition(|u| self.is_cut[**u as usize])
    }

    fn step(&self, place: usize, lengths: &mut [usize; 3]) -> Step {
        let scope = &self.scopes[place];
        let (unknown, later) = scope.split_last().map_or((0, &[][..]), |(u, later)| (*u, later));
        let table = lengths[0]..lengths[0] + n_entries(scope, self.sizes);
        let up = lengths[1]..lengths[1] + n_entries(later, self.sizes);
        (lengths[0], lengths[1]) = (table.end, up.end);
        let above = later.iter().map(|u| self.position[*u as usize]).min();
        Step {
            unknown,
            size: usize::from(self.sizes[unknown as usize]),
            base: vec![1.0; table.len()],
            table,
            up,
            slices: Vec::new(),
            inputs: Vec::new(),
            later: later.iter().copied().zip(strides(later, self.sizes)).collect(),
            above: above.map(|at| (at, entries(&self.scopes[at], later, self.sizes))),
        }
    }

    fn asked(&self, scope: &[u32], at: usize) -> Asked {
        let (_, free) = self.split(scope);
        let by = scope.iter().copied().zip(strides(scope, self.sizes));
        let first = free.iter().map(|u| self.position[*u as usize]).min();
        Asked {
            at,
            free: first.map(|place| (place, entries(&self.scopes[place], scope, self.sizes))),
            cut: by.filter(|(u, _)| self.is_cut[*u as usize]).collect(),
        }
    }
}
