//! A kinship as a keeper reads it.

use records::{Colony, Sex};

use crate::listed::all_of;

use super::{Behind, PairKin, Relation};

/// Ancestors named in a sentence before the rest is counted; our choice.
const MOST_NAMED: usize = 4;
/// Relations named in a sentence; our choice.
const MOST_RELATIONS: usize = 2;

/// Words for one side of a pair.
#[derive(Clone, Copy)]
struct Pronoun {
    subject: &'static str,
    object: &'static str,
    possessive: &'static str,
}

fn pronoun(sex: Option<Sex>) -> Pronoun {
    match sex {
        Some(Sex::Male) => Pronoun { subject: "he", object: "him", possessive: "his" },
        Some(Sex::Female) => Pronoun { subject: "she", object: "her", possessive: "her" },
        None => Pronoun { subject: "it", object: "it", possessive: "its" },
    }
}

/// A share of genes as percent: 25 %, 12.5 %, 3.13 %, 0.39 %.
#[must_use]
pub fn percent(share: f64) -> String {
    let percent = share * 100.0;
    if percent > 0.0 && percent < 0.005 {
        return "less than 0.01 %".to_owned();
    }
    // Halves upwards: 3.125 is 3.13.
    let text = format!("{:.2}", (percent * 100.0).round() / 100.0);
    format!("{} %", text.trim_end_matches('0').trim_end_matches('.'))
}

impl PairKin {
    /// "young would be 12.5 % inbred: he is her half brother; both come from M01 (sire
    /// of both)";
    /// none where no ancestor is common. Of two of one sex: "kinship 12.5 %: ...".
    #[must_use]
    pub fn sentence(&self, colony: &Colony) -> Option<String> {
        if self.kinship <= 0.0 {
            return None;
        }
        let [ours, theirs] = self.pair.map(|animal| colony.animals[animal].sex());
        let can_breed = self.pair[0] != self.pair[1] && (ours.is_none() || ours != theirs);
        let share = percent(self.kinship);
        let inbred = if can_breed {
            format!("young would be {share} inbred")
        } else {
            format!("kinship {share}")
        };
        let relation = self.relation(colony);
        let behind = self.through(colony);
        Some(match (relation.is_empty(), behind.is_empty()) {
            (true, true) => inbred,
            (false, true) => format!("{inbred}: {relation}"),
            (true, false) => format!("{inbred}: both come from {behind}"),
            (false, false) => format!("{inbred}: {relation}; both come from {behind}"),
        })
    }

    /// "he is her half brother"; empty where there is no word for it.
    #[must_use]
    pub fn relation(&self, colony: &Colony) -> String {
        let [ours, theirs] = self.pair.map(|animal| colony.animals[animal].sex());
        let words: Vec<&str> =
            self.relations.iter().take(MOST_RELATIONS).map(|r| r.word(theirs)).collect();
        if words.is_empty() || self.relations == [Relation::Itself] {
            return String::new();
        }
        let (subject, possessive) = (pronoun(theirs).subject, pronoun(ours).possessive);
        format!("{subject} is {possessive} {}", words.join(" and "))
    }

    /// "M01 (sire of both)": the common ancestors, each with its part where there are several.
    /// Empty where the one is the only ancestor the other shares: the relation says it all.
    fn through(&self, colony: &Colony) -> String {
        if let [one] = self.behind.as_slice()
            && one.generations.contains(&0)
        {
            return String::new();
        }
        let is_one = self.behind.len() == 1;
        let said = |behind: &Behind| {
            let (name, role) = (name(colony, behind), self.role(colony, behind));
            let part = if is_one { String::new() } else { format!(", {}", percent(behind.share)) };
            format!("{name} ({role}{part})")
        };
        let mut all: Vec<String> = self.behind.iter().take(MOST_NAMED).map(said).collect();
        if let Some(more) = self.behind.get(MOST_NAMED..).filter(|more| !more.is_empty()) {
            let part: f64 = more.iter().map(|b| b.share).sum();
            all.push(format!("{} more ({})", more.len(), percent(part)));
        }
        all_of(&all)
    }

    /// What a common ancestor is to the pair: "sire of both", "her grandsire, his sire", "she
    /// herself".
    #[must_use]
    pub fn role(&self, colony: &Colony, behind: &Behind) -> String {
        let role = |side: usize| back(behind.generations[side], behind.sex);
        let [ours, theirs] = behind.generations;
        if ours == 0 || theirs == 0 {
            return match behind.sex {
                Some(Sex::Male) => "he himself".to_owned(),
                Some(Sex::Female) => "she herself".to_owned(),
                None => "it itself".to_owned(),
            };
        }
        match self.pair.map(|animal| colony.animals[animal].sex()) {
            _ if ours == theirs => format!("{} of both", role(0)),
            [Some(a), Some(b)] if a != b => {
                let [a, b] = [a, b].map(|sex| pronoun(Some(sex)).possessive);
                format!("{a} {}, {b} {}", role(0), role(1))
            }
            _ => {
                let [a, b] = self.pair.map(|animal| colony.code(animal));
                format!("{} of {a}, {} of {b}", role(0), role(1))
            }
        }
    }

    /// What limits the answer: whose parents are not written. Empty where the grandparents of both
    /// are.
    #[must_use]
    pub fn beyond(&self, colony: &Colony) -> Vec<String> {
        let said = |side: usize| {
            let written = self.written[side];
            let code = colony.code(self.pair[side]);
            let object = pronoun(colony.animals[self.pair[side]].sex()).object;
            match (written.parents, written.grandparents) {
                (0, _) => Some(format!(
                    "The parents of {code} are not written, so nothing is known beyond {object}."
                )),
                (1, _) => Some(format!("Only one parent of {code} is written.")),
                (_, 4) => None,
                (_, 0) => Some(format!("Both parents of {code} are written, but no grandparent.")),
                (_, n) => {
                    Some(format!("Both parents of {code} are written, and {n} of 4 grandparents."))
                }
            }
        };
        if self.written.iter().all(|written| written.parents == 0) {
            let both = "The parents of both are not written, so nothing is known beyond the two.";
            return vec![both.to_owned()];
        }
        (0..2).filter_map(said).collect()
    }
}

fn name(colony: &Colony, behind: &Behind) -> String {
    match (behind.animal, behind.sex) {
        (Some(place), _) => colony.code(place).to_owned(),
        (None, Some(Sex::Male)) => "a sire nobody wrote down".to_owned(),
        (None, _) => "a dam nobody wrote down".to_owned(),
    }
}

/// "sire", "granddam", "great-grandsire", "ancestor 5 generations back".
fn back(generations: usize, sex: Option<Sex>) -> String {
    match generations {
        1 => Relation::Parent.word(sex).to_owned(),
        2 => Relation::Grandparent.word(sex).to_owned(),
        3 => Relation::GreatGrandparent.word(sex).to_owned(),
        n => format!("ancestor {n} generations back"),
    }
}
