//! Males that come out of a tub tonight and go nowhere, and why.

use crate::fact::{Fact, Subject, Value};
use crate::omission::unmet;
use crate::plan::{Evening, Move};
use crate::room::{Stay, StayState};
use crate::rule::Rule;

/// Of the pairs left together those of which the plan wants neither the pair nor the male
/// elsewhere.
pub(crate) fn coming_out(evening: &Evening<'_>, pairs: &[(usize, usize)]) -> Vec<Move> {
    let (males, females) = (evening.room.males.len(), evening.room.females.len());
    let is_idle = |s: &&Stay| {
        s.male < males
            && s.female < females
            && evening.male_kept[s.male].is_none()
            && pairs.iter().all(|&(i, _)| i != s.male)
    };
    let idle = evening.room.stays.iter().filter(is_idle);
    idle.filter_map(|stay| {
        let StayState::LeftTogether { nights } = stay.state else { return None };
        let Stay { male, female, .. } = *stay;
        let pair = Subject::Pair { male, female };
        let mut facts = vec![Fact::against(
            Rule::NightsTogether,
            pair,
            Value::Nights(nights),
            Value::Nights(0),
        )];
        facts.extend(why(evening, pairs, male, female));
        let worth = evening.worths.get(&(male, female)).copied();
        Some(Move { male, female, from: None, worth, facts })
    })
    .collect()
}

/// What keeps the pair from staying: a pair that nothing keeps would be the plan's own.
fn why(evening: &Evening<'_>, pairs: &[(usize, usize)], male: usize, female: usize) -> Vec<Fact> {
    let about = |male| Subject::Pair { male, female };
    let told = |rule, about| Fact::told(rule, about, Value::Holds);
    let mut facts: Vec<Fact> = Vec::new();
    if let Some(kept) = evening.female_kept[female] {
        facts.push(match kept.state {
            StayState::StillLocked { nights } => {
                Fact::told(Rule::StillLocked, about(kept.male), Value::Nights(nights))
            }
            _ => told(Rule::PlacedTonight, about(kept.male)),
        });
    }
    if evening.ruled_out(male, female) {
        facts.push(told(Rule::RuledOut, about(male)));
    }
    match &evening.males_of[female] {
        None => facts.push(told(Rule::NoPlannedPair, Subject::Female(female))),
        Some(males) if !males.contains(&male) => {
            facts.push(told(Rule::PairNotPlanned, about(male)));
        }
        Some(_) => {}
    }
    facts.extend(unmet(&evening.of_female[female]));
    facts.extend(unmet(&evening.of_male[male]));
    facts.extend(evening.claims[female].facts.iter().filter(|f| !f.is_met()));
    let other = pairs.iter().find(|&&(_, j)| j == female);
    facts.extend(other.map(|&(other, _)| told(Rule::OtherMale, about(other))));
    if facts.is_empty() {
        let (none, zero) = (Value::Worth(0.0), Value::Worth(0.0));
        facts.push(Fact::against(Rule::Worth, about(male), none, zero));
    }
    facts
}
