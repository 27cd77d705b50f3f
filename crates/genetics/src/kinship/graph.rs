//! The animals asked for and their ancestors, and nobody else.

use std::collections::HashMap;

use super::Kinship;
use super::lines::{NO_SIRE, UNKNOWN};

/// Stands for an unknown parent; its values stay zero.
pub(super) const NOBODY: u32 = 0;

/// One animal with its parents' places in the graph.
#[derive(Clone, Copy, Debug)]
pub(super) struct Node {
    pub(super) parents: [u32; 2],
    /// Share of its genes from each parent.
    pub(super) part: f64,
    /// D of `A = T D T'`.
    pub(super) sampling: f64,
}

/// Parents before young, behind [`NOBODY`].
pub(super) struct Graph {
    pub(super) nodes: Vec<Node>,
    /// Places of the breeders among the nodes.
    of_breeder: Vec<u32>,
    /// Places of animals asked for that have no young.
    of_others: HashMap<usize, u32>,
}

impl Graph {
    /// Every animal asked for must be there.
    pub(super) fn of(kinship: &Kinship, asked: &[&[usize]]) -> Self {
        let nobody = Node { parents: [NOBODY; 2], part: 0.5, sampling: 0.0 };
        let of_breeder = ancestors(kinship, asked);
        let mut graph = Self { nodes: vec![nobody], of_breeder, of_others: HashMap::new() };
        for at in 0..graph.of_breeder.len() {
            if graph.of_breeder[at] != UNKNOWN {
                graph.of_breeder[at] = graph.add(kinship, kinship.breeders.family_of[at]);
            }
        }
        for animal in asked.iter().copied().flatten() {
            if kinship.breeder_of[*animal] == UNKNOWN && !graph.of_others.contains_key(animal) {
                let node = graph.add(kinship, kinship.family_of[*animal]);
                graph.of_others.insert(*animal, node);
            }
        }
        graph
    }

    #[expect(clippy::cast_possible_truncation, reason = "there are fewer nodes than animals")]
    fn add(&mut self, kinship: &Kinship, family: u32) -> u32 {
        let family = &kinship.breeders.families[family as usize];
        let node = |parent: u32| match parent {
            NO_SIRE | UNKNOWN => NOBODY,
            known => self.of_breeder[known as usize],
        };
        let parents = family.parents.map(node);
        self.nodes.push(Node { parents, part: family.part(), sampling: family.sampling });
        self.nodes.len() as u32 - 1
    }

    /// The node of an animal that was asked for.
    pub(super) fn node(&self, kinship: &Kinship, animal: usize) -> u32 {
        match kinship.breeder_of[animal] {
            UNKNOWN => self.of_others.get(&animal).copied().unwrap_or(NOBODY),
            breeder => self.of_breeder[breeder as usize],
        }
    }
}

/// For every breeder whether it is wanted: [`UNKNOWN`] where not.
fn ancestors(kinship: &Kinship, asked: &[&[usize]]) -> Vec<u32> {
    let breeders = &kinship.breeders;
    let mut wanted = vec![UNKNOWN; breeders.all.len()];
    for animal in asked.iter().copied().flatten() {
        for (breeder, _) in kinship.ends(*animal) {
            if breeder < NO_SIRE {
                wanted[breeder as usize] = NOBODY;
            }
        }
    }
    for at in (0..wanted.len()).rev() {
        if wanted[at] != UNKNOWN {
            for parent in breeders.all[at].parents {
                if parent < NO_SIRE {
                    wanted[parent as usize] = NOBODY;
                }
            }
        }
    }
    wanted
}
