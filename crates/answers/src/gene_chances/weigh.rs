//! One locus: answered as the records stand, opened further where they clash, and weighed over what
//! is not known for certain.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use super::answer::{Clash, LikelyCarrier, LocusChances, Who, World};
use super::lineage::Lineage;
use super::locus_book::{Asked, Cut, Last, LocusBook};
use super::rows::Opening;
use super::run::Run;

/// Times a locus is opened further before its clash is left as it is; our own choice.
const ROUNDS: usize = 6;

/// Chances that may be left out of animals with young, smallest first, where a component is too
/// large otherwise; our own choice.
const CUTS: [f64; 4] = [0.0, 1e-3, 2e-2, 6e-2];

/// Undecided animals with young above which a component counts as too large; our own choice: with as
/// many the widest tables of made-up collections stay below a few thousand numbers.
const LARGE: usize = 48;

/// The chances at one locus, and for every combination of sires the natural log of its likelihood
/// with its worlds.
pub(super) struct Answered {
    pub chances: LocusChances,
    pub combinations: Vec<(f64, Vec<World>)>,
}

/// One locus of the colony as its records tell it: of its only pedigree, or of every combination of
/// sires.
pub(super) fn locus(book: &mut LocusBook, asked: &[Asked<'_>]) -> Answered {
    if let [one] = asked {
        return Answered { chances: of_one(book, one), combinations: Vec::new() };
    }
    book.begin();
    book.last = None;
    combined(book, asked)
}

/// One locus under every combination of sires, the likeliest beforehand first. Where some fit as
/// records stand, founders above a clash of another may carry what nobody listed; beyond that nothing
/// is opened for it.
pub(super) fn combined(book: &mut LocusBook, asked: &[Asked<'_>]) -> Answered {
    let mut fitting: Option<LocusChances> = None;
    let mut combinations = Vec::with_capacity(asked.len());
    for one in asked {
        combinations.push(unopened(book, one));
        let (likelihood, worlds) = &combinations[combinations.len() - 1];
        if likelihood.is_finite() && fitting.is_none() {
            fitting = Some(LocusChances {
                play: Arc::clone(&book.play),
                worlds: worlds.clone(),
                clash: None,
                left_out: 0.0,
                log10_likelihood: likelihood / std::f64::consts::LN_10,
            });
        }
    }
    match fitting {
        Some(chances) => {
            for (one, known) in asked.iter().zip(&mut combinations) {
                if known.0 == f64::NEG_INFINITY
                    && let Some(reopened) = reopened(book, one)
                {
                    *known = reopened;
                }
            }
            Answered { chances, combinations }
        }
        None => {
            // It clashes whoever he is: told for each as it is with its own carriers.
            let all: Vec<LocusChances> = asked.iter().map(|one| alone(book, one)).collect();
            let combinations = all.iter().map(|c| (0.0, c.worlds.clone())).collect();
            let first = all.into_iter().next();
            let chances = first.unwrap_or_else(|| unsettled_of_nobody(book));
            Answered { chances, combinations }
        }
    }
}

/// The only pedigree: the last answer is gone on from where that is the same.
fn of_one(book: &mut LocusBook, asked: &Asked<'_>) -> LocusChances {
    let rows = book.rows(asked, &HashMap::new());
    let chances = match book.grown(asked, &rows) {
        Some(chances) => chances,
        None => {
            book.begin();
            alone(book, asked)
        }
    };
    book.last = chances.clash.is_none().then(|| Last { rows, chances: chances.clone() });
    chances
}

fn unsettled_of_nobody(book: &LocusBook) -> LocusChances {
    LocusChances {
        play: Arc::clone(&book.play),
        worlds: Vec::new(),
        clash: None,
        left_out: 0.0,
        log10_likelihood: 0.0,
    }
}

/// Likelihood and worlds with nothing opened; minus infinity where records clash.
fn unopened(book: &mut LocusBook, asked: &Asked<'_>) -> (f64, Vec<World>) {
    let (opened, whole) = (HashMap::new(), HashSet::new());
    let rows = book.rows(asked, &opened);
    let (run, least) = smallest_cut(book, asked, &rows, (0, &whole));
    if !run.clash.is_empty() {
        return (f64::NEG_INFINITY, Vec::new());
    }
    let cut = Cut { least, most: usize::MAX, whole: &whole };
    let chances = settled(book, asked, (run, &rows, &cut), &opened, &[]);
    (chances.log10_likelihood * std::f64::consts::LN_10, chances.worlds)
}

/// The same where founders above the clash may carry what their labels do not list; none where that
/// does not explain it.
fn reopened(book: &mut LocusBook, asked: &Asked<'_>) -> Option<(f64, Vec<World>)> {
    let opened = above_the_clash(book, asked);
    let whole = HashSet::new();
    let rows = book.rows(asked, &opened);
    let (run, least) = smallest_cut(book, asked, &rows, (0, &whole));
    if !run.clash.is_empty() {
        return None;
    }
    let cut = Cut { least, most: usize::MAX, whole: &whole };
    let chances = settled(book, asked, (run, &rows, &cut), &opened, &[]);
    Some((chances.log10_likelihood * std::f64::consts::LN_10, chances.worlds))
}

fn above_the_clash(book: &mut LocusBook, asked: &Asked<'_>) -> HashMap<usize, Opening> {
    let (mut opened, whole) = (HashMap::new(), HashSet::new());
    let rows = book.rows(asked, &opened);
    let (run, _) = smallest_cut(book, asked, &rows, (0, &whole));
    open(asked.lineage, &run.clash, 0, &mut opened);
    opened
}

/// The natural logs of the likelihoods that [`combined`] weighs by, with one value of the
/// recombination. Where no pedigree fits, the locus speaks for none of them.
pub(super) fn likelihoods(book: &mut LocusBook, asked: &[Asked<'_>], value: usize) -> Vec<f64> {
    let whole = HashSet::new();
    let mut log = |one: &Asked<'_>, opened: &HashMap<usize, Opening>| {
        let rows = book.rows(one, opened);
        smallest_cut(book, one, &rows, (value, &whole)).0.log_likelihood
    };
    let mut logs: Vec<f64> = asked.iter().map(|one| log(one, &HashMap::new())).collect();
    if logs.iter().all(|log| !log.is_finite()) {
        return vec![0.0; logs.len()];
    }
    for (one, known) in asked.iter().zip(&mut logs) {
        if !known.is_finite() {
            let opened = above_the_clash(book, one);
            let rows = book.rows(one, &opened);
            *known = smallest_cut(book, one, &rows, (value, &whole)).0.log_likelihood;
        }
    }
    logs
}

/// The chances at one locus of one pedigree.
fn alone(book: &mut LocusBook, asked: &Asked<'_>) -> LocusChances {
    let mut opened: HashMap<usize, Opening> = HashMap::new();
    let mut whole: HashSet<usize> = HashSet::new();
    let mut first_clash: Vec<usize> = Vec::new();
    let mut round = 0;
    loop {
        let rows = book.rows(asked, &opened);
        let (run, cut) = smallest_cut(book, asked, &rows, (0, &whole));
        if run.clash.is_empty() {
            let least = Cut { least: cut, most: usize::MAX, whole: &whole };
            return settled(book, asked, (run, &rows, &least), &opened, &first_clash);
        }
        // What was left out may be what explains it.
        let above = asked.lineage.all_above(&run.clash);
        if cut > 0.0 && above.iter().any(|node| !whole.contains(node)) {
            whole.extend(above);
            continue;
        }
        if round == 0 {
            first_clash.clone_from(&run.clash);
        }
        round += 1;
        if round == ROUNDS {
            return unsettled(book, asked, run, &first_clash);
        }
        open(asked.lineage, &run.clash, round - 1, &mut opened);
    }
}

fn smallest_cut(
    book: &mut LocusBook,
    asked: &Asked<'_>,
    rows: &[u32],
    (value, whole): (usize, &HashSet<usize>),
) -> (Run, f64) {
    for (at, least) in CUTS.into_iter().enumerate() {
        let most = if at + 1 == CUTS.len() { usize::MAX } else { LARGE };
        if let Some(run) = book.run(asked, rows, value, &Cut { least, most, whole }) {
            return (run, least);
        }
    }
    (Run::default(), 0.0)
}

fn unsettled(book: &LocusBook, asked: &Asked<'_>, run: Run, first_clash: &[usize]) -> LocusChances {
    let near = whos(asked.lineage, first_clash);
    LocusChances {
        play: Arc::clone(&book.play),
        worlds: vec![World { weight: 1.0, run: Arc::new(run), value: 0 }],
        clash: Some(Clash { near, is_resolved: false, carriers: vec![] }),
        left_out: 0.0,
        log10_likelihood: f64::NEG_INFINITY,
    }
}

/// First the founders above may carry what nobody listed; then what was seen near the clash is
/// doubted, further out with every round.
fn open(lineage: &Lineage, clash: &[usize], round: usize, opened: &mut HashMap<usize, Opening>) {
    for founder in lineage.founders_above(clash) {
        opened.entry(founder).or_insert(Opening::Reopened);
    }
    if round == 0 {
        return;
    }
    let mut near: Vec<usize> = clash.to_vec();
    for _ in 0..round {
        let around = near.iter().flat_map(|node| {
            lineage.parents[*node].each().chain(lineage.young[*node].iter().copied())
        });
        let around: Vec<usize> = around.map(|node| node as usize).collect();
        near.extend(around);
        near.sort_unstable();
        near.dedup();
    }
    opened.extend(near.into_iter().map(|node| (node, Opening::Doubted)));
}

fn settled(
    book: &mut LocusBook,
    asked: &Asked<'_>,
    (run, rows, cut): (Run, &[u32], &Cut<'_>),
    opened: &HashMap<usize, Opening>,
    first_clash: &[usize],
) -> LocusChances {
    let play = Arc::clone(&book.play);
    let mut worlds = vec![World { weight: 1.0, run: Arc::new(run), value: 0 }];
    for value in 1..play.groups.len() {
        if let Some(run) = book.run(asked, rows, value, cut) {
            worlds.push(World { weight: 1.0, run: Arc::new(run), value });
        }
    }
    let prior = |world: &World| play.recombination.get(world.value).map_or(0.0, |(_, p)| *p);
    let log10_likelihood = weigh(&mut worlds, &prior);
    let mut answer =
        LocusChances { play, worlds, clash: None, left_out: cut.least, log10_likelihood };
    if !first_clash.is_empty() {
        let is_resolved = opened.values().all(|opening| *opening != Opening::Doubted);
        answer.clash = Some(Clash {
            near: whos(asked.lineage, first_clash),
            is_resolved,
            carriers: carriers(book, asked, &answer, opened),
        });
    }
    answer
}

/// Gives worlds their weights, prior times likelihood; hands back the log10 likelihood of all.
fn weigh(worlds: &mut [World], prior: &dyn Fn(&World) -> f64) -> f64 {
    let top = worlds.iter().map(|w| w.run.log_likelihood).fold(f64::NEG_INFINITY, f64::max);
    if !top.is_finite() {
        let share = worlds.len().max(1);
        #[expect(clippy::cast_precision_loss, reason = "a few worlds")]
        worlds.iter_mut().for_each(|w| w.weight = 1.0 / share as f64);
        return f64::NEG_INFINITY;
    }
    let mut sum = 0.0;
    for world in worlds.iter_mut() {
        world.weight = prior(world) * (world.run.log_likelihood - top).exp();
        sum += world.weight;
    }
    worlds.iter_mut().for_each(|world| world.weight /= sum);
    (top + sum.ln()) / std::f64::consts::LN_10
}

/// Reopened founders by the chance that they carry what was ruled out before.
fn carriers(
    book: &mut LocusBook,
    asked: &Asked<'_>,
    answer: &LocusChances,
    opened: &HashMap<usize, Opening>,
) -> Vec<LikelyCarrier> {
    let before = book.rows(asked, &HashMap::new());
    let founders = opened.keys().filter(|node| !asked.lineage.parents[**node].are_known());
    let mut all = Vec::new();
    for node in founders {
        let closed = book.row(before[*node]);
        let states = answer.states(*node);
        let is_new = closed.iter().zip(&states).filter(|(before, _)| **before == 0.0);
        let chance: f64 = is_new.map(|(_, p)| p).sum();
        if chance > 0.0 {
            all.push(LikelyCarrier { who: who(asked.lineage, *node), chance });
        }
    }
    all.sort_by(|a, b| b.chance.total_cmp(&a.chance).then(a.who.cmp(&b.who)));
    all
}

fn whos(lineage: &Lineage, nodes: &[usize]) -> Vec<Who> {
    nodes.iter().map(|node| who(lineage, *node)).collect()
}

/// An animal, or the unknown parent of its first young.
pub(super) fn who(lineage: &Lineage, node: usize) -> Who {
    if node < lineage.n_animals {
        return Who::Animal(node);
    }
    let young = lineage.young[node].iter().map(|young| *young as usize).min().unwrap_or(0);
    let is_sire = lineage.parents.get(young).is_some_and(|p| p.sire as usize == node);
    if is_sire { Who::SireOf(young) } else { Who::DamOf(young) }
}
