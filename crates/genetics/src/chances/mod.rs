//! Exact chances of a planned pair.
//!
//! Loci are independent given both parents' genotypes. Of every locus a [`PairBelief`] keeps the
//! joint chances of the two parents' genotypes, so that parents who are related or share records may
//! be dependent; today it is the product of two [`Belief`](crate::Belief)s.

mod best_first;
mod cautions;
mod clutch;
mod fitting;
mod hatching_unknown;
mod mixture;
mod outcomes;
mod pair;
mod transmission;

pub use cautions::Caution;
pub use clutch::{ClutchError, ClutchSize, MOST_EGGS, USUAL_MEAN};
pub use mixture::{TargetChance, TargetTooTangled};
pub use outcomes::{Het, Mix, Outcome, Outcomes};
pub use pair::{JointError, LocusPair, PairBelief};
pub use transmission::Among;
