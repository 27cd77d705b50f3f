//! "How closely are they related?" Inbreeding and kinship, as far as parents are written.

mod lines;
mod relation;
mod words;

use std::collections::HashMap;

use genetics::kinship::Kinship;
use records::colony::Presence;
use records::{Colony, Sex};

use crate::settings::rules;
use crate::tonight::takes_part;

pub use relation::Relation;
pub use words::percent;

/// Everybody's kinship, reckoned once for a colony.
#[derive(Clone, Debug)]
pub struct ColonyKin {
    kinship: Kinship,
    /// Sire and dam of every animal; behind the animals come the unknown parents of clutches.
    parents: Vec<[Option<usize>; 2]>,
    n_animals: usize,
    /// Animals whose written parents would make them their own ancestors: taken as unwritten.
    pub circle: Vec<usize>,
}

/// Females and males of the house that could be put together, by their places in the colony: of
/// breeding size, planned, or placed before.
#[must_use]
pub fn prospective(colony: &Colony) -> (Vec<usize>, Vec<usize>) {
    let rules = rules(colony);
    let of_house = |sex: Sex| {
        (0..colony.animals.len()).filter(move |place| {
            let animal = &colony.animals[*place];
            animal.sex() == Some(sex) && animal.presence(colony.as_of.day) == Presence::InHouse
        })
    };
    let breeds = |place: &usize| {
        let animal = &colony.animals[*place];
        let mass = animal.last_weight().map(|weight| weight.what);
        let is_large = mass.is_some_and(|m| rules.female_at_least.is_none_or(|least| m >= least));
        let is_planned = colony.planned.iter().any(|plan| plan.what.female == animal.id);
        is_large || is_planned || !animal.stays.is_empty() || !animal.laid.is_empty()
    };
    let females = of_house(Sex::Female).filter(breeds).collect();
    let males = of_house(Sex::Male).filter(|place| takes_part(colony, &rules, *place)).collect();
    (females, males)
}

/// One common ancestor of a pair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Behind {
    /// Its place in the colony; none for the parent nobody knows of a clutch.
    pub animal: Option<usize>,
    /// Its sex: a parent nobody knows has the sex of its part.
    pub sex: Option<Sex>,
    /// What it adds to the kinship.
    pub share: f64,
    /// Generations down to either of the pair on the shortest way; 0 where it is one of the two.
    pub generations: [usize; 2],
}

/// How much of an animal's descent is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Written {
    /// Parents, of 2.
    pub parents: usize,
    /// Grandparents, of 4.
    pub grandparents: usize,
}

/// How two animals are related.
#[derive(Clone, Debug, PartialEq)]
pub struct PairKin {
    /// The two, as asked.
    pub pair: [usize; 2],
    /// Chance that a gene of one and a gene of the other come from one ancestor: the inbreeding of
    /// their young.
    pub kinship: f64,
    /// What the second is to the first, the closest first; empty where there is no common word.
    pub relations: Vec<Relation>,
    /// The common ancestors, those that add most first; together they are the kinship.
    pub behind: Vec<Behind>,
    /// What is written of either.
    pub written: [Written; 2],
}

impl ColonyKin {
    /// Reckons the inbreeding of every animal of a colony.
    #[must_use]
    pub fn of(colony: &Colony) -> Self {
        lines::reckon(colony)
    }

    /// Inbreeding of an animal: 0 where nothing is written of its parents.
    #[must_use]
    pub fn inbreeding(&self, animal: usize) -> f64 {
        self.kinship.inbreeding(animal).unwrap_or_default()
    }

    /// Kinship alone of every pair of these two lists, by the second and then the first.
    #[must_use]
    pub fn block(&self, first: &[usize], second: &[usize]) -> Vec<Vec<f64>> {
        let block = self.kinship.block(first, second);
        let row = |at: usize| {
            let values = block.as_ref().map_or(&[][..], |block| block.of_female(at));
            values.iter().map(|value| f64::from(*value)).collect()
        };
        (0..second.len()).map(row).collect()
    }

    /// Two animals: how closely related, by what name, through whom.
    #[must_use]
    pub fn pair(&self, colony: &Colony, first: usize, second: usize) -> PairKin {
        let pair = [first, second];
        let above = pair.map(|animal| self.above(animal));
        let behind = self.kinship.behind(first, second).into_iter().map(|share| {
            let ancestor = share.ancestor;
            let animal = Some(ancestor).filter(|place| *place < self.n_animals);
            let told = animal.and_then(|place| colony.animals[place].sex());
            Behind {
                animal,
                sex: told.or_else(|| self.part(ancestor)),
                share: share.share,
                generations: [0, 1].map(|side| above[side].get(&ancestor).copied().unwrap_or(0)),
            }
        });
        let mut behind: Vec<Behind> = behind.collect();
        let sire_first = |b: &Behind| (b.sex != Some(Sex::Male), b.animal);
        behind.sort_by(|a, b| {
            b.share.total_cmp(&a.share).then_with(|| sire_first(a).cmp(&sire_first(b)))
        });
        PairKin {
            pair,
            kinship: self.kinship.pair(first, second).unwrap_or_default(),
            relations: relation::relations(&self.parents, first, second),
            behind,
            written: pair.map(|animal| self.written(animal)),
        }
    }

    /// Whether it is a sire or a dam, where it has young.
    fn part(&self, parent: usize) -> Option<Sex> {
        self.parents.iter().find_map(|[sire, dam]| {
            let is = |part: &Option<usize>| *part == Some(parent);
            if is(sire) { Some(Sex::Male) } else { is(dam).then_some(Sex::Female) }
        })
    }

    /// Every ancestor with the generations between.
    fn above(&self, animal: usize) -> HashMap<usize, usize> {
        let mut found = HashMap::from([(animal, 0)]);
        let mut now = vec![animal];
        for generation in 1.. {
            let parents = now.iter().flat_map(|a| self.parents[*a]).flatten();
            let mut next: Vec<usize> = parents.filter(|p| !found.contains_key(p)).collect();
            next.sort_unstable();
            next.dedup();
            if next.is_empty() {
                break;
            }
            found.extend(next.iter().map(|parent| (*parent, generation)));
            now = next;
        }
        found
    }

    fn written(&self, animal: usize) -> Written {
        let known = |animal: &usize| {
            let written = self.parents[*animal].into_iter().flatten();
            written.filter(|parent| *parent < self.n_animals).collect::<Vec<_>>()
        };
        let parents = known(&animal);
        Written { parents: parents.len(), grandparents: parents.iter().flat_map(known).count() }
    }
}
