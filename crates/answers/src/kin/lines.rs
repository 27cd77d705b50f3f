//! The colony's written parents as lines of descent.

use genetics::PedigreeError;
use genetics::kinship::{Descent, Kinship, Lines};
use records::Colony;

use super::ColonyKin;

/// Young of one clutch are taken to have one sire and one dam also where nobody wrote them down, so
/// that clutch mates are full sibs.
pub(super) fn reckon(colony: &Colony) -> ColonyKin {
    let n_animals = colony.animals.len();
    let mut parents: Vec<[Option<usize>; 2]> =
        colony.animals.iter().map(|animal| [animal.sire, animal.dam]).collect();
    for clutch in &colony.clutches {
        for side in 0..2 {
            share_unknown(&mut parents, &clutch.young, side);
        }
    }
    let mut circle = Vec::new();
    let kinship = loop {
        let descents: Vec<Descent> =
            parents.iter().map(|[sire, dam]| Descent::Of { sire: *sire, dam: *dam }).collect();
        match Lines::new(&descents) {
            Ok(lines) => break Kinship::new(&lines),
            Err(PedigreeError::OwnAncestor { circle: found }) if !found.is_empty() => {
                found.iter().for_each(|animal| parents[*animal] = [None; 2]);
                circle.extend(found);
            }
            Err(_) => break Kinship::new(&Lines::default()),
        }
    };
    ColonyKin { kinship, parents, n_animals, circle }
}

/// Gives the young whose parent of one side is not written the same unknown one.
fn share_unknown(parents: &mut Vec<[Option<usize>; 2]>, young: &[usize], side: usize) {
    let alone: Vec<usize> =
        young.iter().copied().filter(|animal| parents[*animal][side].is_none()).collect();
    if alone.len() > 1 {
        let unknown = parents.len();
        parents.push([None; 2]);
        alone.into_iter().for_each(|animal| parents[animal][side] = Some(unknown));
    }
}
