//! The records of one locus as the engine judges them.

use std::collections::{BTreeMap, HashMap};

use genetics::Evidence;
use genetics::clash::{Case, Piece};
use records::{Colony, Sex};
use units::Day;

use super::{Blamed, GeneClash, LEAST_RELIEF, WayOut};
use crate::gene_chances::labels::{Seen, Written};
use crate::gene_chances::locus_book::Asked;
use crate::gene_chances::rows::{Known, Opening};

/// How looks are taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Strictness {
    /// As certain, unless they are missed often.
    Certain,
    /// With their chance to be missed.
    AsLikely,
}

/// Young from which on a label can be spoken against without a clash; our own choice.
const LEAST_YOUNG: usize = 4;
/// A look missed more often than this is never taken as certain; our own choice.
const MISSED_OFTEN: f64 = 0.1;

/// A locus with its records.
pub(super) struct AtLocus<'a> {
    pub case: Case<'a>,
    /// What each piece of the case is.
    pub blamed: Vec<Blamed>,
    granted: HashMap<(bool, Option<Sex>), Vec<f64>>,
    written: HashMap<u32, Option<Told>>,
}

/// What is written of the animals of a class, over what is granted without it.
#[derive(Clone)]
struct Told {
    weights: Vec<f64>,
    /// Nothing is listed here.
    is_silent: bool,
    is_founder: bool,
}

impl<'a> AtLocus<'a> {
    pub fn new(colony: &Colony, asked: &Asked<'a>, strictness: Strictness) -> Self {
        let lineage = asked.lineage;
        let group = asked.maker.play.group();
        let none = vec![None; asked.maker.play.alleles.len()];
        let mut made = Self {
            case: Case {
                origins: lineage.parents.iter().map(|parents| parents.origin()).collect(),
                group,
                granted: Evidence::flat(lineage.len(), group.n_states()),
                background: asked.maker.unrecorded(None, &none, Opening::Reopened),
                pieces: Vec::new(),
                budget: *asked.budget,
            },
            blamed: Vec::new(),
            granted: HashMap::new(),
            written: HashMap::new(),
        };
        for node in 0..lineage.len() {
            let kind = (lineage.parents[node].are_known(), lineage.sex[node]);
            let granted = made.granted.entry(kind).or_insert_with(|| granted(asked, kind));
            made.case.granted.see(node, granted);
            if node < lineage.n_animals {
                made.add_written(asked, node, strictness);
                made.add_tests(colony, asked, node, strictness);
            }
        }
        made.add_parents(colony, asked);
        made
    }

    fn add(&mut self, piece: Piece, blamed: Blamed) {
        self.case.pieces.push(piece);
        self.blamed.push(blamed);
    }

    fn add_written(&mut self, asked: &Asked<'_>, animal: usize, strictness: Strictness) {
        let class = asked.class_of[animal];
        let Self { written, granted, .. } = self;
        let found = written.entry(class).or_insert_with(|| {
            let known = asked.classes.known(class);
            let kind = (asked.lineage.parents[animal].are_known(), asked.lineage.sex[animal]);
            let granted = granted.get(&kind).map_or(&[][..], Vec::as_slice);
            let weights = written_over(asked, &known, granted, strictness)?;
            let (catalogue, at) = (asked.maker.catalogue, asked.maker.play.id);
            let is_silent = known.written.seen(catalogue, at) == Seen::ShowsNothing
                && known.written.claimed(catalogue, at).is_none();
            Some(Told { weights, is_silent, is_founder: known.is_founder })
        });
        if let Some(Told { weights, is_silent, is_founder }) = found.clone() {
            let blamed = Blamed::Written { animal, leaves_out: is_founder && is_silent };
            self.add(Piece::Seen { animal, weights }, blamed);
        }
    }

    fn add_tests(
        &mut self,
        colony: &Colony,
        asked: &Asked<'_>,
        animal: usize,
        strictness: Strictness,
    ) {
        let blank = Written { genes: None, look: None };
        for (test, (_, _, told)) in colony.animals[animal].tested.iter().enumerate() {
            let at = asked.maker.catalogue.gene(&told.gene).map(|gene| gene.locus);
            if at != Some(asked.maker.play.id) {
                continue;
            }
            let tests = std::slice::from_ref(told);
            let known = Known { written: blank, tests, sex: None, is_founder: false, place: None };
            let mut weights = asked.maker.animal(&known, Opening::Closed);
            if strictness == Strictness::Certain {
                let most = weights.iter().copied().fold(0.0, f64::max);
                weights.iter_mut().filter(|w| **w < most).for_each(|w| *w = 0.0);
            }
            self.add(Piece::Seen { animal, weights }, Blamed::Tested { animal, test });
        }
    }

