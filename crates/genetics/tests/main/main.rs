//! Chances against published ratios, hand tables and plain enumeration.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod clash;
mod clutch;
mod enumeration;
mod grid;
mod information;
mod kinship_published;
mod kinship_random;
mod labels;
mod laying;
mod loci;
mod mendel;
mod paternity_enumeration;
mod paternity_published;
mod possible_het;
mod posterior_drawn;
mod posterior_oracle;
mod posterior_pairs;
mod published;
mod scaling;
mod sex_linked;
mod shelf;
mod sight;
mod tabular;
mod textbook;
