//! One locus of the whole colony: who is certain, who depends on whom.
//!
//! A node that can have one genotype only parts what is above it from what is below: its likelihood
//! belongs above, and to its young it is a founder of that genotype. So the colony falls into
//! components that are solved one by one; a component whose records did not change is not solved
//! again.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use genetics::LinkageGroup;

use super::above::{Above, only};
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
    /// The nodes that are their members.
    pub members: Vec<Vec<u32>>,
    pub log_likelihood: f64,
    /// Nodes at which records clash.
    pub clash: Vec<usize>,
    /// Components too wide for an exact answer.
    pub too_wide: usize,
    /// The largest standard error of a chance that was drawn.
    pub worst_error: f64,
}

/// What a run reads.
pub(super) struct Colonies<'a> {
    pub lineage: &'a Lineage,
    /// The row of every node.
    pub rows: &'a [u32],
    /// The content of the rows.
    pub table: &'a RowTable,
    pub group: &'a LinkageGroup,
    /// Chances of nodes with young below this are left out.
    pub least: f64,
    /// Nodes of which nothing is left out.
    pub whole: &'a HashSet<usize>,
}

/// Rows by number; a number always means the same weights.
#[derive(Clone, Debug, Default)]
pub(super) struct RowTable {
    rows: Vec<Arc<[f64]>>,
    known: HashMap<Vec<u64>, u32>,
}

impl RowTable {
    pub fn number(&mut self, row: &[f64]) -> u32 {
        let bits: Vec<u64> = row.iter().map(|w| w.to_bits()).collect();
        if let Some(number) = self.known.get(&bits) {
            return *number;
        }
        let number = count(self.rows.len());
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
}

/// The colony split into components, not solved yet.
#[derive(Debug)]
pub(super) struct Plan {
    places: Vec<Place>,
    problems: Vec<Problem>,
    log_likelihood: f64,
    clash: Vec<usize>,
    /// Undecided animals with young in the largest component.
    pub breeders: usize,
}

impl Plan {
    pub fn of(of: &Colonies<'_>, above: &mut Above, only_rows: &[u32]) -> Self {
        let Going { masks, log_likelihood, clash } = Going::down(of, above);
        let (component, breeders) = components(of.lineage, &masks);
        let place = |mask: &Mask| match only(*mask) {
            Some(state) => Place::Certain(u8::try_from(state).unwrap_or(u8::MAX)),
            None => Place::In(0, 0),
        };
        let mut plan = Self {
            places: masks.iter().map(place).collect(),
            problems: Vec::new(),
            log_likelihood,
            clash,
            breeders,
        };
        plan.fill(of, &component, only_rows);
        plan
    }

    fn fill(&mut self, of: &Colonies<'_>, component: &[u32], only_rows: &[u32]) {
        let n = component.iter().filter(|c| **c != NOBODY).max().map_or(0, |c| c + 1);
        if n == 0 {
            return;
        }
        self.problems.resize_with(n as usize, Problem::default);
        let mut copied: HashMap<(u32, u32), u32> = HashMap::new();
        let Self { places, problems, .. } = self;
        for node in &of.lineage.order {
            let parents = of.lineage.parents[*node as usize];
            let mut at = component[*node as usize];
            if at == NOBODY && parents.are_known() {
                let of = |parent: u32| component[parent as usize];
                at = parents.each().map(of).find(|at| *at != NOBODY).unwrap_or(NOBODY);
            }
            if at == NOBODY {
                continue;
            }
            let problem = &mut problems[at as usize];
            // A certain node with young of its own is a founder below, and a leaf above.
            let mut local = |parent: u32, problem: &mut Problem| match places[parent as usize] {
                Place::In(_, local) => local,
                Place::Certain(state) => *copied.entry((at, parent)).or_insert_with(|| {
                    let row = only_rows[usize::from(state)];
                    problem.push(Member { node: parent, parents: Parents::NONE, row })
                }),
            };
            let mut local_of = |parent: u32| match parent {
                NOBODY => NOBODY,
                parent => local(parent, problem),
            };
            let parents = Parents { sire: local_of(parents.sire), dam: local_of(parents.dam) };
            let member = Member { node: *node, parents, row: of.rows[*node as usize] };
            let local = problem.push(member);
            if let Place::In(..) = places[*node as usize] {
                places[*node as usize] = Place::In(at, local);
            }
        }
    }

