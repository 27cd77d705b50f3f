//! What an answer rests on: where that is the same, so is the answer.

use std::sync::Arc;

use records::Colony;
use units::Day;

use super::doubtful::Doubtful;
use super::lineage::Lineage;
use crate::settings::InForce;
use crate::sire::{Father, candidates_by};

/// What the chances of a colony rest on, settings aside.
#[derive(Debug, PartialEq)]
pub(super) struct Given {
    pub lineage: Arc<Lineage>,
    /// The class of every animal: what is written of it.
    pub class_of: Vec<u32>,
    /// Clutches in doubt, as nobody is written as their sire.
    pub open: Vec<Doubtful>,
    /// Those that what is seen may put in doubt.
    pub told: Vec<Doubtful>,
}

/// What the clashes of a colony rest on, settings aside.
#[derive(Debug, PartialEq)]
pub(super) struct ClashesGiven {
    pub lineage: Lineage,
    pub class_of: Vec<u32>,
    /// What holds a clutch together, by animal.
    litters: Vec<(Option<String>, Option<Day>)>,
    /// The young of every clutch, and who may be their sire.
    fathers: Vec<(Vec<usize>, Vec<Father>)>,
}

impl ClashesGiven {
    pub fn of(colony: &Colony, force: &InForce, (lineage, class_of): (Lineage, Vec<u32>)) -> Self {
        let litter = |animal: &records::Animal| (animal.clutch.clone(), animal.hatched);
        let fathers = colony.clutches.iter().map(|clutch| {
            let all = candidates_by(colony, clutch, force).into_iter();
            (clutch.young.clone(), all.map(|candidate| candidate.father).collect())
        });
        Self {
            litters: colony.animals.iter().map(litter).collect(),
            fathers: fathers.collect(),
            lineage,
            class_of,
        }
    }
}
