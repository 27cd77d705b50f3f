//! Why a female is left out tonight.

use std::collections::{BTreeMap, BTreeSet};

use crate::bars::barred;
use crate::fact::{Fact, Subject, Value};
use crate::plan::Evening;
use crate::room::StayState;
use crate::rule::Rule;
use crate::turns::next_free;
use crate::wanted::in_need;

/// The kind of reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Why {
    /// No planned pair names her.
    NoPlannedPair,
    /// Her planned pairs ask for a gene that no male carries.
    NoMaleFits,
    /// A rule keeps her where she is.
    SheWaits,
    /// No mating is wanted at her size, or her monthly turn has not come.
    NotWanted,
    /// Rules keep every male planned for her: impossible tonight.
    NoMaleMay,
    /// A planned male is with another female tonight.
    MalesElsewhere,
}

/// A female that is not placed, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    /// Index of the female.
    pub female: usize,
    /// The kind of reason.
    pub why: Why,
    /// Whether a mating is wanted in some band with the chance that makes her needy.
    pub in_need: bool,
    /// The reason, headline first.
    pub facts: Vec<Fact>,
}

pub(crate) fn left_out(evening: &Evening<'_>, pairs: &[(usize, usize)]) -> Vec<LeftOut> {
    let goes_to: BTreeMap<usize, usize> = pairs.iter().copied().collect();
    let mut placed = vec![false; evening.room.females.len()];
    for &(_, j) in pairs {
        placed[j] = true;
    }
    let omission = Omission { evening, goes_to };
    (0..placed.len())
        .filter(|&j| !placed[j] && evening.female_kept[j].is_none())
        .map(|j| omission.of(j))
        .collect()
}

struct Omission<'a> {
    evening: &'a Evening<'a>,
    /// The female each moved male goes to.
    goes_to: BTreeMap<usize, usize>,
}

