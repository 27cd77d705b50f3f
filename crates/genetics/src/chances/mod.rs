//! Exact chances of a planned pair.
//!
//! Loci are independent given both parents' genotypes. Of every locus a [`PairBelief`] keeps the
//! joint chances of the two parents' genotypes, so that parents who are related or share records may
//! be dependent; today it is the product of two [`Belief`](crate::Belief)s.

mod best_first;
mod cautions;
mod clutch;
mod fitting;
mod grid;
mod hatching_unknown;
mod hits;
mod laying;
mod mixture;
mod outcomes;
mod pair;
mod transmission;

pub use best_first::{Ranking, likeliest};
pub use cautions::Caution;
pub use clutch::{ClutchError, ClutchSize, MOST_EGGS, USUAL_MEAN};
pub use grid::{Connected, Grid, grid};
pub use hits::Hits;
pub use laying::{ClutchView, KindExpected, Laying, TargetInClutch};
pub use mixture::{TargetChance, TargetTooTangled};
pub use outcomes::{Het, Mix, Outcome, Outcomes};
pub use pair::{JointError, LocusPair, PairBelief};
pub use transmission::Among;
