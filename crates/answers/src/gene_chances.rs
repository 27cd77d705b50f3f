//! "What does every animal carry?" The chance of every genotype of every animal, given all records.
//!
//! A [`GeneBook`] reads labels, looks, laboratory results and parents of a colony into what the
//! engine needs, and keeps what it worked out: asked again after one more record, only what that
//! record can touch is worked out anew. [`GeneChances`] is the answer of one moment.
//!
//! The rules, with a worked example: `docs/methods/colony_genes.md`.

mod above;
mod answer;
mod apart;
mod carriers;
mod clashes;
mod classes;
mod doubtful;
mod in_play;
mod labels;
mod lineage;
mod locus_book;
mod missing;
mod reasons;
mod rows;
mod run;
mod said;
mod solve;
mod weigh;

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use genetics::posterior::Budget;
use genetics::{Catalogue, LocusId};
use records::Colony;

pub use answer::{
    Clash, GeneChances, GenotypeChance, LikelyCarrier, LocusChances, SireShare, SireWeighed, Who,
};
pub use clashes::{Blamed, GeneClash, Instead, WayOut, may_be_mislabelled, of_animal};
pub use in_play::InPlay;
pub use labels::{Claimed, LabelRead, LabelReader, Seen};
pub use reasons::{ClaimCounted, ClaimRole, ParentShown};
pub use said::{LEAST_TOLD, claim_said, genotype_said, lab_found};

use crate::settings::{self, GeneRules};
use carriers::Carriers;
use classes::Classes;
use doubtful::Combinations;
use in_play::Named;
use lineage::Lineage;
use locus_book::{Asked, LocusBook};
use rows::RowMaker;
use weigh::Answered;

/// Most numbers that the tables of one component may hold for an exact answer: 32 MB. Our choice: a
/// wider one would keep a page waiting for seconds.
const BUDGET: Budget = Budget { table_entries: 1 << 22, sampling: None };

/// All that was worked out of a colony's genes, to go on from.
#[derive(Debug)]
pub struct GeneBook<'c> {
    catalogue: &'c Catalogue,
    classes: Classes,
    rules: GeneRules,
    carriers: Carriers,
    loci: BTreeMap<LocusId, LocusBook>,
    /// Who descended from whom in the last answer.
    last: Option<Arc<Lineage>>,
    budget: Budget,
}

impl<'c> GeneBook<'c> {
    /// A book with empty pages.
    #[must_use]
    pub fn new(catalogue: &'c Catalogue) -> Self {
        Self {
            catalogue,
            classes: Classes::default(),
            rules: GeneRules::default(),
            carriers: Carriers::default(),
            loci: BTreeMap::new(),
            last: None,
            budget: BUDGET,
        }
    }

    /// The same with another number of table entries that a component may take for an exact answer;
    /// what needs more is drawn.
    #[must_use]
    pub const fn within(mut self, table_entries: usize) -> Self {
        self.budget.table_entries = table_entries;
        self
    }

    /// The chances of all animals of a colony. `read` must read a text always alike.
    pub fn answer(&mut self, colony: &Colony, read: &LabelReader<'_>) -> GeneChances {
        self.refresh(colony);
        let lineage = Lineage::of(colony);
        let class_of = self.class_of(colony, &lineage, read);
        self.open_loci(&class_of);
        let combinations = Combinations::of(colony, &lineage);
        let grown = self.last.as_ref().and_then(|last| lineage.grown_since(last));
        let mut lineages = combinations.lineages(colony, lineage);
        let Self { catalogue, classes, rules, carriers, loci, budget, .. } = self;
        let one = |book: &mut LocusBook| {
            let play = Arc::clone(&book.play);
            let maker = RowMaker { catalogue, rules, carriers, play: &play };
            let asked =
                |lineage| Asked { lineage, classes, class_of: &class_of, maker, budget, grown };
            let asked: Vec<Asked<'_>> = lineages.iter().map(asked).collect();
            weigh::locus(book, &asked)
        };
        let answers = side_by_side(loci.values_mut().collect(), colony.animals.len(), &one);
        let texts = class_of.iter().map(|class| classes.texts(*class)).collect();
        let unread = carriers.unread.clone();
        let (best, loci, sires) = combinations.weigh(&lineages, answers);
        let lineage = Arc::new(lineages.swap_remove(best));
        self.last = Some(Arc::clone(&lineage));
        GeneChances::new(lineage, loci, texts, unread).with_sires(sires, combinations.is_cut)
    }

    /// Begins anew where a setting changed that every row rests on.
    fn refresh(&mut self, colony: &Colony) {
        let rules = settings::in_force(colony).genes;
        let carriers = Carriers::of(colony, self.catalogue, &rules.carriers);
        if rules != self.rules || carriers != self.carriers {
            self.loci.clear();
            self.classes = Classes::default();
            (self.rules, self.carriers) = (rules, carriers);
        }
    }

    fn class_of(&mut self, colony: &Colony, lineage: &Lineage, read: &LabelReader<'_>) -> Vec<u32> {
        let mut all = Vec::with_capacity(colony.animals.len());
        for (place, animal) in colony.animals.iter().enumerate() {
            let is_founder = lineage.recorded[place] == 0;
            let own = (is_founder && self.carriers.names(place)).then_some(place);
            all.push(self.classes.of(animal, (lineage.sex[place], is_founder, own), read));
        }
        all
    }

    /// The loci that somebody's records name, each with the alleles they name.
    fn open_loci(&mut self, class_of: &[u32]) {
        let mut named = Named::default();
        self.carriers.genes().for_each(|gene| named.add(gene));
        let mut seen = vec![false; self.classes.len()];
        for class in class_of {
            if !std::mem::replace(&mut seen[*class as usize], true) {
                self.classes.name_genes(*class, self.catalogue, &mut named);
            }
        }
        self.loci.retain(|locus, _| named.loci().any(|(id, _)| id == *locus));
        for (id, alleles) in named.loci() {
            let is_alike = |book: &LocusBook| book.play.alleles.get(1..) == Some(alleles);
            if !self.loci.get(&id).is_some_and(is_alike)
                && let Some(play) = InPlay::new(self.catalogue, id, alleles)
            {
                self.loci.insert(id, LocusBook::new(play));
            }
        }
    }
}

/// Fewer animals than this are answered on one thread; our own choice.
const MANY: usize = 500;

/// Loci do not depend on each other: where there are many animals, each thread takes the next one.
fn side_by_side(
    books: Vec<&mut LocusBook>,
    animals: usize,
    one: &(dyn Fn(&mut LocusBook) -> Answered + Sync),
) -> Vec<Answered> {
    let threads = std::thread::available_parallelism().map_or(1, usize::from).min(8);
    if animals < MANY || threads < 2 {
        return books.into_iter().map(one).collect();
    }
    let next = Mutex::new(books.into_iter().enumerate());
    let take = || next.lock().unwrap_or_else(PoisonError::into_inner).next();
    let work = || {
        let mut done = Vec::new();
        while let Some((at, book)) = take() {
            done.push((at, one(book)));
        }
        done
    };
    let mut all: Vec<(usize, Answered)> = std::thread::scope(|scope| {
        let others: Vec<_> = (1..threads).map(|_| scope.spawn(work)).collect();
        let mut all = work();
        for other in others {
            all.extend(other.join().unwrap_or_else(|why| std::panic::resume_unwind(why)));
        }
        all
    });
    all.sort_unstable_by_key(|(at, _)| *at);
    all.into_iter().map(|(_, answer)| answer).collect()
}