    /// Solves every component, or takes what `solve` knows of it.
    pub fn solve(self, solve: &mut dyn FnMut(Problem) -> Arc<Solved>) -> Run {
        let mut run = Run {
            places: self.places,
            log_likelihood: self.log_likelihood,
            clash: self.clash,
            ..Run::default()
        };
        for problem in self.problems {
            let members: Vec<u32> = problem.members.iter().map(|m| m.node).collect();
            let solved = solve(problem);
            run.log_likelihood += solved.log10_likelihood * std::f64::consts::LN_10;
            run.too_wide += usize::from(solved.is_too_wide);
            run.worst_error = run.worst_error.max(solved.worst_error);
            run.clash.extend(solved.clash.iter().map(|local| members[*local] as usize));
            run.components.push(solved);
            run.members.push(members);
        }
        run.clash.sort_unstable();
        run.clash.dedup();
        if !run.clash.is_empty() {
            run.log_likelihood = f64::NEG_INFINITY;
        }
        run
    }
}

/// What comes down from the founders.
struct Going {
    masks: Vec<Mask>,
    /// Natural log of what the certain nodes with certain parents add.
    log_likelihood: f64,
    clash: Vec<usize>,
}

impl Going {
    fn down(of: &Colonies<'_>, above: &mut Above) -> Self {
        let n = of.lineage.len();
        let mut number: Vec<u32> = vec![NOBODY; n];
        let mut masks: Vec<Mask> = vec![0; n];
        let (mut sum, mut product, mut clash) = (0.0, 1.0, Vec::new());
        for node in &of.lineage.order {
            let at = *node as usize;
            let Parents { sire, dam } = of.lineage.parents[at];
            let numbered = |p: u32| if p == NOBODY { NOBODY } else { number[p as usize] };
            let is_whole = of.lineage.young[at].is_empty() || of.whole.contains(&at);
            let key = (numbered(sire), numbered(dam), of.rows[at], is_whole);
            let own = above.number(key, of.group, of.table, of.least);
            number[at] = own;
            let from_above = above.get(own);
            masks[at] = from_above.mask;
            if from_above.is_clash {
                clash.push(at);
            }
            if from_above.factor != 1.0 {
                product *= from_above.factor;
                if !(1e-200..1e200).contains(&product) {
                    sum += f64::ln(product);
                    product = 1.0;
                }
            }
        }
        Self { masks, log_likelihood: sum + f64::ln(product), clash }
    }
}

/// The component of every undecided node, counted from 0 in order of their oldest members, and how
/// many undecided animals with young the largest has.
fn components(lineage: &Lineage, masks: &[Mask]) -> (Vec<u32>, usize) {
    let is_open: Vec<bool> = masks.iter().map(|mask| mask.count_ones() != 1).collect();
    let open = |node: u32| node != NOBODY && is_open[node as usize];
    let mut root: Vec<u32> = (0..count(masks.len())).collect();
    for (node, parents) in (0_u32..).zip(&lineage.parents) {
        if !(parents.are_known() && (open(parents.sire) || open(parents.dam))) {
            continue;
        }
        let mut first = NOBODY;
        for one in [node, parents.sire, parents.dam].into_iter().filter(|n| open(*n)) {
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
    let mut breeders: Vec<usize> = Vec::new();
    for node in lineage.order.iter().filter(|n| open(**n)) {
        let top = find(&mut root, *node) as usize;
        if number[top] == NOBODY {
            number[top] = count(breeders.len());
            breeders.push(0);
        }
        of[*node as usize] = number[top];
        breeders[number[top] as usize] += usize::from(!lineage.young[*node as usize].is_empty());
    }
    (of, breeders.into_iter().max().unwrap_or(0))
}

fn find(root: &mut [u32], mut node: u32) -> u32 {
    while root[node as usize] != node {
        root[node as usize] = root[root[node as usize] as usize];
        node = root[node as usize];
    }
    node
}
