//! What two parents pass on at one locus.

use crate::catalogue::{Linkage, Locus};
use crate::genotype::{AlleleId, Copies, Genotype, Sex};

/// Which of the young are counted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Among {
    /// All, sons and daughters in equal shares.
    #[default]
    All,
    /// One sex only.
    Only(Sex),
}

/// Chances of the young's genotypes, sorted and without doubles.
pub(super) type Young = Vec<(Genotype, f64)>;

/// Genotypes of the young of two parents whose genotypes are known.
///
/// Autosomal: each of the four combinations has 1/4 (Mendel 1866). Sex-linked, r = recombination in
/// the male between the locus and the male-determining region (Mallery & Carrillo 2016): a son gets
/// his sire's Y copy with chance 1 - r and his X copy with r, a daughter the reverse.
pub(super) fn young(locus: &Locus, sire: Copies, dam: Copies, among: Among) -> Young {
    let from_sire: Vec<(AlleleId, f64)> = match locus.linkage() {
        Linkage::Autosomal => vec![(sire.first, 0.5), (sire.second, 0.5)],
        Linkage::SexLinked { recombination_male } => {
            let r = recombination_male.get();
            let x = match among {
                Among::All => 0.5,
                Among::Only(Sex::Male) => r,
                Among::Only(Sex::Female) => 1.0 - r,
            };
            vec![(sire.first, x), (sire.second, 1.0 - x)]
        }
    };
    let mut all = Young::with_capacity(4);
    for (a, p) in from_sire {
        for b in [dam.first, dam.second] {
            add(&mut all, Genotype::new(a, b), p * 0.5);
        }
    }
    all.sort_unstable_by_key(|(g, _)| *g);
    all
}

fn add(all: &mut Young, genotype: Genotype, p: f64) {
    if p <= 0.0 {
        return;
    }
    match all.iter_mut().find(|(g, _)| *g == genotype) {
        Some((_, sum)) => *sum += p,
        None => all.push((genotype, p)),
    }
}
