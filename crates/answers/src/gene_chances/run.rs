//! One locus of the whole colony: who is certain, who depends on whom.
//!
//! A node that can have one genotype only parts what is above it from what is below: its likelihood
//! belongs above, and to its young it is a founder of that genotype. So the colony falls into
//! components that are solved one by one; a component whose records did not change is not solved
//! again.

use std::collections::HashMap;
use std::sync::Arc;

use genetics::LinkageGroup;

use super::lineage::{Lineage, NOBODY, Parents, count};
use super::solve::{Member, Problem, Solved};

/// A set of states.
pub(super) type Mask = u128;

/// Where the answer for a node stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    /// It can only have this state.
    Certain(u8),
    /// In that component, as that member.
    In(u32, u32),
}

/// One locus with one set of parents and one recombination.
#[derive(Clone, Debug, Default)]
pub(super) struct Run {
    pub places: Vec<Place>,
    pub components: Vec<Arc<Solved>>,
    pub log_likelihood: f64,
    /// Nodes at which records clash.
    pub clash: Vec<usize>,
    /// Components too wide for an exact answer.
    pub too_wide: usize,
}

/// What a run reads.
pub(super) struct Colonies<'a> {
    pub lineage: &'a Lineage,
    /// The row of every node.
    pub rows: &'a [u32],
    /// The content of the rows.
    pub table: &'a RowTable,
    pub group: &'a LinkageGroup,
}

/// Rows by number; a number always means the same weights.
#[derive(Clone, Debug, Default)]
pub(super) struct RowTable {
    rows: Vec<Arc<[f64]>>,
    support: Vec<Mask>,
    known: HashMap<Vec<u64>, u32>,
}

impl RowTable {
    pub fn number(&mut self, row: &[f64]) -> u32 {
        let bits: Vec<u64> = row.iter().map(|w| w.to_bits()).collect();
        if let Some(number) = self.known.get(&bits) {
            return *number;
        }
        let number = count(self.rows.len());
        self.support.push(mask(row));
        self.rows.push(row.into());
        self.known.insert(bits, number);
        number
    }

    /// The row that leaves one state of `states`.
    pub fn only(&mut self, state: usize, states: usize) -> u32 {
        let row: Vec<f64> = (0..states).map(|s| f64::from(u8::from(s == state))).collect();
        self.number(&row)
    }

    pub fn row(&self, number: u32) -> &Arc<[f64]> {
        &self.rows[number as usize]
    }

    fn support(&self, number: u32) -> Mask {
        self.support[number as usize]
    }
}

fn mask(row: &[f64]) -> Mask {
    row.iter().enumerate().filter(|(_, w)| **w > 0.0).fold(0, |mask, (state, _)| mask | 1 << state)
}

/// Which states the young of two sets of states can have, found once for each pair of sets.
#[derive(Clone, Debug, Default)]
pub(super) struct YoungOf(HashMap<(Mask, Mask), Mask>);

impl YoungOf {
    fn get(&mut self, group: &LinkageGroup, sire: Mask, dam: Mask) -> Mask {
        *self.0.entry((sire, dam)).or_insert_with(|| {
            let mut all = 0;
            for s in states(sire) {
                for d in states(dam) {
                    group.young(s, d).iter().for_each(|(young, _)| all |= 1 << young);
                }
            }
            all
        })
    }
}

fn states(mask: Mask) -> impl Iterator<Item = usize> {
    (0..Mask::BITS as usize).filter(move |state| mask >> state & 1 == 1)
}

/// The one state of a set; none where it has several or none.
fn only(mask: Mask) -> Option<usize> {
    (mask.count_ones() == 1).then(|| mask.trailing_zeros() as usize)
}

/// Splits the colony and solves each component, or takes what `solve` knows of it.
pub(super) fn run(
    of: &Colonies<'_>,
    young_of: &mut YoungOf,
    only_rows: &[u32],
    solve: &mut dyn FnMut(Problem) -> Arc<Solved>,
) -> Run {
    let mut run = Run::default();
    let masks = possible(of, young_of, &mut run.clash);
    run.log_likelihood = certain_likelihood(of, &masks);
    let split = Split::of(of, &masks, only_rows);
    run.places = split.places;
    for problem in split.problems {
        let members = problem.members.clone();
        let solved = solve(problem);
        run.log_likelihood += solved.log10_likelihood * std::f64::consts::LN_10;
        run.too_wide += usize::from(solved.is_too_wide);
        run.clash.extend(solved.clash.iter().map(|local| members[*local].node as usize));
        run.components.push(solved);
    }
    run.clash.sort_unstable();
    run.clash.dedup();
    if !run.clash.is_empty() {
        run.log_likelihood = f64::NEG_INFINITY;
    }
    run
}

