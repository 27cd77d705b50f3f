//! Who descends from whom, as far as records tell: every animal of the colony, and a parent of its
//! own for every clutch whose sire or dam nobody recorded.

use std::collections::HashMap;

use genetics::Origin;
use records::{Colony, Sex};
use units::Day;

/// No node.
pub(super) const NOBODY: u32 = u32::MAX;

/// Sire and dam, as nodes; of a founder neither, of young out of a female alone the dam.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Parents {
    pub sire: u32,
    pub dam: u32,
}

impl Parents {
    pub const NONE: Self = Self { sire: NOBODY, dam: NOBODY };

    /// The same for the engine.
    pub const fn origin(self) -> Origin {
        match self {
            Self { dam: NOBODY, .. } => Origin::Founder,
            Self { sire: NOBODY, dam } => Origin::Alone { dam: dam as usize },
            Self { sire, dam } => Origin::Parents { sire: sire as usize, dam: dam as usize },
        }
    }

    pub const fn are_known(self) -> bool {
        self.dam != NOBODY
    }

    /// Those there are, the sire first.
    pub fn each(self) -> impl Iterator<Item = u32> {
        [self.sire, self.dam].into_iter().filter(|parent| *parent != NOBODY)
    }
}

/// A parent that its sex forbids: a female written as a sire, or a male as a dam.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WrongSex {
    /// Whose parent it is written as.
    pub young: usize,
    /// Who.
    pub parent: usize,
    /// The sex it would have to be of.
    pub needed: Sex,
}

/// The animals of the colony are nodes 0, 1, 2, ... by place; parents nobody recorded follow after a
/// gap, so that one more animal leaves every other node where it is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Lineage {
    pub n_animals: usize,
    /// The first parent nobody recorded.
    pub first_unrecorded: usize,
    pub parents: Vec<Parents>,
    /// Parents before young.
    pub order: Vec<u32>,
    /// Sex by role, else as told.
    pub sex: Vec<Option<Sex>>,
    /// How many parents of an animal are recorded: 0, 1 or 2.
    pub recorded: Vec<u8>,
    /// The young of each node.
    pub young: Vec<Vec<u32>>,
    /// Animals that their records make their own ancestors; their parents are left out.
    pub circular: Vec<usize>,
    /// Parents whose sex is told otherwise: they are left out.
    pub wrong_sex: Vec<WrongSex>,
}

/// Nodes kept free for animals to come: multiples of this.
const GAP: usize = 256;

/// One unknown parent: by the known one, and what holds its clutch together.
type Litter<'c> = (u32, Option<usize>, Option<&'c str>, Option<Day>);

impl Lineage {
    pub fn of(colony: &Colony) -> Self {
        let n = colony.animals.len();
        let clutch_of = clutches(colony);
        let first_unrecorded = (n + 1).next_multiple_of(GAP);
        let mut made = Self { n_animals: n, first_unrecorded, ..Self::default() };
        let mut unknown: HashMap<Litter<'_>, u32> = HashMap::new();
        let mut n_nodes = count(first_unrecorded);
        for (place, animal) in colony.animals.iter().enumerate() {
            let clutch = clutch_of[place];
            let credited = clutch.and_then(|clutch| colony.clutches[clutch].sire);
            let (sire, dam) = (animal.sire.or(credited), animal.dam);
            // One animal cannot be both, nor its own parent: such a parent is not known.
            let own = |parent: &usize| *parent != place;
            let (sire, dam) = (sire.filter(own), dam.filter(own).filter(|dam| Some(*dam) != sire));
            let mut fits = |parent: &usize, sex: Sex| {
                let is_told = colony.animals[*parent].sex().is_some_and(|told| told != sex);
                let wrong = WrongSex { young: place, parent: *parent, needed: sex };
                made.wrong_sex.extend(is_told.then_some(wrong));
                !is_told
            };
            let sire = sire.filter(|sire| fits(sire, Sex::Male));
            let dam = dam.filter(|dam| fits(dam, Sex::Female));
            let mut another = |known: usize| {
                let told = if clutch.is_some() {
                    (None, None)
                } else {
                    (animal.clutch.as_deref(), animal.hatched)
                };
                let litter = (count(known), clutch, told.0, told.1);
                // Without a clutch or a day nothing says that two have the same unknown parent.
                let is_told =
                    clutch.is_some() || animal.clutch.is_some() || animal.hatched.is_some();
                let mut new = || {
                    n_nodes += 1;
                    n_nodes - 1
                };
                if is_told { *unknown.entry(litter).or_insert_with(new) } else { new() }
            };
            let parents = match (sire, dam) {
                (Some(sire), Some(dam)) => Parents { sire: count(sire), dam: count(dam) },
                (Some(sire), None) => Parents { sire: count(sire), dam: another(sire) },
                (None, Some(dam)) => Parents { sire: another(dam), dam: count(dam) },
                (None, None) => Parents::NONE,
            };
            made.parents.push(parents);
            made.recorded.push(u8::from(sire.is_some()) + u8::from(dam.is_some()));
        }
        made.parents.resize(n_nodes as usize, Parents::NONE);
        made.again(colony);
        made
    }

    /// Puts everything in order that follows from the parents.
    pub fn again(&mut self, colony: &Colony) {
        self.break_circles();
        self.settle(colony);
    }

