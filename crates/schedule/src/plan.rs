//! Tonight's plan: rules first, then the assignment of greatest worth.

use std::collections::{BTreeMap, BTreeSet};

use crate::assignment::assign;
use crate::bars::{barred, of_female, of_male};
use crate::coming_out::coming_out;
use crate::fact::{Fact, Subject, Value};
use crate::omission::{LeftOut, left_out};
use crate::room::{Female, Room, Size, Stay, StayState};
use crate::rule::Rule;
use crate::rules::Rules;
use crate::wanted::{Wanted, likeliest};
use crate::worth::{Measures, Worth};

/// A placement: one that is advised, or one that stands already.
#[derive(Clone, Debug, PartialEq)]
pub struct Move {
    /// Index of the male.
    pub male: usize,
    /// Index of the female.
    pub female: usize,
    /// The other female in whose tub he still is from an earlier night: the move starts there.
    pub from: Option<usize>,
    /// What it is worth; `None` for a standing placement that no plan names.
    pub worth: Option<Worth>,
    /// Why, headline first. In an advised move every fact is met.
    pub facts: Vec<Fact>,
}

/// What to do tonight.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// Placements advised, by index of the male.
    pub moves: Vec<Move>,
    /// Placements made for tonight already, in the order given.
    pub done: Vec<Move>,
    /// Pairs still locked and left alone, in the order given.
    pub left_alone: Vec<Move>,
    /// Pairs together from an earlier night that are best left so: nobody walks.
    pub staying: Vec<Move>,
    /// Pairs together from an earlier night of which he comes out and goes nowhere, each with why.
    pub coming_out: Vec<Move>,
    /// Every female that is not placed, by index, each with why.
    pub left_out: Vec<LeftOut>,
    /// Sum of the worths of the advised moves and of the pairs that stay.
    pub worth: f64,
}

/// What is known of everybody before anyone is moved.
pub(crate) struct Evening<'a> {
    pub(crate) room: &'a Room,
    pub(crate) rules: &'a Rules,
    pub(crate) measures: Measures,
    /// Facts of every female's own rules.
    pub(crate) of_female: Vec<Vec<Fact>>,
    /// Facts of every male's own rules.
    pub(crate) of_male: Vec<Vec<Fact>>,
    /// Whether a female is due for a mating, and the facts that say so.
    pub(crate) claims: Vec<Claim>,
    /// The stay that keeps each female.
    pub(crate) female_kept: Vec<Option<Stay>>,
    /// The stay that keeps each male.
    pub(crate) male_kept: Vec<Option<Stay>>,
    /// Best worth of every planned pair (male, female), allowed tonight or not.
    pub(crate) worths: BTreeMap<(usize, usize), Worth>,
    /// The males planned for each female, `None` where no planned pair names her.
    pub(crate) males_of: Vec<Option<BTreeSet<usize>>>,
    ruled_out: BTreeSet<(usize, usize)>,
}

/// Whether a female is to be mated tonight as far as her size goes.
pub(crate) struct Claim {
    pub(crate) open: bool,
    pub(crate) facts: Vec<Fact>,
}

impl<'a> Evening<'a> {
    fn of(room: &'a Room, rules: &'a Rules) -> Self {
        let measures = Measures::of(room, rules);
        let (mut female_kept, mut male_kept) =
            (vec![None; room.females.len()], vec![None; room.males.len()]);
        for stay in &room.stays {
            if !stay.is_left_together() {
                keep(&mut female_kept, stay.female, *stay);
                keep(&mut male_kept, stay.male, *stay);
            }
        }
        let females = room.females.iter().enumerate().zip(&measures.wanted);
        let (claims, of_female) = females
            .map(|((j, f), w)| (claim(j, f, w.as_ref(), rules), of_female(j, f, w.as_ref(), rules)))
            .unzip();
        let of_male = room.males.iter().enumerate().map(|(i, m)| of_male(i, m, rules)).collect();
        let worths = planned_worths(room, rules, &measures);
        let (males_of, ruled_out) = (males_of(room), room.ruled_out.iter().copied().collect());
        Self {
            room,
            rules,
            measures,
            of_female,
            of_male,
            claims,
            female_kept,
            male_kept,
            worths,
            males_of,
            ruled_out,
        }
    }

    pub(crate) fn ruled_out(&self, male: usize, female: usize) -> bool {
        self.ruled_out.contains(&(male, female))
    }

