//! "Which males could she go with?"

use records::colony::Presence;
use records::{Colony, Sex};

use crate::settings::rules;
use crate::tonight::takes_part;

/// A male of the house, as seen from a female.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Suitor {
    /// His place in the colony.
    pub male: usize,
    /// Whether he is of breeding size, was ever placed, or is planned.
    pub takes_part: bool,
    /// How closely he is related to her, as far as parents are written.
    pub kin: Option<&'static str>,
}

/// Every male in the house on the day the colony stands at, in journal order. `her` is none for an
/// animal that is not of the house.
#[must_use]
pub fn suitors(colony: &Colony, her: Option<usize>) -> Vec<Suitor> {
    let rules = rules(colony);
    let is_here = |animal: &records::Animal| {
        animal.sex() == Some(Sex::Male) && animal.presence(colony.as_of.day) == Presence::InHouse
    };
    let males = (0..colony.animals.len()).filter(|place| is_here(&colony.animals[*place]));
    males
        .map(|male| Suitor {
            male,
            takes_part: takes_part(colony, &rules, male),
            kin: her.and_then(|her| kin(colony, her, male)),
        })
        .collect()
}

/// The nearest relation of a male to a female that their written parents show. Relations further
/// back, and those through parents nobody wrote down, are not seen.
#[must_use]
pub fn kin(colony: &Colony, her: usize, him: usize) -> Option<&'static str> {
    let (she, he) = (&colony.animals[her], &colony.animals[him]);
    let same = |a: Option<usize>, b: Option<usize>| a.is_some() && a == b;
    let of_same = (same(she.sire, he.sire), same(she.dam, he.dam));
    if she.sire == Some(him) {
        Some("her sire")
    } else if he.dam == Some(her) {
        Some("her son")
    } else if of_same == (true, true) {
        Some("her full brother")
    } else if of_same.0 || of_same.1 {
        Some("her half brother")
    } else {
        None
    }
}
