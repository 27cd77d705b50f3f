//! What is wrong with a catalogue, in words that say what to do.

use std::fmt;

/// Why a catalogue was refused.
#[derive(Clone, Debug, PartialEq)]
pub enum CatalogueError {
    /// A name without a letter or digit.
    EmptyName {
        /// Where it stands.
        place: String,
    },
    /// Two things have one name.
    NameTaken {
        /// The name.
        name: String,
        /// What has it already.
        by: String,
    },
    /// A locus without a named allele or with too many.
    AlleleCount {
        /// The locus.
        locus: String,
        /// How many named alleles it has.
        count: usize,
    },
    /// A frequency that is none, or all of a locus together leaving no room for the wild type.
    Frequency {
        /// The locus.
        locus: String,
        /// The sum of its named alleles' frequencies.
        sum: f64,
    },
    /// A compound, combo or ambiguous word names what is not there.
    UnknownName {
        /// What names it.
        place: String,
        /// The name not found.
        name: String,
    },
    /// A compound of one allele with itself.
    CompoundOfOne {
        /// The compound.
        name: String,
    },
    /// A recombination outside 0..=0.5.
    Recombination {
        /// The locus.
        locus: String,
        /// The value given.
        value: f64,
    },
    /// A chance to be missed outside 0..1.
    Missed {
        /// The gene.
        gene: String,
        /// The value given.
        value: f64,
    },
    /// A count of meioses that is none.
    Counted {
        /// The value given.
        value: f64,
    },
    /// More than one locus on the sex chromosomes.
    SecondSexLinked {
        /// The second one.
        locus: String,
    },
    /// More loci than can be counted.
    TooManyLoci,
}

impl fmt::Display for CatalogueError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::EmptyName { place } => {
                write!(f, "{place} has an empty name: give it one with a letter")
            }
            Self::NameTaken { name, by } => {
                write!(f, "\"{name}\" already names {by}: give one of them another name")
            }
            Self::AlleleCount { locus, count } => {
                write!(f, "locus \"{locus}\" has {count} named alleles: give it 1 to 14")
            }
            Self::Frequency { locus, sum } => write!(
                f,
                "the allele frequencies of locus \"{locus}\" make {sum}: give each one above 0 and keep \
                 their sum below 1, the wild type needs the rest"
            ),
            Self::UnknownName { place, name } => {
                write!(
                    f,
                    "{place} names \"{name}\", which the catalogue does not have: add it or correct the spelling"
                )
            }
            Self::CompoundOfOne { name } => write!(
                f,
                "the compound \"{name}\" is of one allele with itself: write it as the super of that allele"
            ),
            Self::Recombination { locus, value } => {
                write!(
                    f,
                    "the recombination of locus \"{locus}\" is {value}: give a number from 0 to 0.5"
                )
            }
            Self::Missed { gene, value } => {
                write!(f, "the chance to miss \"{gene}\" is {value}: give a number from 0, below 1")
            }
            Self::Counted { value } => {
                write!(f, "the recombination counts for {value} meioses: give a number above 0")
            }
            Self::SecondSexLinked { locus } => write!(
                f,
                "\"{locus}\" is a second sex-linked locus: only one is supported, make it an allele of the first"
            ),
            Self::TooManyLoci => f.write_str("more than 65,535 loci: leave some out"),
        }
    }
}

impl std::error::Error for CatalogueError {}