    pub(crate) fn female_may(&self, j: usize) -> bool {
        self.claims[j].open && self.female_kept[j].is_none() && !barred(&self.of_female[j])
    }

    pub(crate) fn male_may(&self, i: usize) -> bool {
        self.male_kept[i].is_none() && !barred(&self.of_male[i])
    }

    /// Planned pairs that no rule forbids, with their worth.
    fn allowed(&self) -> Vec<(usize, usize, f64)> {
        let females: Vec<bool> = (0..self.claims.len()).map(|j| self.female_may(j)).collect();
        let males: Vec<bool> = (0..self.of_male.len()).map(|i| self.male_may(i)).collect();
        self.worths
            .iter()
            .filter(|&(&(i, j), worth)| {
                worth.total > 0.0 && males[i] && females[j] && !self.ruled_out(i, j)
            })
            .map(|(&(i, j), worth)| (i, j, worth.total))
            .collect()
    }

    fn moved(&self, male: usize, female: usize) -> Move {
        let worth = self.worths.get(&(male, female)).copied();
        let mut facts = Vec::new();
        if let Some(worth) = &worth {
            facts.extend(self.worth_facts(male, female, worth));
        }
        facts.extend(self.room.stays.iter().filter_map(|s| match s.state {
            StayState::LeftTogether { nights } if (s.male, s.female) == (male, female) => {
                Some(Fact::told(
                    Rule::LeftTogether,
                    Subject::Pair { male, female },
                    Value::Nights(nights),
                ))
            }
            _ => None,
        }));
        facts.extend(&self.of_female[female]);
        facts.extend(&self.of_male[male]);
        let from = self.sits_with(male).filter(|&other| other != female);
        Move { male, female, from, worth, facts }
    }

    /// The female in whose tub he is from an earlier night, unlocked.
    fn sits_with(&self, male: usize) -> Option<usize> {
        let left = self.room.stays.iter().filter(|s| s.is_left_together());
        left.filter(|s| s.male == male).map(|s| s.female).next_back()
    }

    fn worth_facts(&self, male: usize, female: usize, worth: &Worth) -> Vec<Fact> {
        let pair = Subject::Pair { male, female };
        let plan = Value::Plan { choice: worth.choice, weight: worth.plan };
        let mut facts = vec![Fact::told(Rule::PlannedPair, pair, plan)];
        facts.extend(&self.claims[female].facts);
        if matches!(self.room.females[female].size, Size::Followed(_)) {
            facts.push(Fact::told(Rule::Closing, pair, Value::Share(worth.closing)));
        }
        facts.push(Fact::told(Rule::LockRate, Subject::Male(male), Value::Share(worth.lock)));
        facts.push(Fact::told(Rule::Worth, pair, Value::Worth(worth.total)));
        facts
    }

    /// A stay that is not touched: what it is, then what the rules would say of it.
    fn standing(&self, stay: &Stay) -> Option<Move> {
        let Stay { male, female, state } = *stay;
        if male >= self.room.males.len() || female >= self.room.females.len() {
            return None;
        }
        let (rule, value) = match state {
            StayState::Tonight => (Rule::PlacedTonight, Value::Holds),
            StayState::StillLocked { nights } => (Rule::StillLocked, Value::Nights(nights)),
            StayState::LeftTogether { .. } => return None,
        };
        let mut placed = self.moved(male, female);
        placed.facts.insert(0, Fact::told(rule, Subject::Pair { male, female }, value));
        Some(placed)
    }
}

fn keep(kept: &mut [Option<Stay>], index: usize, stay: Stay) {
    if let Some(slot) = kept.get_mut(index) {
        slot.get_or_insert(stay);
    }
}

fn males_of(room: &Room) -> Vec<Option<BTreeSet<usize>>> {
    let mut males_of = vec![None; room.females.len()];
    for pair in &room.planned {
        if let Some(slot) = males_of.get_mut(pair.female) {
            let males = pair.males.iter().copied().filter(|&i| i < room.males.len());
            slot.get_or_insert_with(BTreeSet::new).extend(males);
        }
    }
    males_of
}

fn planned_worths(
    room: &Room,
    rules: &Rules,
    measures: &Measures,
) -> BTreeMap<(usize, usize), Worth> {
    let mut worths: BTreeMap<(usize, usize), Worth> = BTreeMap::new();
    for (planned, pair) in room.planned.iter().enumerate() {
        for &i in &pair.males {
            let Some(worth) = measures.worth(room, rules, planned, i) else { continue };
            let best = worths.entry((i, pair.female)).or_insert(worth);
            if worth.total > best.total {
                *best = worth;
            }
        }
    }
    worths
}