/// Which states each node can have, given its own row and its parents'.
fn possible(of: &Colonies<'_>, young_of: &mut YoungOf, clash: &mut Vec<usize>) -> Vec<Mask> {
    let mut masks: Vec<Mask> = vec![0; of.lineage.len()];
    // The commonest case by far: nobody above has the gene.
    let mut last = (0, 0, 0);
    for node in &of.lineage.order {
        let at = *node as usize;
        let own = of.table.support(of.rows[at]);
        let Parents { sire, dam } = of.lineage.parents[at];
        masks[at] = own;
        if sire == NOBODY {
            if own == 0 {
                clash.push(at);
                masks[at] = 1;
            }
            continue;
        }
        let pair = (masks[sire as usize], masks[dam as usize]);
        if (last.0, last.1) != pair {
            last = (pair.0, pair.1, young_of.get(of.group, pair.0, pair.1));
        }
        masks[at] = own & last.2;
        if masks[at] == 0 {
            clash.push(at);
            masks[at] = if own == 0 { 1 } else { own };
        }
    }
    masks
}

/// Natural log of what the certain nodes with certain parents add.
fn certain_likelihood(of: &Colonies<'_>, masks: &[Mask]) -> f64 {
    let mut sum = 0.0;
    let mut product = 1.0;
    let mut add = |weight: f64| {
        if weight != 1.0 {
            product *= weight;
            if !(1e-200..1e200).contains(&product) {
                sum += f64::ln(product);
                product = 1.0;
            }
        }
    };
    for (node, own) in masks.iter().enumerate() {
        let Some(state) = only(*own) else { continue };
        let Parents { sire, dam } = of.lineage.parents[node];
        if sire == NOBODY {
            add(of.table.row(of.rows[node])[state]);
            continue;
        }
        let (Some(s), Some(d)) = (only(masks[sire as usize]), only(masks[dam as usize])) else {
            continue;
        };
        add(of.table.row(of.rows[node])[state]);
        let young = of.group.young(s, d);
        add(young.iter().find(|(y, _)| usize::from(*y) == state).map_or(0.0, |(_, p)| *p));
    }
    sum + product.ln()
}

/// The components with their problems.
struct Split {
    places: Vec<Place>,
    problems: Vec<Problem>,
}

impl Split {
    fn of(of: &Colonies<'_>, masks: &[Mask], only_rows: &[u32]) -> Self {
        let component = components(of.lineage, masks);
        let certain = |node: usize| only(masks[node]);
        let place = |node: usize| match certain(node) {
            Some(state) => Place::Certain(u8::try_from(state).unwrap_or(u8::MAX)),
            None => Place::In(0, 0),
        };
        let mut split =
            Self { places: (0..masks.len()).map(place).collect(), problems: Vec::new() };
        let n_components = component.iter().filter(|c| **c != NOBODY).max().map_or(0, |c| c + 1);
        split.problems.resize_with(n_components as usize, Problem::default);
        let mut copied: HashMap<(u32, u32), u32> = HashMap::new();
        for node in &of.lineage.order {
            let parents = of.lineage.parents[*node as usize];
            let family = [*node, parents.sire, parents.dam];
            let held = family.into_iter().filter(|n| *n != NOBODY).map(|n| component[n as usize]);
            let Some(at) = held.into_iter().find(|c| *c != NOBODY) else { continue };
            // A certain node with young of its own is a founder below, and a leaf above.
            let mut local = |parent: u32, problem: &mut Problem| match certain(parent as usize) {
                None => match split.places[parent as usize] {
                    Place::In(_, local) => local,
                    Place::Certain(_) => NOBODY,
                },
                Some(state) => *copied.entry((at, parent)).or_insert_with(|| {
                    problem.push(Member {
                        node: parent,
                        parents: Parents::NONE,
                        row: only_rows[state],
                    })
                }),
            };
            let problem = &mut split.problems[at as usize];
            let parents = if parents.are_known() {
                Parents { sire: local(parents.sire, problem), dam: local(parents.dam, problem) }
            } else {
                Parents::NONE
            };
            let member = Member { node: *node, parents, row: of.rows[*node as usize] };
            let local = problem.push(member);
            if certain(*node as usize).is_none() {
                split.places[*node as usize] = Place::In(at, local);
            }
        }
        split
    }
}

/// The component of every uncertain node, counted from 0 in order of their oldest members.
fn components(lineage: &Lineage, masks: &[Mask]) -> Vec<u32> {
    let is_open = |node: u32| node != NOBODY && masks[node as usize].count_ones() != 1;
    let mut root: Vec<u32> = (0..count(masks.len())).collect();
    for (node, parents) in (0_u32..).zip(&lineage.parents) {
        let mut first = NOBODY;
        for one in [node, parents.sire, parents.dam].into_iter().filter(|n| is_open(*n)) {
            if first == NOBODY {
                first = one;
            } else {
                let (a, b) = (find(&mut root, first), find(&mut root, one));
                root[a as usize] = b;
            }
        }
    }
    let mut number = vec![NOBODY; masks.len()];
    let mut of = vec![NOBODY; masks.len()];
    let mut next = 0;
    for node in lineage.order.iter().filter(|n| is_open(**n)) {
        let top = find(&mut root, *node) as usize;
        if number[top] == NOBODY {
            number[top] = next;
            next += 1;
        }
        of[*node as usize] = number[top];
    }
    of
}

fn find(root: &mut [u32], mut node: u32) -> u32 {
    while root[node as usize] != node {
        root[node as usize] = root[root[node as usize] as usize];
        node = root[node as usize];
    }
    node
}
