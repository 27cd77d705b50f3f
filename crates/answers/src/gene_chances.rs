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
mod given;
mod in_play;
mod labels;
mod lineage;
mod locus_book;
mod missing;
mod parents;
mod reasons;
mod rows;
mod run;
mod said;
mod screen;
mod solve;
mod weigh;

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use genetics::posterior::Budget;
use genetics::{Catalogue, LocusId};
use records::Colony;

pub use answer::{
    Clash, GeneChances, GenotypeChance, LikelyCarrier, LocusChances, SireShare, SireTold,
    SireWeighed, Who,
};
pub use clashes::{Blamed, GeneClash, Instead, WayOut, may_be_mislabelled, of_animal};
pub use in_play::InPlay;
pub use labels::{Claimed, LabelRead, LabelReader, Seen};
pub use lineage::WrongSex;
pub use parents::ParentDoubt;
pub use reasons::{ClaimCounted, ClaimRole, ParentShown};
pub use said::{LEAST_TOLD, claim_said, genotype_said, if_shared, lab_found};

use crate::settings::{self, GeneRules, InForce};
use crate::sire::sire;
use carriers::Carriers;
use classes::Classes;
use doubtful::{Clutches, Combinations, Doubtful};
use given::{ClashesGiven, Given};
use in_play::Named;
use lineage::{Grown, Lineage};
use locus_book::{Asked, Last, LocusBook};
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
    /// How often young without a sire keep both copies of their dam.
    kept: f64,
    loci: BTreeMap<LocusId, LocusBook>,
    /// The last answer, with what it rests on.
    answered: Option<(Given, GeneChances)>,
    /// The last clashes, with what they rest on.
    clashed: Option<(ClashesGiven, Vec<GeneClash>)>,
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
            kept: 0.0,
            loci: BTreeMap::new(),
            answered: None,
            clashed: None,
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
    ///
    /// Where nothing has changed that genes rest on, the last answer stands.
    pub fn answer(&mut self, colony: &Colony, read: &LabelReader<'_>) -> GeneChances {
        let (given, _) = self.given(colony, read);
        if let Some((known, chances)) = &self.answered
            && *known == given
        {
            return chances.clone();
        }
        let last = self.answered.as_ref().map(|(last, _)| &last.lineage);
        let grown = last.and_then(|last| given.lineage.grown_since(last));
        let mut chances = self.work_out(colony, &given, grown);
        self.tell_of_sires(colony, &mut chances, read);
        self.answered = Some((given, chances.clone()));
        chances
    }

    /// Asks for each clutch that speaks against its written sire what everybody is told of it.
    fn tell_of_sires(
        &mut self,
        colony: &Colony,
        chances: &mut GeneChances,
        read: &LabelReader<'_>,
    ) {
        /// Each is asked with the rest of the colony once more; our own choice.
        const MOST: usize = 8;
        let against = chances.sires.iter_mut().rev().filter(|sires| sires.is_against_written());
        for sires in against.take(MOST) {
            let answer = sire(colony, sires.clutch, self, (self.catalogue, read));
            sires.told = answer.as_ref().map(SireTold::from);
        }
    }

    /// The chances in a colony that only might be. What is kept of the real one stays.
    pub fn suppose(&mut self, colony: &Colony, read: &LabelReader<'_>) -> GeneChances {
        let (given, aside) = self.given(colony, read);
        let lasts: Vec<Option<Last>> = self.loci.values_mut().map(LocusBook::suppose).collect();
        let chances = self.work_out(colony, &given, None);
        for (book, last) in self.loci.values_mut().zip(lasts) {
            book.go_on(last);
        }
        self.loci.extend(aside);
        chances
    }

    /// What genes rest on, and the loci that are no longer asked about or have other alleles now.
    fn given(
        &mut self,
        colony: &Colony,
        read: &LabelReader<'_>,
    ) -> (Given, BTreeMap<LocusId, LocusBook>) {
        let force = self.refresh(colony);
        let lineage = Arc::new(Lineage::of(colony));
        let class_of = self.class_of(colony, &lineage, read);
        let aside = self.open_loci(&class_of);
        let sexes_are_weighed = self.loci.values().any(|book| book.play.groups.len() > 1);
        let clutches = Clutches { colony, lineage: &lineage, force: &force, sexes_are_weighed };
        let (open, told) = clutches.all();
        (Given { lineage, class_of, open, told }, aside)
    }

    fn work_out(&mut self, colony: &Colony, given: &Given, grown: Option<Grown>) -> GeneChances {
        let Given { lineage: base, class_of, open, told } = given;
        let animals = colony.animals.len();
        let mut combinations = Combinations::of(open.clone(), animals);
        let mut lineages = combinations.lineages(colony, base);
        let (mut answers, ratios): (Vec<Answered>, Vec<_>) = self
            .at_each_locus(&lineages, class_of, grown, &|book, asked| {
                let answer = weigh::locus(book, asked);
                let ratios = screen::ratios(book, &asked[0], &answer.chances, told);
                (answer, ratios)
            })
            .into_iter()
            .unzip();
        let suspects = screen::suspects(told.clone(), &ratios);
        let doubts = self.left_in_doubt((colony, class_of, &lineages[0]), &answers, suspects);
        if !doubts.is_empty() {
            let mut all = open.clone();
            all.extend(doubts);
            all.sort_by_key(|doubt| doubt.clutch);
            combinations = Combinations::of(all, animals);
            lineages = combinations.lineages(colony, base);
            answers = self.at_each_locus(&lineages, class_of, None, &weigh::combined);
        }
        let texts = class_of.iter().map(|class| self.classes.texts(*class)).collect();
        let (best, loci, sires) = combinations.weigh(answers);
        let lineage = lineages.swap_remove(best);
        GeneChances::new(lineage, loci, texts, self.carriers.unread.clone())
            .with_sires(sires, combinations.is_cut)
    }

    /// Of the clutches that may be in doubt those that are, each asked by itself.
    fn left_in_doubt(
        &mut self,
        (colony, class_of, lineage): (&Colony, &[u32], &Arc<Lineage>),
        answers: &[Answered],
        suspects: Vec<Doubtful>,
    ) -> Vec<Doubtful> {
        if suspects.is_empty() {
            return suspects;
        }
        let changes = Combinations::one_by_one(suspects);
        let lineages = changes.lineages(colony, lineage);
        let value = |at: LocusId| {
            let of = answers.iter().find(|answer| answer.chances.play.id == at);
            of.and_then(|answer| answer.chances.likeliest()).map_or(0, |world| world.value)
        };
        let logs = self.at_each_locus(&lineages, class_of, None, &|book, asked| {
            weigh::likelihoods(book, asked, value(book.play.id))
        });
        changes.left_in_doubt(&logs)
    }

    /// Asks every locus under each of several pedigrees.
    fn at_each_locus<T: Send>(
        &mut self,
        lineages: &[Arc<Lineage>],
        class_of: &[u32],
        grown: Option<Grown>,
        of: &(dyn Fn(&mut LocusBook, &[Asked<'_>]) -> T + Sync),
    ) -> Vec<T> {
        let Self { catalogue, classes, rules, carriers, loci, budget, .. } = self;
        let one = |book: &mut LocusBook| {
            let play = Arc::clone(&book.play);
            let maker = RowMaker { catalogue, rules, carriers, play: &play };
            let lineages = lineages.iter().map(AsRef::as_ref);
            let asked = |lineage| Asked { lineage, classes, class_of, maker, budget, grown };
            let asked: Vec<Asked<'_>> = lineages.map(asked).collect();
            of(book, &asked)
        };
        side_by_side(loci.values_mut().collect(), class_of.len(), &one)
    }

    /// Begins anew where a setting changed that every row rests on; hands back all in force.
    fn refresh(&mut self, colony: &Colony) -> InForce {
        let force = settings::in_force(colony);
        let rules = force.genes.clone();
        let carriers = Carriers::of(colony, self.catalogue, &rules.carriers);
        let kept = force.sires.kept.get();
        if rules != self.rules || carriers != self.carriers || kept != self.kept {
            self.loci.clear();
            self.classes = Classes::default();
            (self.answered, self.clashed) = (None, None);
            (self.rules, self.carriers, self.kept) = (rules, carriers, kept);
        }
        force
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

    /// The loci that somebody's records name, each with the alleles they name; hands back what was
    /// kept of others.
    fn open_loci(&mut self, class_of: &[u32]) -> BTreeMap<LocusId, LocusBook> {
        let mut named = Named::default();
        self.carriers.genes().for_each(|gene| named.add(gene));
        let mut seen = vec![false; self.classes.len()];
        for class in class_of {
            if !std::mem::replace(&mut seen[*class as usize], true) {
                self.classes.name_genes(*class, self.catalogue, &mut named);
            }
        }
        let before = std::mem::take(&mut self.loci);
        let is_alike = |book: &LocusBook| {
            named.loci().any(|(id, alleles)| {
                id == book.play.id && book.play.alleles.get(1..) == Some(alleles)
            })
        };
        let (kept, aside) = before.into_iter().partition(|(_, book)| is_alike(book));
        self.loci = kept;
        for (id, alleles) in named.loci() {
            if !self.loci.contains_key(&id)
                && let Some(play) = InPlay::new(self.catalogue, id, alleles, self.kept)
            {
                self.loci.insert(id, LocusBook::new(play));
            }
        }
        aside
    }
}

/// Fewer animals than this are answered on one thread; our own choice.
const MANY: usize = 500;

/// Loci do not depend on each other: where there are many animals, each thread takes the next one.
fn side_by_side<T: Send>(
    books: Vec<&mut LocusBook>,
    animals: usize,
    one: &(dyn Fn(&mut LocusBook) -> T + Sync),
) -> Vec<T> {
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
    let mut all: Vec<(usize, T)> = std::thread::scope(|scope| {
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
