//! Which clutches may speak against the sire that is written, or against there having been one where
//! no male was with her, told from what is at hand.
//!
//! With s and d the states of sire and dam and l(s, d) the chance of what is seen of the young, what
//! is known of the parents with the clutch is p(s, d) = q(s, d) l(s, d) / L, where q is what all else
//! leaves and L the chance of the clutch. So another father, of whom l'(d) is the mean of l, makes it
//! L' / L = sum of p(s, d) l'(d) / l(s, d) likelier, unless the young rule states out (l = 0): then
//! the component is asked once more without what was seen of them. Both parents are taken as
//! independent, and what descends from the young is not looked at, so this only sifts: whom it does
//! not let pass is asked exactly.

use std::cell::RefCell;
use std::collections::HashMap;

use genetics::LinkageGroup;
use genetics::posterior::Budget;
use records::Sex;

use super::answer::{LocusChances, World};
use super::doubtful::Doubtful;
use super::lineage::{Lineage, Parents, count};
use super::locus_book::{Asked, LocusBook};
use super::missing::FromAbove;
use super::rows::Opening;
use super::run::Place;
use super::solve::Unseen;
use crate::sire::Father;

/// Whom the written sire's chance and the odds of the others let pass: wider than what counts as a
/// doubt in the end, by as much as this can be off; our own choice, tried on random families.
const PASSES: f64 = 0.97;
const ODDS: f64 = 1.1;

/// Of a suspect clutch, possible fathers that come to less than this are left out: each costs the
/// colony once more. Our own choice.
const LEAST_SHARE: f64 = 2e-3;
/// What stands above the parents may give the states that the young rule out this chance at most,
/// without asking once more; our own choice: genes that were missed in an animal that shows none.
const RULED_OUT: f64 = 1e-4;

/// Of these clutches those that may be in doubt. `ratios`: by locus and clutch what [`ratios`] found.
pub(super) fn suspects(clutches: Vec<Doubtful>, ratios: &[Vec<Vec<f64>>]) -> Vec<Doubtful> {
    let mut suspects = Vec::new();
    for (at, mut doubt) in clutches.into_iter().enumerate() {
        let others = 0..doubt.options.len() - 1;
        let all = others.map(|option| ratios.iter().map(|locus| locus[at][option]).product());
        // 0 times infinity: at one locus he does not fit, and at another the other one does not.
        let all = all.map(|ratio: f64| if ratio.is_nan() { f64::INFINITY } else { ratio });
        let all: Vec<f64> = all.collect();
        if doubt.against(all.iter().copied()).is_doubt(PASSES, ODDS) {
            doubt.drop_below(LEAST_SHARE, &all);
            suspects.push(doubt);
        }
    }
    suspects
}

/// For every clutch how much likelier it is at one locus under each other option than under the first,
/// which is how its records are taken.
pub(super) fn ratios(
    book: &mut LocusBook,
    asked: &Asked<'_>,
    chances: &LocusChances,
    clutches: &[Doubtful],
) -> Vec<Vec<f64>> {
    if clutches.is_empty() {
        return Vec::new();
    }
    let rows = match &book.last {
        Some(last) => last.rows.clone(),
        None => book.rows(asked, &HashMap::new()),
    };
    let play = &chances.play;
    let Some(world) = chances.likeliest() else {
        return clutches.iter().map(|doubt| vec![1.0; doubt.options.len() - 1]).collect();
    };
    let silent = vec![None; play.alleles.len()];
    let locus = Locus {
        book,
        lineage: asked.lineage,
        budget: asked.budget,
        chances,
        world,
        rows: &rows,
        stranger: asked.maker.unrecorded(Some(Sex::Male), &silent, Opening::Closed),
    };
    let mut above = FromAbove::new(asked.lineage, &rows, book.table(), play);
    clutches.iter().map(|doubt| locus.ratios(doubt, &mut above)).collect()
}

/// One locus as its records stand.
struct Locus<'a> {
    book: &'a LocusBook,
    lineage: &'a Lineage,
    budget: &'a Budget,
    chances: &'a LocusChances,
    /// The likeliest value of what is not known for certain.
    world: &'a World,
    rows: &'a [u32],
    stranger: Vec<f64>,
}

