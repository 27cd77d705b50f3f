//! Loci that travel together, and what a parent passes on of them.
//!
//! A *haplotype* is one allele per locus of a group, in the order of the loci. A *state* is what an
//! animal carries at a whole group: two haplotypes, in no order, so phase is kept and the parent of
//! origin is not. A group of one autosomal locus has the states of [`crate::Genotype`], in their
//! order.

mod gametes;
mod group;
mod haplotypes;
mod pair_set;

pub(crate) use group::Mask;
pub use group::{BySex, GroupError, LinkageGroup, MOST_STATES, Mutation, SexLink};
pub(crate) use pair_set::{PairSets, restrict, sides, states_in};
