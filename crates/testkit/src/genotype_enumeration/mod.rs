//! Gene chances the slow, obvious way: every genotype of every animal is tried.
//!
//! Shares no code with the engine. An animal carries *strands*, each a row of alleles in the order
//! of the loci; what a parent passes on is found by following every way in which its two strands can
//! cross over (Mendel 1866; crossing over without interference, Haldane 1919).

mod carried;
mod family;
mod sum;

pub use carried::{Carried, Chromosome};
pub use family::{Case, Descent, Shape};
pub use sum::{Summed, sum_over_all, sum_over_hatched};
