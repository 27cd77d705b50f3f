//! Published pedigrees, each run as its reader would run it: two files and the command.
//!
//! - `asked`: the two files and the answer
//! - `carrier_risk`: chances that an animal carries a recessive
//! - `cousins`: whole pedigrees with loops
//! - `closed_forms`: likelihoods that have a formula
//! - `linkage`: linked markers, curves of the likelihood over recombination
//! - `networks`: made-up collections against libraries of Bayesian networks
//! - `paternity`: two pedigrees compared
//! - `living`: genotypes that do not live
//! - `refused`: what cannot be, and files that cannot be read

mod asked;
mod carrier_risk;
mod closed_forms;
mod cousins;
mod linkage;
mod living;
mod networks;
mod paternity;
mod refused;
