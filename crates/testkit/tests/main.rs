//! Tests of the simulators against numbers from outside them.
//!
//! - `genotype_enumeration`: the slow sum over genotypes against closed forms
//! - `season_room`: what the made-up room holds, and that its keepers go by the rules

mod genotype_enumeration;
mod season_room;