impl Locus<'_> {
    fn ratios(&self, doubt: &Doubtful, above: &mut FromAbove<'_>) -> Vec<f64> {
        let others = &doubt.options[1..];
        let Parents { sire, dam } = self.lineage.parents[doubt.young[0] as usize];
        let seen = Clutch::of(self, doubt);
        if seen.young.is_empty() {
            return vec![1.0; others.len()];
        }
        let [s, d] = [sire, dam].map(|parent| possible(above.states_of(parent as usize)));
        let unseen = if seen.ruled_out(&s, &d) > RULED_OUT {
            match self.unseen(doubt, [sire, dam]) {
                Some(unseen) => Some(unseen),
                None => return vec![f64::INFINITY; others.len()],
            }
        } else {
            None
        };
        let unseen = unseen.as_ref();
        let (s, d) = (self.states(sire, unseen), self.states(dam, unseen));
        let ratio = |father: Father| {
            let his = self.father(father, unseen);
            let by = |d: usize| match &his {
                Some(his) => mean(his, |h| seen.chance(Some(h), d)),
                None => seen.chance(None, d),
            };
            match unseen {
                Some(unseen) => mean(&d, by) / 10_f64.powf(unseen.log10_of_seen),
                None => mean(&d, |d| by(d) * mean(&s, |s| 1.0 / seen.chance(Some(s), d))),
            }
        };
        let ratio = |(father, _): &(Father, f64)| ratio(*father);
        // None where what clashes elsewhere left states that the young rule out.
        others.iter().map(ratio).map(|r| if r.is_nan() { f64::INFINITY } else { r }).collect()
    }

    /// The component of the parents without what was seen of their young.
    fn unseen(&self, doubt: &Doubtful, parents: [u32; 2]) -> Option<Unseen> {
        let run = &self.world.run;
        let of = |parent: u32| match run.places.get(parent as usize) {
            Some(Place::In(component, _)) => Some(*component as usize),
            _ => None,
        };
        let component = parents.into_iter().find_map(of)?;
        let places = run.members[component].iter().enumerate();
        let young: Vec<usize> =
            places.filter(|(_, node)| doubt.young.contains(node)).map(|(at, _)| at).collect();
        let group = self.chances.play.groups.get(self.world.value)?;
        run.components[component].unseen(group, self.budget, component, &young)
    }

    /// Chances of the states of a node.
    fn states(&self, node: u32, unseen: Option<&Unseen>) -> Vec<(usize, f64)> {
        let known = unseen.and_then(|unseen| match self.world.run.places.get(node as usize) {
            Some(Place::In(component, member)) if *component as usize == unseen.component => {
                Some(unseen.of(*member as usize).to_vec())
            }
            _ => None,
        });
        possible(known.unwrap_or_else(|| self.chances.states(node as usize)))
    }

    /// Chances of the states of a father; none of nobody.
    fn father(&self, father: Father, unseen: Option<&Unseen>) -> Option<Vec<(usize, f64)>> {
        match father {
            Father::Male(male) | Father::Stored(male) => Some(self.states(count(male), unseen)),
            Father::Unknown => Some(possible(self.stranger.clone())),
            Father::Nobody => None,
        }
    }
}

/// What was seen of the young of a clutch.
struct Clutch<'a> {
    group: &'a LinkageGroup,
    /// The rows that say anything.
    young: Vec<&'a [f64]>,
    known: RefCell<HashMap<(Option<usize>, usize), f64>>,
}

impl<'a> Clutch<'a> {
    fn of(locus: &Locus<'a>, doubt: &Doubtful) -> Self {
        let row = |young: &u32| locus.book.row(locus.rows[*young as usize]);
        let says = |row: &&[f64]| row.iter().any(|w| *w != 1.0);
        Self {
            group: &locus.chances.play.groups[locus.world.value],
            young: doubt.young.iter().map(row).filter(says).collect(),
            known: RefCell::default(),
        }
    }

    /// The chance of parents that cannot have had them.
    fn ruled_out(&self, sire: &[(usize, f64)], dam: &[(usize, f64)]) -> f64 {
        let with = |s: usize| mean(dam, |d| f64::from(u8::from(self.chance(Some(s), d) <= 0.0)));
        mean(sire, with)
    }

    /// The chance of it all under a sire, or none, and a dam.
    fn chance(&self, sire: Option<usize>, dam: usize) -> f64 {
        if let Some(known) = self.known.borrow().get(&(sire, dam)) {
            return *known;
        }
        let passed = match sire {
            Some(sire) => self.group.young(sire, dam),
            None => self.group.young_alone(dam),
        };
        let one =
            |row: &&[f64]| -> f64 { passed.iter().map(|(s, p)| p * row[usize::from(*s)]).sum() };
        let chance = self.young.iter().map(one).product();
        self.known.borrow_mut().insert((sire, dam), chance);
        chance
    }
}

/// The states that can be, their chances summing to 1.
fn possible(states: Vec<f64>) -> Vec<(usize, f64)> {
    let sum: f64 = states.iter().sum();
    let all = states.into_iter().enumerate().filter(|(_, p)| *p > 0.0);
    all.map(|(state, p)| (state, p / sum)).collect()
}

fn mean(states: &[(usize, f64)], of: impl Fn(usize) -> f64) -> f64 {
    states.iter().map(|(state, p)| p * of(*state)).sum()
}
