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
}

/// Every male in the house on the day the colony stands at, in journal order.
#[must_use]
pub fn suitors(colony: &Colony) -> Vec<Suitor> {
    let rules = rules(colony);
    let is_here = |animal: &records::Animal| {
        animal.sex() == Some(Sex::Male) && animal.presence(colony.as_of.day) == Presence::InHouse
    };
    let males = (0..colony.animals.len()).filter(|place| is_here(&colony.animals[*place]));
    males.map(|male| Suitor { male, takes_part: takes_part(colony, &rules, male) }).collect()
}