    // Young of one clutch have their parents from one record.
    fn add_parents(&mut self, colony: &Colony, asked: &Asked<'_>) {
        let lineage = asked.lineage;
        type Litter<'c> = (u32, u32, Option<&'c str>, Option<Day>);
        let mut litters: BTreeMap<Litter<'_>, Vec<usize>> = BTreeMap::new();
        for (place, animal) in colony.animals.iter().enumerate() {
            let parents = lineage.parents[place];
            if parents.are_known() {
                let litter = (parents.sire, parents.dam, animal.clutch.as_deref(), animal.hatched);
                litters.entry(litter).or_default().push(place);
            }
        }
        for ((sire, dam, ..), young) in litters {
            let (sire, dam) = (sire as usize, dam as usize);
            if sire < lineage.n_animals {
                let blamed = Blamed::Sire { sire, young: young.clone() };
                self.add(Piece::Sire { young: young.clone() }, blamed);
            }
            if dam < lineage.n_animals {
                self.add(Piece::Dam { young: young.clone() }, Blamed::Dam { dam, young });
            }
        }
    }

    /// By how many powers of ten all else is likelier without a record. A rare look of an animal
    /// without parents is unlikely by itself: that is not held against it.
    pub fn relief(&self, asked: &Asked<'_>, pieces: &[usize]) -> Option<Vec<f64>> {
        let by_itself = |piece: &usize| match &self.case.pieces[*piece] {
            Piece::Seen { animal, weights } if !asked.lineage.parents[*animal].are_known() => {
                let granted = self.case.granted.weights(*animal);
                let with: f64 = granted.iter().zip(weights).map(|(g, w)| g * w).sum();
                (with / granted.iter().sum::<f64>()).log10()
            }
            _ => 0.0,
        };
        let relief = self.case.relief(pieces).ok()?;
        Some(pieces.iter().zip(relief).map(|(piece, relief)| relief + by_itself(piece)).collect())
    }

    /// Labels of animals with young that everything else speaks against.
    pub fn labels_against_the_rest(&self, asked: &Asked<'_>) -> Vec<GeneClash> {
        let (catalogue, at) = (asked.maker.catalogue, asked.maker.play.id);
        let is_doubted = |piece: &usize| match self.blamed[*piece] {
            Blamed::Written { animal, .. } => {
                let written = asked.classes.known(asked.class_of[animal]).written;
                let is_listed = written.claimed(catalogue, at).is_some()
                    || matches!(written.seen(catalogue, at), Seen::Shows(_));
                is_listed && asked.lineage.young[animal].len() >= LEAST_YOUNG
            }
            _ => false,
        };
        let labels: Vec<usize> = (0..self.blamed.len()).filter(is_doubted).collect();
        let Some(relief) = self.relief(asked, &labels) else { return Vec::new() };
        let clash = |(piece, relief): (&usize, &f64)| {
            let blamed = self.blamed[*piece].clone();
            let way = WayOut { blamed: blamed.clone(), instead: Vec::new(), relief: Some(*relief) };
            GeneClash { locus: at, members: vec![blamed], ways: vec![way], is_soft: true }
        };
        let strong = labels.iter().zip(&relief).filter(|(_, relief)| **relief >= LEAST_RELIEF);
        strong.map(clash).collect()
    }
}

// What is taken for granted of animals with or without known parents.
fn granted(asked: &Asked<'_>, (has_parents, sex): (bool, Option<Sex>)) -> Vec<f64> {
    if !has_parents {
        let none = vec![None; asked.maker.play.alleles.len()];
        return asked.maker.unrecorded(sex, &none, Opening::Reopened);
    }
    let blank = Written { genes: None, look: None };
    let known = Known { written: blank, tests: &[], sex, is_founder: false, place: None };
    asked.maker.animal(&known, Opening::Closed)
}

// What is written, over what is granted without it; none where it says nothing here.
fn written_over(
    asked: &Asked<'_>,
    known: &Known<'_>,
    granted: &[f64],
    strictness: Strictness,
) -> Option<Vec<f64>> {
    if known.written.is_blank() {
        return None;
    }
    let row = asked.maker.animal(&Known { tests: &[], ..*known }, Opening::Closed);
    let mut weights: Vec<f64> =
        row.iter().zip(granted).map(|(w, g)| if *g > 0.0 { w / g } else { 0.0 }).collect();
    if strictness == Strictness::Certain {
        make_certain(asked, known.written, &mut weights);
    }
    let is_flat = weights.iter().zip(granted).all(|(w, g)| *g == 0.0 || *w == 1.0);
    (!is_flat).then_some(weights)
}

fn make_certain(asked: &Asked<'_>, written: Written<'_>, weights: &mut [f64]) {
    let (catalogue, play) = (asked.maker.catalogue, asked.maker.play);
    if written.seen(catalogue, play.id) != Seen::ShowsNothing {
        return;
    }
    for (state, weight) in weights.iter_mut().enumerate() {
        if catalogue.missed(play.id, play.genotype(state)) <= MISSED_OFTEN {
            *weight = 0.0;
        }
    }
}
