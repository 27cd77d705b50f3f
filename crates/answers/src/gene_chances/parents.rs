//! Parents that are doubted or left out, in words.

use records::{Colony, Sex};

use crate::listed::first_of;

use super::GeneChances;
use super::lineage::WrongSex;

/// A parent that is doubted or left out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ParentDoubt {
    /// Of whom: one of its young.
    pub young: usize,
    /// Whether its sire is meant; else its dam.
    pub is_sire: bool,
    /// The parent, where its sex may be what is wrong.
    pub told: Option<usize>,
    /// The whole, as a sentence.
    pub said: String,
}

/// Most young named in one sentence; our own choice.
const MOST_NAMED: usize = 3;

/// "M07 is told male but written as the dam of C21-01-1, and so left out of its parents."
fn left_out(colony: &Colony, wrong: WrongSex, young: &[usize]) -> ParentDoubt {
    let WrongSex { parent, needed, .. } = wrong;
    let name = colony.code(parent);
    let (told, role) = match needed {
        Sex::Male => ("female", "sire"),
        Sex::Female => ("male", "dam"),
    };
    let named: Vec<&str> = young.iter().take(MOST_NAMED).map(|at| colony.code(*at)).collect();
    let named = first_of(&named, MOST_NAMED, young.len());
    let whose = if young.len() == 1 { "its" } else { "their" };
    let said = format!(
        "{name} is told {told} but written as the {role} of {named}, and so left out of {whose} parents. Correct the {role}, or the sex of {name}."
    );
    ParentDoubt { young: wrong.young, is_sire: needed == Sex::Male, told: Some(parent), said }
}

impl GeneChances {
    /// What is doubted or left out of the parents of an animal, in words.
    #[must_use]
    pub fn of_parents(&self, colony: &Colony, place: usize) -> Vec<String> {
        let against = self.sires_of(place).and_then(|sires| sires.against_written(colony));
        let wrong = self.wrong_sex().iter().filter(|wrong| wrong.young == place);
        let left_out = wrong.map(|wrong| left_out(colony, *wrong, &[place]).said);
        against.into_iter().chain(left_out).collect()
    }

    /// The same of all animals, each clutch and each parent once.
    #[must_use]
    pub fn of_all_parents(&self, colony: &Colony) -> Vec<ParentDoubt> {
        let against = self.sires.iter().filter_map(|sires| {
            let said = sires.against_written(colony)?;
            Some(ParentDoubt { young: *sires.young.first()?, is_sire: true, told: None, said })
        });
        let mut all: Vec<ParentDoubt> = against.collect();
        let mut by_parent: Vec<(WrongSex, Vec<usize>)> = Vec::new();
        for wrong in self.wrong_sex() {
            let same = |(known, _): &&mut (WrongSex, Vec<usize>)| {
                (known.parent, known.needed) == (wrong.parent, wrong.needed)
            };
            match by_parent.iter_mut().find(same) {
                Some((_, young)) => young.push(wrong.young),
                None => by_parent.push((*wrong, vec![wrong.young])),
            }
        }
        all.extend(by_parent.iter().map(|(wrong, young)| left_out(colony, *wrong, young)));
        all
    }
}
