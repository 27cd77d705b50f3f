//! What is kept of one locus from one answer to the next.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use genetics::posterior::Budget;

use super::above::Above;
use super::answer::{LocusChances, World};
use super::classes::Classes;
use super::in_play::InPlay;
use super::lineage::{Grown, Lineage, NOBODY, count};
use super::missing::{FromAbove, carried, missing_share};
use super::rows::{Opening, RowMaker};
use super::run::{Colonies, Place, Plan, RowTable, Run};
use super::solve::{Problem, Solved};

/// A locus with every row and every component met so far.
#[derive(Debug)]
pub(super) struct LocusBook {
    pub play: Arc<InPlay>,
    table: RowTable,
    /// Rows by class and opening.
    of_class: HashMap<(u32, Opening), u32>,
    plain: Vec<u32>,
    only: Vec<u32>,
    /// What stands above, by recombination and by what is left out.
    above: HashMap<(usize, u64), Above>,
    solved: HashMap<(usize, Vec<u32>), (Used, Arc<Solved>)>,
    /// Answers given, of the colony and of what only might be.
    turns: Used,
    is_supposed: bool,
    /// The last answer of a single pedigree, where nothing clashed.
    pub last: Option<Last>,
}

/// The answer that used something last, counted apart for the colony and for what only might be.
#[derive(Clone, Copy, Debug, Default)]
struct Used {
    real: u64,
    supposed: u64,
}

/// Answers of the colony, and of what only might be, over which is kept what they do not use: a page
/// supposes up to four things.
const KEPT: Used = Used { real: 1, supposed: 4 };

/// An answer with what it was worked out from.
#[derive(Debug)]
pub(super) struct Last {
    pub rows: Vec<u32>,
    pub chances: LocusChances,
}

/// The colony as one locus needs it.
#[derive(Clone, Copy)]
pub(super) struct Asked<'a> {
    pub lineage: &'a Lineage,
    pub classes: &'a Classes,
    /// The class of every animal.
    pub class_of: &'a [u32],
    pub maker: RowMaker<'a>,
    pub budget: &'a Budget,
    /// What is new since the last answer.
    pub grown: Option<Grown>,
}

impl LocusBook {
    pub fn new(play: InPlay) -> Self {
        let mut table = RowTable::default();
        let states = play.n_states();
        let only = (0..states).map(|state| table.only(state, states)).collect();
        Self {
            play: Arc::new(play),
            table,
            of_class: HashMap::new(),
            plain: Vec::new(),
            only,
            above: HashMap::new(),
            solved: HashMap::new(),
            // A component that no answer used yet is old.
            turns: Used { real: KEPT.real + 1, supposed: KEPT.supposed + 1 },
            is_supposed: false,
            last: None,
        }
    }

    /// A new answer begins: what was not used for some is forgotten.
    pub fn begin(&mut self) {
        let turns = self.turns;
        self.solved.retain(|_, (used, _)| {
            used.real + KEPT.real >= turns.real || used.supposed + KEPT.supposed >= turns.supposed
        });
        let turn = if self.is_supposed { &mut self.turns.supposed } else { &mut self.turns.real };
        *turn += 1;
    }

    /// What follows only might be; hands back the last answer, for [`Self::go_on`].
    pub fn suppose(&mut self) -> Option<Last> {
        self.is_supposed = true;
        self.last.take()
    }

    /// Back to the colony.
    pub fn go_on(&mut self, last: Option<Last>) {
        self.is_supposed = false;
        self.last = last;
    }

    /// The rows of all nodes.
    pub fn rows(&mut self, asked: &Asked<'_>, opened: &HashMap<usize, Opening>) -> Vec<u32> {
        while self.plain.len() < asked.classes.len() {
            let class = count(self.plain.len());
            let row = asked.maker.animal(&asked.classes.known(class), Opening::Closed);
            let row = self.table.number(&row);
            self.plain.push(row);
        }
        let lineage = asked.lineage;
        let mut rows: Vec<u32> =
            asked.class_of.iter().map(|class| self.plain[*class as usize]).collect();
        rows.resize(lineage.len(), NOBODY);
        for (node, opening) in opened.iter().filter(|(node, _)| **node < lineage.n_animals) {
            rows[*node] = self.opened_row(asked, asked.class_of[*node], *opening);
        }
        self.unrecorded(asked, opened, &mut rows);
        rows
    }

    fn opened_row(&mut self, asked: &Asked<'_>, class: u32, opening: Opening) -> u32 {
        if let Some(row) = self.of_class.get(&(class, opening)) {
            return *row;
        }
        let row = asked.maker.animal(&asked.classes.known(class), opening);
        let row = self.table.number(&row);
        self.of_class.insert((class, opening), row);
        row
    }

    /// Rows of parents that nobody recorded: what is common, and what labels of their young say.
    fn unrecorded(
        &mut self,
        asked: &Asked<'_>,
        opened: &HashMap<usize, Opening>,
        rows: &mut [u32],
    ) {
        let lineage = asked.lineage;
        let none = vec![None; self.play.alleles.len()];
        let first = lineage.first_unrecorded;
        for (node, own) in rows.iter_mut().enumerate().skip(first) {
            let opening = opened.get(&node).copied().unwrap_or_default();
            let row = asked.maker.unrecorded(lineage.sex[node], &none, opening);
            *own = self.table.number(&row);
        }
        for node in first..lineage.len() {
            let told = self.told_of(asked, rows, node);
            if told.iter().any(Option::is_some) {
                let opening = opened.get(&node).copied().unwrap_or_default();
                let row = asked.maker.unrecorded(lineage.sex[node], &told, opening);
                rows[node] = self.table.number(&row);
            }
        }
    }