impl Omission<'_> {
    fn of(&self, female: usize) -> LeftOut {
        let wanted = self.evening.measures.wanted[female].as_ref();
        let in_need = wanted.is_some_and(|w| in_need(w, self.evening.rules));
        let (why, mut facts) = self.reason(female);
        let told = |fact: &Fact| !facts.contains(fact);
        let ruled_out: Vec<Fact> = self.ruled_out(female).filter(told).collect();
        facts.extend(ruled_out);
        LeftOut { female, why, in_need, facts }
    }

    /// Males named for her that are ruled out: told whatever else keeps her where she is.
    fn ruled_out(&self, j: usize) -> impl Iterator<Item = Fact> {
        let males = self.evening.males_of[j].iter().flatten();
        let out = males.filter(move |&&i| self.evening.ruled_out(i, j));
        out.map(move |&male| {
            Fact::told(Rule::RuledOut, Subject::Pair { male, female: j }, Value::Holds)
        })
    }

    fn reason(&self, j: usize) -> (Why, Vec<Fact>) {
        let her_bars = || unmet(&self.evening.of_female[j]);
        let claim = &self.evening.claims[j];
        let about = Subject::Female(j);
        let Some(males) = &self.evening.males_of[j] else {
            let mut facts = vec![Fact::told(Rule::NoPlannedPair, about, Value::Holds)];
            facts.extend(her_bars());
            facts.extend(&claim.facts);
            facts.extend(self.suggestion(j));
            return (Why::NoPlannedPair, facts);
        };
        if males.is_empty() {
            let mut facts = vec![Fact::told(Rule::NoMaleFits, about, Value::Holds)];
            facts.extend(her_bars());
            facts.extend(&claim.facts);
            (Why::NoMaleFits, facts)
        } else if barred(&self.evening.of_female[j]) {
            (Why::SheWaits, her_bars())
        } else if !claim.open {
            (Why::NotWanted, claim.facts.clone())
        } else {
            let (elsewhere, mut facts) = self.of_males(j, males);
            facts.extend(&claim.facts);
            (if elsewhere { Why::MalesElsewhere } else { Why::NoMaleMay }, facts)
        }
    }

    /// Why each planned male does not come; and whether one of them is with another female.
    fn of_males(&self, j: usize, males: &BTreeSet<usize>) -> (bool, Vec<Fact>) {
        let mut elsewhere = false;
        let mut facts = Vec::new();
        for &i in males {
            let pair = Subject::Pair { male: i, female: j };
            if self.evening.ruled_out(i, j) {
                facts.push(Fact::told(Rule::RuledOut, pair, Value::Holds));
            } else if let Some(kept) = self.kept(i) {
                elsewhere = true;
                facts.extend(kept);
            } else if !self.evening.male_may(i) {
                facts.extend(self.male_bars(i));
            } else {
                elsewhere |= self.goes_to.contains_key(&i);
                facts.extend(self.worth_more(i, j));
            }
        }
        (elsewhere, facts)
    }

    /// The stay that keeps a male tonight, and when he is free again.
    fn kept(&self, i: usize) -> Option<Vec<Fact>> {
        let stay = self.evening.male_kept[i]?;
        let about = Subject::Pair { male: i, female: stay.female };
        Some(match stay.state {
            StayState::StillLocked { nights } => {
                vec![Fact::told(Rule::StillLocked, about, Value::Nights(nights))]
            }
            _ => {
                let mut facts = vec![Fact::told(Rule::PlacedTonight, about, Value::Holds)];
                facts.extend(self.free_again(i, true));
                facts
            }
        })
    }

    /// The rules that keep a male, and when he is free again where only nights must pass.
    fn male_bars(&self, i: usize) -> Vec<Fact> {
        let mut facts = unmet(&self.evening.of_male[i]);
        if facts.iter().all(|f| matches!(f.rule, Rule::NightsPlaced | Rule::RestAfterLock)) {
            facts.extend(self.free_again(i, false));
        }
        facts
    }

    fn free_again(&self, i: usize, placed_tonight: bool) -> Option<Fact> {
        let nights = next_free(&self.evening.room.males[i], self.evening.rules, placed_tonight)?;
        Some(Fact::told(Rule::FreeAgain, Subject::Male(i), Value::Nights(nights)))
    }

    /// His worth where he goes against his worth here, or that the plan gives the pair none.
    fn worth_more(&self, i: usize, j: usize) -> Vec<Fact> {
        let worth_at = |female| self.evening.worths.get(&(i, female)).map_or(0.0, |w| w.total);
        let here = Value::Worth(worth_at(j));
        let Some(&other) = self.goes_to.get(&i) else {
            let pair = Subject::Pair { male: i, female: j };
            return vec![Fact::against(Rule::Worth, pair, here, Value::Worth(0.0))];
        };
        let there = Subject::Pair { male: i, female: other };
        let worth = Value::Worth(worth_at(other));
        let mut facts = vec![Fact::against(Rule::WorthMore, there, worth, here)];
        facts.extend(self.free_again(i, true));
        facts
    }

    /// The likeliest locker among the males that stay at home tonight.
    fn suggestion(&self, j: usize) -> Option<Fact> {
        if !self.evening.female_may(j) {
            return None;
        }
        let lock = &self.evening.measures.lock;
        let idle = (0..lock.len()).filter(|&i| {
            self.evening.male_may(i)
                && !self.goes_to.contains_key(&i)
                && !self.evening.ruled_out(i, j)
        });
        let best = idle.reduce(|best, i| if lock[i] > lock[best] { i } else { best })?;
        Some(Fact::told(Rule::Suggestion, Subject::Male(best), Value::Share(lock[best])))
    }
}

/// The facts that bar, and the age of a weight that bars.
pub(crate) fn unmet(facts: &[Fact]) -> Vec<Fact> {
    let light = facts
        .iter()
        .any(|f| matches!(f.rule, Rule::FemaleWeight | Rule::MaleWeight) && !f.is_met());
    let told = |f: &&Fact| !f.is_met() || (light && f.rule == Rule::WeightAge);
    facts.iter().filter(told).copied().collect()
}