fn claim(j: usize, female: &Female, wanted: Option<&Wanted>, rules: &Rules) -> Claim {
    let about = Subject::Female(j);
    let share = Value::Share;
    let (Size::Followed(follicles), Some(wanted)) = (&female.size, wanted) else {
        return unchecked_claim(about, female, rules);
    };
    let any = Fact::against(Rule::MatingWanted, about, share(wanted.any), share(rules.wanted_from));
    let open = any.is_met();
    let mut facts = vec![any];
    let k = if open { wanted.likeliest_band() } else { likeliest(&follicles.in_band) };
    facts.push(Fact::told(Rule::InBand(k), about, share(follicles.in_band[k])));
    facts.push(Fact::told(Rule::MatedIn(k), about, share(wanted.mated[k])));
    let limit = share(rules.in_need_from);
    facts.push(Fact::against(Rule::WantedIn(k), about, share(wanted.by_band[k]), limit));
    Claim { open, facts }
}

fn unchecked_claim(about: Subject, female: &Female, rules: &Rules) -> Claim {
    let turn = match female.size {
        Size::Unchecked { nights_since_placed: Some(nights) } => Fact::against(
            Rule::UncheckedTurn,
            about,
            Value::Nights(nights),
            Value::Nights(rules.unchecked_every),
        ),
        _ => Fact::told(Rule::UncheckedTurn, about, Value::Unknown),
    };
    let due = Fact::told(Rule::CheckDue, about, Value::Holds);
    Claim { open: turn.is_met(), facts: vec![turn, due] }
}

/// Plans the night.
///
/// Every advised move keeps every rule; among all such plans the sum of worths is the greatest
/// (see [`assign`] for how finely worths are told apart). Stays that are done or still locked are
/// never touched. The same room gives the same plan.
#[must_use]
pub fn tonight(room: &Room, rules: &Rules) -> Plan {
    let parted = (!rules.locked_left_alone).then(|| locks_untold(room));
    let room = parted.as_ref().unwrap_or(room);
    let evening = Evening::of(room, rules);
    let pairs = solve(&evening.allowed());
    let stays = |m: &Move| {
        let own = |s: &&Stay| (s.male, s.female) == (m.male, m.female);
        room.stays.iter().filter(own).any(Stay::is_left_together)
    };
    let advised = pairs.iter().map(|&(i, j)| evening.moved(i, j));
    let (staying, moves): (Vec<Move>, Vec<Move>) = advised.partition(stays);
    let (mut done, mut left_alone) = (Vec::new(), Vec::new());
    for stay in &room.stays {
        let list = if stay.state == StayState::Tonight { &mut done } else { &mut left_alone };
        list.extend(evening.standing(stay));
    }
    let worth = moves.iter().chain(&staying).filter_map(|m| m.worth).map(|w| w.total).sum();
    let left_out = left_out(&evening, &pairs);
    let coming_out = coming_out(&evening, &pairs);
    Plan { moves, done, left_alone, staying, coming_out, left_out, worth }
}

/// The same room with pairs still locked as pairs left together.
fn locks_untold(room: &Room) -> Room {
    let mut room = room.clone();
    for stay in &mut room.stays {
        if let StayState::StillLocked { nights } = stay.state {
            stay.state = StayState::LeftTogether { nights };
        }
    }
    room
}

/// The best matching among the allowed pairs, as (male, female) by index of the male.
fn solve(allowed: &[(usize, usize, f64)]) -> Vec<(usize, usize)> {
    let mut males: Vec<usize> = allowed.iter().map(|p| p.0).collect();
    let mut females: Vec<usize> = allowed.iter().map(|p| p.1).collect();
    for list in [&mut males, &mut females] {
        list.sort_unstable();
        list.dedup();
    }
    let mut worth = vec![0.0; males.len() * females.len()];
    for &(i, j, w) in allowed {
        if let (Ok(row), Ok(column)) = (males.binary_search(&i), females.binary_search(&j)) {
            worth[row * females.len() + column] = w;
        }
    }
    let matched = assign(males.len(), females.len(), &worth);
    let pairs = males.iter().zip(matched);
    pairs.filter_map(|(&i, column)| Some((i, females[column?]))).collect()
}
