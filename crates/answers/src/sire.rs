//! "Who fathered this clutch?"

mod candidates;

pub use candidates::{Candidate, Father, candidates};
