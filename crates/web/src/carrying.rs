//! The chance that a male carries what a plan asks for.

use std::cell::{OnceCell, RefCell};
use std::collections::HashMap;
use std::sync::Arc;

use answers::GeneChances;
use answers::gene_chances::{GeneBook, Seen};
use genetics::{Belief, Target};
use records::{Animal, AnimalId, Colony};
use sheets::catalogue_file::builtin;
use sheets::told;

use crate::genes::read_label;

/// Answers by all records; the genes of the colony are worked out once somebody asks.
pub struct Carrying<'a> {
    colony: &'a Colony,
    genes: Box<dyn Fn() -> Arc<GeneChances> + 'a>,
    known: OnceCell<Arc<GeneChances>>,
    asked: RefCell<HashMap<(AnimalId, String), f64>>,
}

impl<'a> Carrying<'a> {
    /// In a colony of which nothing was worked out yet.
    #[must_use]
    pub fn of(colony: &'a Colony) -> Self {
        let genes = move || Arc::new(GeneBook::new(builtin()).answer(colony, &read_label));
        Self::by(colony, genes)
    }

    pub(crate) fn by(colony: &'a Colony, genes: impl Fn() -> Arc<GeneChances> + 'a) -> Self {
        let (known, asked) = (OnceCell::new(), RefCell::default());
        Self { colony, genes: Box::new(genes), known, asked }
    }

    /// The chance that an animal of the colony carries something told in trade shorthand. 0 for what
    /// cannot be read, and where a word of its label that may mean it is not settled.
    #[must_use]
    pub fn chance(&self, animal: &Animal, wanted: &str) -> f64 {
        let key = (animal.id, wanted.to_owned());
        if let Some(known) = self.asked.borrow().get(&key) {
            return *known;
        }
        let by_label = || f64::from(u8::from(told::carries(animal, wanted)));
        let by_records = |wish: Target| self.by_records(animal, &wish).unwrap_or_else(by_label);
        let chance = told::wish(wanted).map_or(0.0, by_records);
        self.asked.borrow_mut().insert(key, chance);
        chance
    }

    /// None where its chances cannot be worked out.
    fn by_records(&self, animal: &Animal, wish: &Target) -> Option<f64> {
        let place = self.colony.place_of(animal.id)?;
        let genes = self.known.get_or_init(|| (self.genes)());
        let mut loci = Vec::new();
        for id in wish.loci() {
            if genes.seen(builtin(), place, id) == Seen::Open {
                return Some(0.0);
            }
            // Of what nobody names everybody is the wild type.
            let Some(locus) = genes.locus(id) else { continue };
            if locus.too_wide() > 0 {
                return None;
            }
            let possible = locus.of(place).into_iter().filter(|(_, p)| *p > 0.0);
            loci.push((id, possible.collect()));
        }
        Some(Belief::from_chances(loci).chance_of(wish))
    }
}
