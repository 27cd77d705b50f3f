//! "Which pairs are planned this season?"

use std::collections::HashSet;

use records::words::{Choice, PlannedMale};
use records::{Colony, RecordId};
use units::Day;

use crate::tonight::Carries;

/// The chance from which a male is meant by a plan that asks for a gene; our own choice: as likely as
/// not, and the chance is told with it.
pub const LEAST_CARRIED: f64 = 0.5;

/// Who is planned for her.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// This male, by his place in the colony.
    Male(usize),
    /// Any male that carries this, in trade shorthand.
    Carrying(String),
}

/// A planned pair.
#[derive(Clone, Debug, PartialEq)]
pub struct PairPlanned {
    /// Place of the female in the colony.
    pub female: usize,
    /// Him.
    pub wanted: Wanted,
    /// First or second choice.
    pub choice: Choice,
    /// How much it is wanted; 1 is ordinary, 0 rules the pair out.
    pub weight: f64,
    /// The record that plans it.
    pub record: RecordId,
    /// The day it was planned, or of its first night.
    pub since: Day,
    /// Whether it was written down; else the pair's first night made it.
    pub is_written: bool,
}

/// Pairs written down this season, those ruled out among them, then every other pair that had a night this season: a sheet of
/// nights is the keeper's plan as far as it goes.
#[must_use]
pub fn planned_pairs(colony: &Colony, carries: &Carries<'_>) -> Vec<PairPlanned> {
    let opens = colony.season().opens();
    let mut all = Vec::new();
    for plan in colony.planned.iter().filter(|p| p.day >= opens) {
        let Some(female) = colony.place_of(plan.what.female) else { continue };
        let wanted = match &plan.what.male {
            PlannedMale::Animal(id) => colony.place_of(*id).map(Wanted::Male),
            PlannedMale::Carrying(text) => Some(Wanted::Carrying(text.clone())),
        };
        let Some(wanted) = wanted else { continue };
        all.push(PairPlanned {
            female,
            wanted,
            choice: plan.what.choice,
            weight: plan.what.weight,
            record: plan.record,
            since: plan.day,
            is_written: true,
        });
    }
    // The newest word on a pair decides whether it is ruled out.
    let later = |at: usize, plan: &PairPlanned| {
        all[at + 1..].iter().any(|p| (p.female, &p.wanted) == (plan.female, &plan.wanted))
    };
    let void: Vec<RecordId> = all
        .iter()
        .enumerate()
        .filter(|(at, plan)| plan.is_ruled_out() && later(*at, plan))
        .map(|(_, plan)| plan.record)
        .collect();
    all.retain(|plan| !void.contains(&plan.record));
    let n_written = all.len();
    let mut had_a_night = HashSet::new();
    for stay in colony.stays.iter().filter(|s| s.night.evening() >= opens) {
        let Some(record) = stay.placed else { continue };
        let names = |p: &PairPlanned| p.female == stay.female && p.fits(colony, carries, stay.male);
        if !had_a_night.insert((stay.male, stay.female)) || all[..n_written].iter().any(names) {
            continue;
        }
        all.push(PairPlanned {
            female: stay.female,
            wanted: Wanted::Male(stay.male),
            choice: Choice::First,
            weight: 1.0,
            record,
            since: stay.night.evening(),
            is_written: false,
        });
    }
    all
}

impl PairPlanned {
    /// Whether the pair is not to be placed.
    #[must_use]
    pub fn is_ruled_out(&self) -> bool {
        self.weight <= 0.0
    }

    /// Whether the plan means this male.
    #[must_use]
    pub fn fits(&self, colony: &Colony, carries: &Carries<'_>, male: usize) -> bool {
        match &self.wanted {
            Wanted::Male(place) => *place == male,
            Wanted::Carrying(text) => carries(&colony.animals[male], text) >= LEAST_CARRIED,
        }
    }

    /// What he must carry, and the chance that he does; none where the plan names a male.
    #[must_use]
    pub fn carried(
        &self,
        colony: &Colony,
        carries: &Carries<'_>,
        male: usize,
    ) -> Option<(&str, f64)> {
        match &self.wanted {
            Wanted::Male(_) => None,
            Wanted::Carrying(text) => Some((text, carries(&colony.animals[male], text))),
        }
    }
}
