//! "Which records about genes cannot all be true, and which one may be wrong?"
//!
//! Looks, laboratory results and parents are first taken as certain, whatever the chance that one is
//! wrong; only looks that are missed often are not. Then the set that clashes is made as small as it goes, and every record
//! that alone resolves it is tried.

mod case;
mod instead;
mod said;

use std::sync::Arc;

use genetics::clash::Clash;
use genetics::{Catalogue, LocusId};
use records::{Colony, RecordId};

use super::labels::LabelReader;
use super::lineage::Lineage;
use super::locus_book::{Asked, LocusBook};
use super::rows::RowMaker;
use super::{BUDGET, ClashesGiven, GeneBook, side_by_side};
use case::{AtLocus, Strictness};

pub use instead::Instead;

/// Most clashes told at one locus; our choice.
const MOST: usize = 8;

/// A record about genes, as far as it may be wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Blamed {
    /// What is written of an animal's genes or look.
    Written {
        /// The animal, by its place.
        animal: usize,
        /// Whether no parent of it is recorded and nothing is listed here, which counts as not
        /// carried.
        leaves_out: bool,
    },
    /// A laboratory result.
    Tested {
        /// The animal, by its place.
        animal: usize,
        /// Which of its results.
        test: usize,
    },
    /// Who is written as the sire of these young of one clutch.
    Sire {
        /// The sire, by his place.
        sire: usize,
        /// The young, by their places.
        young: Vec<usize>,
    },
    /// Who is written as their dam.
    Dam {
        /// The dam, by her place.
        dam: usize,
        /// The young, by their places.
        young: Vec<usize>,
    },
}

/// One record that, were it wrong, would let all others be true.
#[derive(Clone, Debug, PartialEq)]
pub struct WayOut {
    /// The record.
    pub blamed: Blamed,
    /// Of a sire: who could be in his place. Empty of other records.
    pub instead: Vec<Instead>,
    /// By how many powers of ten all other records are likelier without it, looks being missed as
    /// often as the catalogue says; none where they are impossible with it even so.
    pub relief: Option<f64>,
}

/// Records that cannot all be true, or that hardly can.
#[derive(Clone, Debug, PartialEq)]
pub struct GeneClash {
    /// The locus.
    pub locus: LocusId,
    /// The records: left out one, and the others do not clash.
    pub members: Vec<Blamed>,
    /// Those that resolve it alone, the likeliest to be wrong first. Empty where more than one thing
    /// is wrong.
    pub ways: Vec<WayOut>,
    /// Whether it is only very unlikely: a label that the young speak against.
    pub is_soft: bool,
}

/// Powers of ten by which a label must spoil the likelihood to be told; our choice.
const LEAST_RELIEF: f64 = 3.0;

impl GeneBook<'_> {
    /// Every clash about genes among the records of a colony, in catalogue order of the loci.
    ///
    /// Where nothing has changed that they rest on, the last ones stand.
    pub fn clashes(&mut self, colony: &Colony, read: &LabelReader<'_>) -> Vec<GeneClash> {
        let force = self.refresh(colony);
        let lineage = Lineage::of(colony);
        let class_of = self.class_of(colony, &lineage, read);
        let given = ClashesGiven::of(colony, &force, (lineage, class_of));
        if let Some((known, clashes)) = &self.clashed
            && *known == given
        {
            return clashes.clone();
        }
        self.open_loci(&given.class_of);
        let clashes = self.find_clashes(colony, &given);
        self.clashed = Some((given, clashes.clone()));
        clashes
    }

    fn find_clashes(&mut self, colony: &Colony, given: &ClashesGiven) -> Vec<GeneClash> {
        let Self { catalogue, classes, rules, carriers, loci, .. } = self;
        let (lineage, class_of) = (&given.lineage, &given.class_of);
        let one = |book: &mut LocusBook| {
            let play = Arc::clone(&book.play);
            let maker = RowMaker { catalogue, rules, carriers, play: &play };
            let budget = &BUDGET;
            at_locus(colony, &Asked { lineage, classes, class_of, maker, budget, grown: None })
        };
        side_by_side(loci.values_mut().collect(), class_of.len(), &one).concat()
    }
}

