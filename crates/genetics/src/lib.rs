//! Genes, looks, chances.
//!
//! A [`Catalogue`] says which genes there are and how every genotype looks; a [`Label`] says what is
//! known or claimed of one animal; [`chances::PairBelief`] turns two labels into the exact chances
//! of every look and of any [`Target`] among the young.
//!
//! Words: a *locus* is a place on a chromosome, an *allele* one of the forms found there, a *look*
//! the word for what a genotype shows, a *super* an animal with two copies of one allele.

pub mod belief;
pub mod catalogue;
pub mod chances;
pub mod clash;
pub mod evidence;
pub mod genotype;
pub mod information;
pub mod kinship;
pub mod label;
pub mod linkage;
pub mod map_function;
pub mod paternity;
pub mod pedigree;
pub mod posterior;
pub mod target;

pub use belief::{Assumptions, Belief};
pub use catalogue::{Catalogue, CatalogueError};
pub use evidence::Evidence;
pub use genotype::{AlleleId, Gene, Genotype, GenotypeSet, LocusId, LookId, Sex, SexChromosome};
pub use label::{ClaimedChance, Label, LabelError, Statement};
pub use linkage::LinkageGroup;
pub use pedigree::{Origin, Pedigree, PedigreeError};
pub use target::Target;
