//! Chances set by hand that hidden genes are carried unlisted.

use std::collections::HashMap;

use genetics::{Catalogue, Gene};
use records::Colony;
use records::colony::Bearer;

use super::labels::is_hidden;
use crate::settings::CarrierChance;

/// The chances, by gene and by animal.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Carriers {
    by_gene: HashMap<Gene, f64>,
    by_animal: HashMap<(usize, Option<Gene>), f64>,
    /// What names neither a hidden gene nor an animal.
    pub unread: Vec<String>,
}

impl Carriers {
    pub fn of(colony: &Colony, catalogue: &Catalogue, told: &[CarrierChance]) -> Self {
        let mut made = Self::default();
        let animal = |code: &str| match colony.bearer(code, Some(colony.as_of.day)) {
            Bearer::One(place) => Some(place),
            _ => None,
        };
        for CarrierChance { of, chance } in told {
            let (chance, gene) = (chance.get(), |name: &str| {
                catalogue.gene(name).filter(|gene| is_hidden(catalogue, *gene))
            });
            let both =
                of.split_once(' ').and_then(|(code, name)| Some((animal(code)?, gene(name)?)));
            if let Some(gene) = gene(of) {
                made.by_gene.insert(gene, chance);
            } else if let Some(place) = animal(of) {
                made.by_animal.insert((place, None), chance);
            } else if let Some((place, gene)) = both {
                made.by_animal.insert((place, Some(gene)), chance);
            } else {
                made.unread.push(of.clone());
            }
        }
        made
    }

    /// The chance for a gene of an animal, or of whom nothing of its own is set.
    pub fn chance(&self, place: Option<usize>, gene: Gene) -> f64 {
        let own = place.and_then(|place| {
            let exact = self.by_animal.get(&(place, Some(gene)));
            exact.or_else(|| self.by_animal.get(&(place, None)))
        });
        own.or_else(|| self.by_gene.get(&gene)).copied().unwrap_or(0.0)
    }

    /// Whether something of its own is set for an animal.
    pub fn names(&self, place: usize) -> bool {
        self.by_animal.keys().any(|(named, _)| *named == place)
    }

    /// Every gene that is named.
    pub fn genes(&self) -> impl Iterator<Item = Gene> + '_ {
        self.by_gene.keys().copied().chain(self.by_animal.keys().filter_map(|(_, gene)| *gene))
    }
}
