//! What one parent passes on.

use super::haplotypes::{Haplotype, NO_COPY};

/// Haplotypes with their chances; they sum to 1.
pub(super) type Gametes = Vec<(usize, f64)>;

/// Gametes of a parent with haplotypes `a` and `b`.
///
/// The first place of the haplotype comes from either with chance 1/2; at each following place the
/// other takes over with the recombination of that interval, intervals being independent (no
/// interference, as in Haldane 1919). The sex-determining region is the first place where there is
/// one. A Y that holds no copy does not recombine.
pub(super) fn of(all: &[Haplotype], (a, b): (usize, usize), recombination: &[f64]) -> Gametes {
    let (one, other) = (&all[a], &all[b]);
    let is_bare = |h: &Haplotype| h.alleles.contains(&NO_COPY);
    if a == b || is_bare(one) || is_bare(other) {
        return merged([(a, 0.5), (b, 0.5)]);
    }
    let n_places = recombination.len() + 1;
    let patterns = (0_u32..1 << n_places).map(|pattern| {
        let from_other = |place: usize| pattern >> place & 1 == 1;
        let switches = (1..n_places).map(|place| {
            let r = recombination[place - 1];
            if from_other(place) == from_other(place - 1) { 1.0 - r } else { r }
        });
        (passed(all, (one, other), n_places, from_other), 0.5 * switches.product::<f64>())
    });
    merged(patterns)
}

fn passed(
    all: &[Haplotype],
    (one, other): (&Haplotype, &Haplotype),
    n_places: usize,
    from_other: impl Fn(usize) -> bool,
) -> usize {
    // With a sex-determining region there is one place more than loci, and it comes first.
    let shift = n_places - one.alleles.len();
    let source = |place: usize| if from_other(place) { other } else { one };
    let alleles =
        (0..one.alleles.len()).map(|locus| source(locus + shift).alleles[locus]).collect();
    let wanted = Haplotype { is_y: shift == 1 && source(0).is_y, alleles };
    all.iter().position(|h| *h == wanted).unwrap_or(0)
}

fn merged(parts: impl IntoIterator<Item = (usize, f64)>) -> Gametes {
    let mut sum = Gametes::new();
    for (haplotype, p) in parts {
        match sum.iter_mut().find(|(h, _)| *h == haplotype) {
            _ if p <= 0.0 => {}
            Some((_, q)) => *q += p,
            None => sum.push((haplotype, p)),
        }
    }
    sum.sort_unstable_by_key(|(h, _)| *h);
    sum
}