fn at_locus(colony: &Colony, asked: &Asked<'_>) -> Vec<GeneClash> {
    let strict = AtLocus::new(colony, asked, Strictness::Certain);
    let clashes = strict.case.clashes(MOST);
    let soft = AtLocus::new(colony, asked, Strictness::AsLikely);
    if clashes.is_empty() {
        return soft.labels_against_the_rest(asked);
    }
    clashes.iter().map(|clash| told(colony, asked, (&strict, &soft), clash)).collect()
}

fn told(
    colony: &Colony,
    asked: &Asked<'_>,
    (strict, soft): (&AtLocus<'_>, &AtLocus<'_>),
    clash: &Clash,
) -> GeneClash {
    let relief = soft.relief(asked, &clash.resolved_by).unwrap_or_default();
    let way = |(at, piece): (usize, &usize)| WayOut {
        blamed: strict.blamed[*piece].clone(),
        instead: instead::who_fits(colony, strict, *piece),
        relief: relief.get(at).copied().filter(|relief| relief.is_finite()),
    };
    let mut ways: Vec<WayOut> = clash.resolved_by.iter().enumerate().map(way).collect();
    let size = |way: &WayOut| way.relief.unwrap_or(f64::INFINITY);
    ways.sort_by(|a, b| size(b).total_cmp(&size(a)));
    GeneClash {
        locus: asked.maker.play.id,
        members: clash.set.iter().map(|piece| strict.blamed[*piece].clone()).collect(),
        ways,
        is_soft: false,
    }
}

impl Blamed {
    /// The animals it speaks of: the one written of, or the parent and then the young.
    #[must_use]
    pub fn animals(&self) -> Vec<usize> {
        match self {
            Self::Written { animal, .. } | Self::Tested { animal, .. } => vec![*animal],
            Self::Sire { sire: parent, young } | Self::Dam { dam: parent, young } => {
                std::iter::once(*parent).chain(young.iter().copied()).collect()
            }
        }
    }

    /// The records to correct.
    #[must_use]
    pub fn records(&self, colony: &Colony) -> Vec<RecordId> {
        match self {
            Self::Written { animal, .. } => {
                let animal = &colony.animals[*animal];
                let texts = [&animal.genes, &animal.look];
                texts.into_iter().flatten().map(|(_, record)| *record).collect()
            }
            Self::Tested { animal, test } => colony.animals[*animal]
                .tested
                .get(*test)
                .map(|(_, record, _)| *record)
                .into_iter()
                .collect(),
            Self::Sire { young, .. } | Self::Dam { young, .. } => {
                young.iter().map(|young| colony.animals[*young].added()).collect()
            }
        }
    }
}

/// The clashes that an animal is part of.
#[must_use]
pub fn of_animal(clashes: &[GeneClash], animal: usize) -> Vec<&GeneClash> {
    let names = |clash: &&GeneClash| clash.members.iter().any(|m| m.animals().contains(&animal));
    clashes.iter().filter(names).collect()
}

/// Whether an animal's own look clashes at more than one locus: then the animal may be another than
/// its label says.
#[must_use]
pub fn may_be_mislabelled(clashes: &[GeneClash], animal: usize) -> bool {
    let own = |clash: &&GeneClash| {
        let mut ways = clash.ways.iter().map(|way| &way.blamed);
        ways.any(|b| matches!(b, Blamed::Written { animal: a, leaves_out: false } if *a == animal))
    };
    let mut loci: Vec<LocusId> = clashes.iter().filter(own).map(|clash| clash.locus).collect();
    loci.dedup();
    loci.len() > 1
}

fn gene_words(catalogue: &Catalogue, at: LocusId) -> &str {
    catalogue.locus(at).map_or("", |locus| locus.name())
}
