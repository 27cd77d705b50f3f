//! Questions answered from small invented journals and from shorthand.
//!
//! - `pair_chances`: looks, hatching and the wish, against Mendel's ratios and binomial tables.
//! - `suitors`: the males of the house, kinship, planned pairs and Tonight.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod pair_chances;
mod room;
mod suitors;
