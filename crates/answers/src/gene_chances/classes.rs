//! Animals of which the same is written: one row per locus serves them all.

use std::collections::HashMap;
use std::sync::Arc;

use records::facts::Tested;
use records::{Animal, LabFound, RecordId, Sex};

use genetics::{Catalogue, Gene};

use super::in_play::Named;
use super::labels::{LabelRead, LabelReader, Texts, Written, alleles_named};
use super::rows::Known;

/// What is written of an animal, as numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Class {
    pub genes: u32,
    pub look: u32,
    tests: u32,
    sex: Option<Sex>,
    is_founder: bool,
    /// The animal, where a chance of its own is set.
    place: Option<usize>,
}

fn text(told: &Option<(String, RecordId)>) -> Option<&str> {
    told.as_ref().map(|(text, _)| text.as_str()).filter(|text| !text.trim().is_empty())
}

type TestKey = Vec<(String, LabFound, Option<u64>)>;

/// Every class met so far.
#[derive(Debug, Default)]
pub(super) struct Classes {
    texts: Texts,
    tests: Vec<Vec<Tested>>,
    test_known: HashMap<TestKey, u32>,
    known: HashMap<Class, u32>,
    all: Vec<Class>,
}

impl Classes {
    /// Number of classes.
    pub fn len(&self) -> usize {
        self.all.len()
    }

    /// The class of an animal.
    pub fn of(
        &mut self,
        animal: &Animal,
        (sex, is_founder, place): (Option<Sex>, bool, Option<usize>),
        read: &LabelReader<'_>,
    ) -> u32 {
        let class = Class {
            genes: self.texts.number(text(&animal.genes), read),
            look: self.texts.number(text(&animal.look), read),
            tests: self.tests_of(animal),
            sex,
            is_founder,
            place,
        };
        let next = super::lineage::count(self.all.len());
        let number = *self.known.entry(class).or_insert(next);
        if number == next {
            self.all.push(class);
        }
        number
    }

    fn tests_of(&mut self, animal: &Animal) -> u32 {
        if animal.tested.is_empty() {
            return 0;
        }
        let key = |t: &Tested| (t.gene.clone(), t.found, t.error.map(|e| e.get().to_bits()));
        let key: TestKey = animal.tested.iter().map(|(_, _, test)| key(test)).collect();
        if let Some(number) = self.test_known.get(&key) {
            return *number;
        }
        self.tests.push(animal.tested.iter().map(|(_, _, test)| test.clone()).collect());
        let number = super::lineage::count(self.tests.len());
        self.test_known.insert(key, number);
        number
    }

    pub fn class(&self, class: u32) -> Class {
        self.all[class as usize]
    }

    /// What is known of the animals of a class.
    pub fn known(&self, class: u32) -> Known<'_> {
        let class = self.class(class);
        Known {
            written: Written {
                genes: self.texts.read(class.genes).map(AsRef::as_ref),
                look: self.texts.read(class.look).map(AsRef::as_ref),
            },
            tests: self.tests_numbered(class.tests),
            sex: class.sex,
            is_founder: class.is_founder,
            place: class.place,
        }
    }

    fn tests_numbered(&self, number: u32) -> &[Tested] {
        (number as usize)
            .checked_sub(1)
            .and_then(|at| self.tests.get(at))
            .map_or(&[], Vec::as_slice)
    }

    /// The texts of a class, label first.
    pub fn texts(&self, class: u32) -> [Option<Arc<LabelRead>>; 2] {
        let class = self.class(class);
        [class.genes, class.look].map(|number| self.texts.read(number).cloned())
    }
}

impl Classes {
    /// Adds every gene that the records of a class name.
    pub fn name_genes(&self, class: u32, catalogue: &Catalogue, named: &mut Named) {
        let known = self.known(class);
        for read in known.written.genes.into_iter().chain(known.written.look) {
            read.unsure.iter().for_each(|(gene, _)| named.add(*gene));
            for (locus, statement) in read.label.statements() {
                for allele in alleles_named(catalogue, locus, statement) {
                    named.add(Gene { locus, allele });
                }
            }
        }
        known.tests.iter().filter_map(|t| catalogue.gene(&t.gene)).for_each(|gene| named.add(gene));
    }
}
