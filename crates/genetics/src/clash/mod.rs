//! Which records cannot all be true, and which single one may be wrong.

mod case;
mod irreducible;

pub use case::{Case, Piece};
pub use irreducible::{Clash, clashes};
