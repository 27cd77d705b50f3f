//! "How likely is the wish, for every pair?"

use genetics::chances::{ClutchSize, Connected, Grid, LocusPair, TargetTooTangled, grid};
use genetics::{Belief, Catalogue, GenotypeSet, LocusId, Target};

use crate::gene_chances::GeneChances;

/// The chances of one wish for every pair of two lists of animals.
#[derive(Clone, Debug, PartialEq)]
pub struct PairGrid {
    /// The chances, by place in the lists.
    pub grid: Grid,
    /// Pairs whose genotypes depend on each other: their exact joint was taken.
    pub connected: usize,
}

/// Chances of a wish in a clutch of every pair, from all records.
///
/// Sires and dams are places in the colony. A pair's chances are those of the product of both
/// animals' genes, but where both are undecided at a locus that matters and depend on each other:
/// there their joint is taken.
///
/// # Errors
/// [`TargetTooTangled`] for a wish that names too many uncertain genes over and over.
pub fn pair_grid(
    genes: &GeneChances,
    catalogue: &Catalogue,
    (sires, dams): (&[usize], &[usize]),
    wish: &Target,
    clutch: &ClutchSize,
) -> Result<PairGrid, TargetTooTangled> {
    let beliefs =
        |places: &[usize]| places.iter().map(|place| genes.belief(*place)).collect::<Vec<_>>();
    let (his, hers) = (beliefs(sires), beliefs(dams));
    let connected = connected(genes, catalogue, wish, (sires, &his), (dams, &hers));
    let grid = grid(catalogue, (&his, &hers), &connected, wish, clutch)?;
    Ok(PairGrid { grid, connected: connected.len() })
}

fn connected(
    genes: &GeneChances,
    catalogue: &Catalogue,
    wish: &Target,
    (sires, his): (&[usize], &[Belief]),
    (dams, hers): (&[usize], &[Belief]),
) -> Vec<Connected> {
    let mut all: Vec<Connected> = Vec::new();
    for id in loci(genes, catalogue, wish) {
        let Some(locus) = genes.locus(id) else { continue };
        let undecided = |beliefs: &[Belief]| {
            (0..beliefs.len()).filter(|at| beliefs[*at].at(id).len() > 1).collect::<Vec<_>>()
        };
        let open_dams = undecided(hers);
        for sire in undecided(his) {
            let him = sires[sire];
            let related: Vec<usize> =
                open_dams.iter().copied().filter(|dam| locus.depend(him, dams[*dam])).collect();
            if related.is_empty() {
                continue;
            }
            let places: Vec<usize> = related.iter().map(|dam| dams[*dam]).collect();
            for (dam, joint) in related.into_iter().zip(locus.joints(him, &places)) {
                let loci = vec![LocusPair { locus: id, joint }];
                all.push(Connected { sire, dam, loci });
            }
        }
    }
    // One entry for each pair.
    all.sort_by_key(|pair| (pair.sire, pair.dam));
    all.dedup_by(|next, kept| {
        let same = (next.sire, next.dam) == (kept.sire, kept.dam);
        if same {
            kept.loci.append(&mut next.loci);
        }
        same
    });
    all
}

/// The loci that the wish names, and those at which some egg may not live.
fn loci(genes: &GeneChances, catalogue: &Catalogue, wish: &Target) -> Vec<LocusId> {
    let named = wish.loci();
    let matters = |id: &LocusId| {
        let may_die = || catalogue.locus(*id).is_some_and(|l| l.lethal() != GenotypeSet::EMPTY);
        named.contains(id) || may_die()
    };
    genes.loci.iter().map(|locus| locus.play.id).filter(matters).collect()
}
