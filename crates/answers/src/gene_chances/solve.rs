//! One component of one locus, handed to the engine.

use genetics::posterior::{Accuracy, Budget, Sampling, Unanswered, joints, posteriors};
use genetics::{Evidence, LinkageGroup, Pedigree};

use super::lineage::Parents;
use super::run::RowTable;

/// How long is drawn where the exact answer is too wide; our own choice, for a page that waits.
const DRAWN: Sampling = Sampling { target_error: 0.005, most_sweeps: 500, seed: 1 };

/// One animal of a component; parents are places in the same component.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Member {
    pub node: u32,
    pub parents: Parents,
    pub row: u32,
}

/// A component: everything its answer depends on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Problem {
    pub members: Vec<Member>,
}

/// What the engine made of it.
#[derive(Clone, Debug)]
pub(super) struct Solved {
    states: usize,
    chances: Vec<f64>,
    /// 0 where there is no answer.
    pub log10_likelihood: f64,
    /// Members near which records clash.
    pub clash: Vec<usize>,
    /// Neither worked out nor drawn: only what is written of each is told.
    pub is_too_wide: bool,
    /// The largest standard error of a chance that was drawn; 0 where all are exact.
    pub worst_error: f64,
    pedigree: Option<Pedigree>,
    evidence: Evidence,
}

impl Problem {
    pub fn push(&mut self, member: Member) -> u32 {
        self.members.push(member);
        super::lineage::count(self.members.len() - 1)
    }

    /// The same component as numbers; two of one key have one answer.
    pub fn key(&self) -> Vec<u32> {
        self.members.iter().flat_map(|m| [m.parents.sire, m.parents.dam, m.row]).collect()
    }

    pub fn solve(&self, group: &LinkageGroup, table: &RowTable, budget: &Budget) -> Solved {
        let states = group.n_states();
        let mut evidence = Evidence::flat(self.members.len(), states);
        for (at, member) in self.members.iter().enumerate() {
            evidence.see(at, table.row(member.row));
        }
        let mut solved = Solved {
            states,
            chances: Vec::new(),
            log10_likelihood: 0.0,
            clash: Vec::new(),
            is_too_wide: false,
            worst_error: 0.0,
            pedigree: Pedigree::new(self.members.iter().map(|m| m.parents.origin()).collect()).ok(),
            evidence,
        };
        let ask = |budget: &Budget| match &solved.pedigree {
            Some(pedigree) => posteriors(pedigree, group, &solved.evidence, budget),
            None => Err(Unanswered::Mismatch),
        };
        let answer = match ask(budget) {
            Err(Unanswered::TooWide { .. }) => ask(&Budget { sampling: Some(DRAWN), ..*budget }),
            answer => answer,
        };
        match answer {
            Ok(answer) => {
                solved.log10_likelihood = answer.log10_likelihood().unwrap_or(0.0);
                if let Accuracy::Sampled { worst_error, .. } = answer.accuracy() {
                    solved.worst_error = worst_error;
                }
                let of = |at: usize| answer.of(at).to_vec();
                solved.chances = (0..self.members.len()).flat_map(of).collect();
            }
            Err(why) => {
                if let Unanswered::Impossible { near } = &why {
                    let all = || (0..self.members.len()).collect();
                    solved.clash = if near.is_empty() { all() } else { near.clone() };
                }
                solved.is_too_wide = !matches!(why, Unanswered::Impossible { .. });
                solved.chances =
                    (0..self.members.len()).flat_map(|at| alone(&solved, at)).collect();
            }
        }
        solved
    }
}

/// What its own records say of a member, where the whole has no answer.
fn alone(solved: &Solved, at: usize) -> Vec<f64> {
    let row = solved.evidence.weights(at);
    let sum: f64 = row.iter().sum();
    row.iter().map(|w| if sum > 0.0 { w / sum } else { 0.0 }).collect()
}

/// A component in which some members were not looked at.
#[derive(Clone, Debug)]
pub(super) struct Unseen {
    /// Which component of its run.
    pub component: usize,
    states: usize,
    chances: Vec<f64>,
    /// Log10 of the chance of what was seen of those members, all else known.
    pub log10_of_seen: f64,
}

impl Unseen {
    /// Chances of a member's states.
    pub fn of(&self, member: usize) -> &[f64] {
        let from = member * self.states;
        self.chances.get(from..from + self.states).unwrap_or(&[])
    }
}

impl Solved {
    /// The same without what was seen of some members; none where there is no exact answer.
    pub fn unseen(
        &self,
        group: &LinkageGroup,
        budget: &Budget,
        component: usize,
        members: &[usize],
    ) -> Option<Unseen> {
        let n = self.evidence.animals();
        let mut evidence = Evidence::flat(n, self.states);
        for at in (0..n).filter(|at| !members.contains(at)) {
            evidence.see(at, self.evidence.weights(at));
        }
        let all = posteriors(self.pedigree.as_ref()?, group, &evidence, &budget.exact()).ok()?;
        let all_seen = (self.clash.is_empty() && !self.is_too_wide && self.worst_error <= 0.0)
            .then_some(self.log10_likelihood)?;
        Some(Unseen {
            component,
            states: self.states,
            chances: (0..n).flat_map(|at| all.of(at).to_vec()).collect(),
            log10_of_seen: all_seen - all.log10_likelihood()?,
        })
    }

    /// Chances of a member's states.
    pub fn of(&self, member: usize) -> &[f64] {
        let from = member * self.states;
        self.chances.get(from..from + self.states).unwrap_or(&[])
    }

    /// Joint chances of one member's states with those of others, its own outermost; none where
    /// there is no exact answer.
    pub fn joints(
        &self,
        group: &LinkageGroup,
        budget: &Budget,
        one: usize,
        others: &[usize],
    ) -> Option<Vec<Vec<f64>>> {
        let pedigree = self.pedigree.as_ref()?;
        let pairs: Vec<(usize, usize)> = others.iter().map(|other| (one, *other)).collect();
        let all = joints(pedigree, group, &self.evidence, budget, &pairs).ok()?;
        Some(all.iter().map(|joint| joint.chances().to_vec()).collect())
    }
}