    /// Per allele in play the mean of what the labels of its young say that it passes on.
    fn told_of(&self, asked: &Asked<'_>, rows: &[u32], node: usize) -> Vec<Option<f64>> {
        let lineage = asked.lineage;
        let mut said: Vec<Vec<f64>> = vec![Vec::new(); self.play.alleles.len()];
        let mut above = FromAbove::new(lineage, rows, &self.table, &self.play);
        for young in &lineage.young[node] {
            let Some(class) = asked.class_of.get(*young as usize) else { continue };
            // Its label was written with the parents in mind that are recorded.
            if lineage.recorded.get(*young as usize) == Some(&2) {
                continue;
            }
            let known = asked.classes.known(*class);
            let Some(claimed) = known.written.claimed(asked.maker.catalogue, self.play.id) else {
                continue;
            };
            let parents = lineage.parents[*young as usize];
            let other = if parents.sire as usize == node { parents.dam } else { parents.sire };
            for (allele, claim) in carried(&claimed, asked.maker.rules) {
                let at = self.play.alleles.iter().position(|a| *a == allele);
                let passes = above.passes(other as usize, allele);
                if let (Some(at), Some(share)) = (at, missing_share(claim, passes)) {
                    said[at].push(share);
                }
            }
        }
        said.iter()
            .map(|all| {
                #[expect(clippy::cast_precision_loss, reason = "young of one clutch")]
                let n = all.len() as f64;
                (!all.is_empty()).then(|| all.iter().sum::<f64>() / n)
            })
            .collect()
    }

    /// The content of all rows.
    pub const fn table(&self) -> &RowTable {
        &self.table
    }

    /// The weights of a row.
    pub fn row(&self, number: u32) -> &[f64] {
        self.table.row(number)
    }

    /// The last answer with the new animals added, where nothing else changed and each of them can
    /// have one genotype only, like both its parents: they cannot touch anybody.
    pub fn grown(&self, asked: &Asked<'_>, rows: &[u32]) -> Option<LocusChances> {
        let (last, grown) = (self.last.as_ref()?, asked.grown?);
        let lineage = asked.lineage;
        let (n, first) = (grown.before, lineage.first_unrecorded);
        let is_alike = last.rows[..n] == rows[..n] && last.rows[first..] == rows[first..];
        let is_cut = grown.has_new_breeders && last.chances.left_out > 0.0;
        let [world] = last.chances.worlds.as_slice() else { return None };
        if !is_alike || is_cut {
            return None;
        }
        let new = n..lineage.n_animals;
        if new.is_empty() {
            return Some(last.chances.clone());
        }
        let mut run = Run::clone(&world.run);
        for node in new {
            let row = self.table.row(rows[node]);
            let fits = |state: &usize| row[*state] > 0.0;
            let parents = lineage.parents[node];
            let mut states = Vec::new();
            if parents.are_known() {
                // Only doubted sires are none, and their colonies are not gone on from.
                let sire = *run.places.get(parents.sire as usize)?;
                let (Place::Certain(s), Place::Certain(d)) =
                    (sire, run.places[parents.dam as usize])
                else {
                    return None;
                };
                let young = self.play.group().young(usize::from(s), usize::from(d)).iter();
                states.extend(young.map(|(s, p)| (usize::from(*s), *p)).filter(|(s, _)| fits(s)));
            } else {
                states.extend((0..row.len()).filter(fits).map(|state| (state, 1.0)));
            }
            let [(state, passed)] = states.as_slice() else { return None };
            // Anything but 1 moves the likelihood: that is summed up in one order only.
            if passed * row[*state] != 1.0 {
                return None;
            }
            run.places[node] = Place::Certain(u8::try_from(*state).ok()?);
        }
        let world = World { run: Arc::new(run), ..world.clone() };
        Some(LocusChances { worlds: vec![world], ..last.chances.clone() })
    }

    /// One run, with one value of the recombination. `least`: chances of animals with young below it
    /// are left out, but for those kept `whole`. None where the largest component is larger than
    /// `most` undecided animals with young.
    pub fn run(
        &mut self,
        asked: &Asked<'_>,
        rows: &[u32],
        value: usize,
        cut: &Cut<'_>,
    ) -> Option<Run> {
        let play = Arc::clone(&self.play);
        let group = play.groups.get(value).unwrap_or(&play.groups[0]);
        let Self { table, above, only, solved, turns, is_supposed, .. } = self;
        let (least, whole) = (cut.least, cut.whole);
        let of = Colonies { lineage: asked.lineage, rows, table, group, least, whole };
        let plan = Plan::of(&of, above.entry((value, least.to_bits())).or_default(), only);
        if plan.breeders > cut.most {
            return None;
        }
        let mut solve = |problem: Problem| {
            let known = solved.entry((value, problem.key())).or_insert_with(|| {
                let solved = problem.solve(group, of.table, asked.budget);
                (Used::default(), Arc::new(solved))
            });
            match is_supposed {
                true => known.0.supposed = turns.supposed,
                false => known.0.real = turns.real,
            }
            Arc::clone(&known.1)
        };
        Some(plan.solve(&mut solve))
    }
}

/// What a run may leave out, and how large its components may be.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cut<'a> {
    pub least: f64,
    pub most: usize,
    pub whole: &'a HashSet<usize>,
}
