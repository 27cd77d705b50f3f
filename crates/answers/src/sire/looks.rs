//! How the young of a clutch can look.

use genetics::Catalogue;
use genetics::chances::{Among, LocusPair, Mix, PairBelief};
use genetics::genotype::Copies;

use super::candidates::Candidate;
use super::evidence::Together;
use crate::gene_chances::{GeneChances, LocusChances};

/// A look that a young of the clutch can have.
#[derive(Clone, Debug, PartialEq)]
pub struct PossibleLook {
    /// Catalogue names of what is seen, sorted; empty looks normal.
    pub look: Vec<String>,
    /// Chance that a hatchling looks so.
    pub chance: f64,
}

/// Most looks listed; our own choice: what a keeper can choose from.
const MOST: usize = 60;

/// The looks that the males in question can give with her, likeliest first: the mean over the fathers
/// as they are thought of. Young of a male nobody wrote down, or of none, can look otherwise.
pub(super) fn possible(
    catalogue: &Catalogue,
    genes: &GeneChances,
    together: &Together,
    (candidates, chances): (&[Candidate], &[f64]),
) -> Vec<PossibleLook> {
    let mut all: Vec<PossibleLook> = Vec::new();
    let known = |(c, p): (&Candidate, &f64)| c.father.male().filter(|_| *p > 0.0).map(|m| (m, *p));
    let known: Vec<(usize, f64)> = candidates.iter().zip(chances).filter_map(known).collect();
    let whole: f64 = known.iter().map(|(_, p)| p).sum();
    for (male, chance) in known {
        let joint = |(at, locus): (usize, &LocusChances)| {
            let copies =
                |state: usize| locus.play.copies.get(state).copied().unwrap_or(Copies::WILD);
            let cells = together.at(at, male).iter();
            let joint = cells.map(|(s, d, p)| (copies(*s), copies(*d), *p)).collect();
            LocusPair { locus: locus.play.id, joint }
        };
        let loci = genes.loci.iter().enumerate().map(joint).collect();
        let Ok(pair) = PairBelief::from_joint(catalogue, loci) else { continue };
        for outcome in pair.outcomes_of(MOST, Mix::Hatched, Among::All).list {
            let look: Vec<String> = outcome.look.iter().map(|w| (*w).to_owned()).collect();
            let p = chance / whole * outcome.chance;
            match all.iter_mut().find(|known| known.look == look) {
                Some(known) => known.chance += p,
                None => all.push(PossibleLook { look, chance: p }),
            }
        }
    }
    all.sort_by(|a, b| b.chance.total_cmp(&a.chance).then_with(|| a.look.cmp(&b.look)));
    all.truncate(MOST);
    all
}
