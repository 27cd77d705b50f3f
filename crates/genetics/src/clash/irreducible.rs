//! Sets of records that clash and of which none can be left out.

/// Records that cannot all be true, as places in the list asked about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clash {
    /// They clash, and any of them left out, the others do not. Sorted.
    pub set: Vec<usize>,
    /// Those of them of which each alone, left out, lets the others be true beside everything that
    /// clashes nowhere else. Empty where more than one of them is wrong.
    pub resolved_by: Vec<usize>,
}

/// Every clash among `n` records, up to `most`, no record in two of them.
///
/// `possible` says whether the marked records can all be true; fewer records are never less
/// possible. Each irreducible set is found by dividing (Junker 2004, QuickXplain, from memory): the
/// number of questions grows with the size of the set and the logarithm of `n`.
pub fn clashes(n: usize, most: usize, mut possible: impl FnMut(&[bool]) -> bool) -> Vec<Clash> {
    search(n, most, |kept| (!possible(kept)).then_some(()), |(), _| None)
}

/// As [`clashes`]. `at` gives where a clash among the marked records comes out, none where there is
/// none; `near` may know an irreducible set around there, else one is sought among all that are left.
pub(super) fn search<W>(
    n: usize,
    most: usize,
    mut at: impl FnMut(&[bool]) -> Option<W>,
    mut near: impl FnMut(W, &[bool]) -> Option<Vec<usize>>,
) -> Vec<Clash> {
    let mut sets: Vec<Vec<usize>> = Vec::new();
    let mut left = vec![true; n];
    while sets.len() < most {
        let Some(place) = at(&left) else { break };
        let set = near(place, &left).unwrap_or_else(|| {
            let candidates: Vec<usize> = (0..n).filter(|i| left[*i]).collect();
            irreducible(n, &candidates, &mut at)
        });
        if set.is_empty() {
            break;
        }
        set.iter().for_each(|i| left[*i] = false);
        sets.push(set);
    }
    sets.into_iter().map(|set| resolved(set, &left, &mut at)).collect()
}

/// An irreducible part of the candidates that clashes, sorted; empty where even nothing is possible.
pub(super) fn irreducible<W>(
    n: usize,
    candidates: &[usize],
    at: &mut impl FnMut(&[bool]) -> Option<W>,
) -> Vec<usize> {
    let possible = &mut |kept: &[bool]| at(kept).is_none();
    let mut set = Search { n, possible }.within(&[], false, candidates);
    set.sort_unstable();
    set
}

// A set with what resolves it; `left` marks the records in no set.
fn resolved<W>(set: Vec<usize>, left: &[bool], at: &mut impl FnMut(&[bool]) -> Option<W>) -> Clash {
    let mut kept = left.to_vec();
    set.iter().for_each(|i| kept[*i] = true);
    let mut resolved_by = set.clone();
    resolved_by.retain(|i| {
        kept[*i] = false;
        let is_possible = at(&kept).is_none();
        kept[*i] = true;
        is_possible
    });
    Clash { set, resolved_by }
}

struct Search<'a, F> {
    n: usize,
    possible: &'a mut F,
}

impl<F: FnMut(&[bool]) -> bool> Search<'_, F> {
    // An irreducible part of `candidates` that clashes together with `given`.
    fn within(&mut self, given: &[usize], is_new: bool, candidates: &[usize]) -> Vec<usize> {
        if is_new && !self.ask(given) {
            return Vec::new();
        }
        if let [_] | [] = candidates {
            // Where even nothing is impossible, no record is to blame.
            return if given.is_empty() && !self.ask(given) {
                Vec::new()
            } else {
                candidates.to_vec()
            };
        }
        let (one, two) = candidates.split_at(candidates.len() / 2);
        let with_one = [given, one].concat();
        let in_two = self.within(&with_one, true, two);
        let with_two = [given, &in_two].concat();
        let in_one = self.within(&with_two, !in_two.is_empty(), one);
        [in_one, in_two].concat()
    }

    fn ask(&mut self, records: &[usize]) -> bool {
        let mut marked = vec![false; self.n];
        records.iter().for_each(|i| marked[*i] = true);
        (self.possible)(&marked)
    }
}