    /// Adds a parent nobody recorded.
    pub fn add_unrecorded(&mut self) -> u32 {
        self.parents.push(Parents::NONE);
        count(self.parents.len() - 1)
    }

    /// Number of nodes.
    pub fn len(&self) -> usize {
        self.parents.len()
    }

    /// Orders parents before young; where an animal is its own ancestor, its parents are left out.
    fn break_circles(&mut self) {
        loop {
            let mut waits = vec![0_u8; self.parents.len()];
            self.young = vec![Vec::new(); self.parents.len()];
            for (node, parents) in (0_u32..).zip(&self.parents) {
                for parent in parents.each() {
                    waits[node as usize] += 1;
                    self.young[parent as usize].push(node);
                }
            }
            let nodes = (0..self.n_animals).chain(self.first_unrecorded..self.parents.len());
            self.order = nodes.filter(|n| waits[*n] == 0).map(count).collect();
            let mut next = 0;
            while let Some(node) = self.order.get(next).copied() {
                next += 1;
                for young in &self.young[node as usize] {
                    waits[*young as usize] -= 1;
                    if waits[*young as usize] == 0 {
                        self.order.push(*young);
                    }
                }
            }
            let Some(stuck) = waits.iter().position(|w| *w > 0) else { return };
            // Whoever waits descends from a circle or lies on it: going up must come round.
            let circle = self.circle_from(stuck, &waits);
            self.circular.push(circle);
            self.parents[circle] = Parents::NONE;
            self.recorded[circle] = 0;
        }
    }

    fn circle_from(&self, stuck: usize, waits: &[u8]) -> usize {
        let mut seen = vec![false; self.parents.len()];
        let mut at = stuck;
        while !seen[at] {
            seen[at] = true;
            let up = self.parents[at].each().find(|p| waits[*p as usize] > 0);
            at = up.map_or(at, |p| p as usize);
        }
        at
    }

    fn settle(&mut self, colony: &Colony) {
        let mut role: Vec<(bool, bool)> = vec![(false, false); self.len()];
        for parents in self.parents.iter().filter(|p| p.are_known()) {
            if parents.sire != NOBODY {
                role[parents.sire as usize].0 = true;
            }
            role[parents.dam as usize].1 = true;
        }
        let told = |node: usize| match colony.animals.get(node) {
            Some(animal) => animal.sex(),
            // A sire that nobody recorded, of a clutch that is taken for another's here.
            None => (node >= self.first_unrecorded).then_some(Sex::Male),
        };
        self.sex = role
            .iter()
            .enumerate()
            .map(|(node, role)| match role {
                (true, false) => Some(Sex::Male),
                (false, true) => Some(Sex::Female),
                (true, true) => None,
                (false, false) => told(node),
            })
            .collect();
    }

    /// Whether an animal stands above another.
    pub fn is_above(&self, animal: usize, of: usize) -> bool {
        let mut open = vec![of];
        let mut seen = vec![false; self.len()];
        while let Some(node) = open.pop() {
            if std::mem::replace(&mut seen[node], true) {
                continue;
            }
            for parent in self.parents[node].each() {
                if parent as usize == animal {
                    return true;
                }
                open.push(parent as usize);
            }
        }
        false
    }

    /// Every node above these, they themselves among them.
    pub fn all_above(&self, nodes: &[usize]) -> Vec<usize> {
        let mut seen = vec![false; self.len()];
        let mut open: Vec<usize> = nodes.to_vec();
        let mut found = Vec::new();
        while let Some(node) = open.pop() {
            if std::mem::replace(&mut seen[node], true) {
                continue;
            }
            found.push(node);
            open.extend(self.parents[node].each().map(|parent| parent as usize));
        }
        found.sort_unstable();
        found
    }

    /// Every founder above these nodes, they themselves among them.
    pub fn founders_above(&self, nodes: &[usize]) -> Vec<usize> {
        let mut found = self.all_above(nodes);
        found.retain(|node| !self.parents[*node].are_known());
        found
    }
}

/// The clutch each animal hatched from.
fn clutches(colony: &Colony) -> Vec<Option<usize>> {
    let mut of = vec![None; colony.animals.len()];
    for (clutch, known) in colony.clutches.iter().enumerate() {
        for young in &known.young {
            of[*young] = Some(clutch);
        }
    }
    of
}

pub(super) fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(NOBODY)
}

/// What a colony has become since it was asked last.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Grown {
    /// Animals there were before; those from here on are new.
    pub before: usize,
    /// Whether an animal that had no young has some now.
    pub has_new_breeders: bool,
}

impl Lineage {
    /// What is new since `before`, where only animals were added.
    pub fn grown_since(&self, before: &Self) -> Option<Grown> {
        let n = before.n_animals;
        let is_alike = self.first_unrecorded == before.first_unrecorded
            && self.len() == before.len()
            && self.n_animals >= n
            && self.parents[..n] == before.parents[..n]
            && self.parents[self.first_unrecorded..] == before.parents[before.first_unrecorded..]
            && self.recorded[..n] == before.recorded[..n];
        if !is_alike {
            return None;
        }
        let has_new_breeders = self.parents[n..self.n_animals].iter().any(|parents| {
            let is_first = |p: u32| p != NOBODY && before.young[p as usize].is_empty();
            is_first(parents.sire) || is_first(parents.dam)
        });
        Some(Grown { before: n, has_new_breeders })
    }
}
