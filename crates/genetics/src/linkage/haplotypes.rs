//! Every haplotype of a group.

use super::group::{GroupError, SexLink};

/// No allele: what a Y without a copy of the locus holds.
pub(super) const NO_COPY: u8 = u8::MAX;

/// A haplotype: the sex chromosome where there is one, and an allele per locus.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Haplotype {
    pub(super) is_y: bool,
    pub(super) alleles: Vec<u8>,
}

/// All haplotypes, those on the X before those on the Y, then in the order of their alleles.
pub(super) fn every(
    alleles: &[usize],
    link: Option<SexLink>,
) -> Result<Vec<Haplotype>, GroupError> {
    let sound = |n: &usize| (1..=usize::from(NO_COPY)).contains(n);
    if alleles.is_empty() || !alleles.iter().all(sound) {
        return Err(GroupError::NoAlleles);
    }
    let plain = products(alleles)?;
    let on = |is_y: bool| plain.iter().map(move |a| Haplotype { is_y, alleles: a.clone() });
    let mut all: Vec<Haplotype> = on(false).collect();
    match link {
        None => {}
        Some(SexLink::BothChromosomes { .. }) => all.extend(on(true)),
        Some(SexLink::XOnly) => {
            all.push(Haplotype { is_y: true, alleles: vec![NO_COPY; alleles.len()] });
        }
    }
    Ok(all)
}

fn products(alleles: &[usize]) -> Result<Vec<Vec<u8>>, GroupError> {
    let mut all: Vec<Vec<u8>> = vec![Vec::new()];
    for n in alleles {
        if all.len() * n > super::MOST_STATES {
            return Err(GroupError::TooManyStates);
        }
        let names = 0..u8::try_from(*n).unwrap_or(NO_COPY);
        all = all
            .iter()
            .flat_map(|before| {
                names.clone().map(|allele| {
                    let mut longer = before.clone();
                    longer.push(allele);
                    longer
                })
            })
            .collect();
    }
    Ok(all)
}
