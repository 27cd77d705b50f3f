//! Who descends from whom, as far as it is known.

use crate::pedigree::PedigreeError;

/// No parent known.
pub(super) const UNKNOWN: u32 = u32::MAX;
/// In the place of the sire: there was none.
pub(super) const NO_SIRE: u32 = u32::MAX - 1;
/// Most animals of one pedigree.
const MOST: usize = u32::MAX as usize / 2 - 2;

/// The parents of one animal, by place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Descent {
    /// Sire and dam, each none where unknown.
    Of {
        /// Place of the sire.
        sire: Option<usize>,
        /// Place of the dam.
        dam: Option<usize>,
    },
    /// From the dam alone.
    ///
    /// Counted as one gamete of hers doubled: fully inbred, related to everybody as she is. Terminal
    /// fusion, which is what pythons were seen to do, leaves some heterozygosity (Booth et al. 2014,
    /// Biol J Linn Soc 112:461), so the inbreeding given is the upper limit.
    Alone {
        /// Place of the dam.
        dam: usize,
    },
}

/// A checked pedigree in which parents may be unknown: everyone exists, nobody is his own ancestor.
#[derive(Clone, Debug, Default)]
pub struct Lines {
    /// Sire and dam of every animal.
    pub(super) parents: Vec<[u32; 2]>,
    /// Whether each animal has young.
    pub(super) has_young: Vec<bool>,
    /// Parents before young; none where the animals came in such an order.
    pub(super) oldest_first: Option<Vec<u32>>,
}

impl Lines {
    /// Checks; animals may come in any order.
    ///
    /// # Errors
    /// [`PedigreeError`] for a parent that is not there and for a circle.
    pub fn new(descents: &[Descent]) -> Result<Self, PedigreeError> {
        if descents.len() > MOST {
            return Err(PedigreeError::TooMany);
        }
        let mut parents = Vec::with_capacity(descents.len());
        let mut has_young = vec![false; descents.len()];
        let mut is_in_order = true;
        for (animal, descent) in descents.iter().enumerate() {
            let pair = known(*descent, animal, descents.len())?;
            is_in_order &= pair.iter().all(|p| *p >= NO_SIRE || (*p as usize) < animal);
            for parent in pair {
                if let Some(cell) = has_young.get_mut(parent as usize) {
                    *cell = true;
                }
            }
            parents.push(pair);
        }
        let oldest_first = if is_in_order { None } else { Some(order(&parents)?) };
        Ok(Self { parents, has_young, oldest_first })
    }

    /// How many animals there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.parents.len()
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.parents.is_empty()
    }
}

/// The parents as numbers.
pub(super) fn known(descent: Descent, animal: usize, n: usize) -> Result<[u32; 2], PedigreeError> {
    let place = |parent: usize| match u32::try_from(parent) {
        Ok(place) if parent < n => Ok(place),
        _ => Err(PedigreeError::NoSuchAnimal { animal, parent }),
    };
    Ok(match descent {
        Descent::Of { sire, dam } => {
            [sire.map_or(Ok(UNKNOWN), place)?, dam.map_or(Ok(UNKNOWN), place)?]
        }
        Descent::Alone { dam } => [NO_SIRE, place(dam)?],
    })
}

/// Parents before young (Kahn 1962), or the circle that forbids it.
fn order(parents: &[[u32; 2]]) -> Result<Vec<u32>, PedigreeError> {
    let n = parents.len();
    // Young of one parent form a list through `next`, whose places are those of the parents' cells.
    let mut first = vec![UNKNOWN; n];
    let mut next = vec![[UNKNOWN; 2]; n];
    let mut waits_for = vec![0u8; n];
    let mut oldest_first = Vec::with_capacity(n);
    for (place, animal) in (0u32..).zip(0..n) {
        for side in 0..2 {
            let parent = parents[animal][side];
            if parent < NO_SIRE {
                next[animal][side] =
                    std::mem::replace(&mut first[parent as usize], place * 2 + side as u32);
                waits_for[animal] += 1;
            }
        }
        if waits_for[animal] == 0 {
            oldest_first.push(place);
        }
    }
    let mut done = 0;
    while let Some(parent) = oldest_first.get(done) {
        let mut cell = first[*parent as usize];
        while cell != UNKNOWN {
            let (young, side) = ((cell / 2) as usize, (cell % 2) as usize);
            waits_for[young] -= 1;
            if waits_for[young] == 0 {
                oldest_first.push(cell / 2);
            }
            cell = next[young][side];
        }
        done += 1;
    }
    if oldest_first.len() == n { Ok(oldest_first) } else { Err(circle(parents, &waits_for)) }
}

/// Up the parents that wait themselves, until an animal comes again.
fn circle(parents: &[[u32; 2]], waits_for: &[u8]) -> PedigreeError {
    let mut way: Vec<usize> = Vec::new();
    let mut met = vec![usize::MAX; parents.len()];
    let mut at = waits_for.iter().position(|w| *w > 0);
    while let Some(animal) = at {
        if met[animal] != usize::MAX {
            return PedigreeError::OwnAncestor { circle: way.split_off(met[animal]) };
        }
        met[animal] = way.len();
        way.push(animal);
        let waiting = |p: &&u32| **p < NO_SIRE && waits_for[**p as usize] > 0;
        at = parents[animal].iter().find(waiting).map(|p| *p as usize);
    }
    PedigreeError::OwnAncestor { circle: way }
}
