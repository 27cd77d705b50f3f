//! What the parents may be, and how likely each hatchling is then.

use super::{GroupSeen, Parents};

/// One pair of states with its chance.
#[derive(Clone, Copy, Debug)]
pub(super) struct Case {
    /// Who: place of the candidate.
    pub(super) candidate: usize,
    pub(super) dam: usize,
    pub(super) chance: f64,
}

/// All cases of all linkage groups that tell anything.
#[derive(Clone, Debug)]
pub(super) struct Cases {
    pub(super) hatchlings: usize,
    /// Per group the first of its cases; one more at the end.
    starts: Vec<usize>,
    cases: Vec<Case>,
    /// Per case, the likelihood of each hatchling.
    likelihoods: Vec<f64>,
}

impl Cases {
    pub(super) fn new(groups: &[GroupSeen<'_>], candidates: usize, hatchlings: usize) -> Self {
        let room = groups.len() * candidates;
        let mut all = Self {
            hatchlings,
            starts: Vec::with_capacity(groups.len() + 1),
            cases: Vec::with_capacity(room),
            likelihoods: Vec::with_capacity(room * hatchlings),
        };
        all.starts.push(0);
        for seen in groups {
            let says_nothing = |row: &Vec<f64>| row.iter().all(|w| *w == 1.0);
            if seen.young.iter().all(says_nothing) {
                continue;
            }
            for (candidate, parents) in seen.parents.iter().enumerate() {
                all.add(seen, candidate, parents);
            }
            all.starts.push(all.cases.len());
        }
        all
    }

    fn add(&mut self, seen: &GroupSeen<'_>, candidate: usize, parents: &Parents) {
        match parents {
            Parents::Pair(cases) => {
                for (sire, dam, chance) in cases.iter().filter(|case| case.2 > 0.0) {
                    let case = Case { candidate, dam: *dam, chance: *chance };
                    self.push(case, seen.group.young(*sire, *dam), seen);
                }
            }
            Parents::Alone(cases) => {
                for (dam, chance) in cases.iter().filter(|case| case.1 > 0.0) {
                    let case = Case { candidate, dam: *dam, chance: *chance };
                    self.push(case, seen.group.young_alone(*dam), seen);
                }
            }
        }
    }

    fn push(&mut self, case: Case, passed_on: &[(u16, f64)], seen: &GroupSeen<'_>) {
        self.cases.push(case);
        let given = |row: &Vec<f64>| -> f64 {
            passed_on.iter().map(|(state, p)| p * row[usize::from(*state)]).sum()
        };
        self.likelihoods.extend(seen.young.iter().map(given));
    }

    pub(super) fn groups(&self) -> impl Iterator<Item = std::ops::Range<usize>> + '_ {
        self.starts.windows(2).map(|ends| ends[0]..ends[1])
    }

    pub(super) fn case(&self, at: usize) -> &Case {
        &self.cases[at]
    }

    /// Likelihood of each hatchling in a case.
    pub(super) fn young(&self, case: usize) -> &[f64] {
        &self.likelihoods[case * self.hatchlings..(case + 1) * self.hatchlings]
    }

    /// Log10 likelihood if one candidate fathered all.
    pub(super) fn by_one(&self, candidate: usize) -> f64 {
        let mut logs = Scaled::ONE;
        for group in self.groups() {
            let of = group.filter(|case| self.cases[*case].candidate == candidate);
            logs.times(of.map(|case| self.cases[case].chance * product(self.young(case))).sum());
        }
        logs.log10()
    }

    /// Likelihood of each hatchling under each candidate of a set, `hatchling * set.len() + place`,
    /// where every candidate has one case in every group.
    pub(super) fn known(&self, set: &[usize]) -> Option<Vec<f64>> {
        let mut eggs = vec![1.0; self.hatchlings * set.len()];
        for group in self.groups() {
            let mut found = 0;
            for case in group {
                let Some(place) = set.iter().position(|c| *c == self.cases[case].candidate) else {
                    continue;
                };
                if self.cases[case].chance < 1.0 {
                    return None;
                }
                found += 1;
                for (hatchling, p) in self.young(case).iter().enumerate() {
                    eggs[hatchling * set.len() + place] *= p;
                }
            }
            if found != set.len() {
                return None;
            }
        }
        Some(eggs)
    }
}

fn product(numbers: &[f64]) -> f64 {
    numbers.iter().product()
}

/// A product that neither under- nor overflows.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scaled {
    value: f64,
    log10: f64,
}

impl Scaled {
    pub(super) const ONE: Self = Self { value: 1.0, log10: 0.0 };

    pub(super) fn times(&mut self, factor: f64) {
        self.value *= factor;
        if self.value < 1e-200 && self.value > 0.0 {
            self.log10 += self.value.log10();
            self.value = 1.0;
        }
    }

    pub(super) fn log10(self) -> f64 {
        self.value.log10() + self.log10
    }
}
