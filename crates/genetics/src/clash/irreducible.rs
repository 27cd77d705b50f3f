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
    let mut sets: Vec<Vec<usize>> = Vec::new();
    let mut left = vec![true; n];
    while sets.len() < most && !possible(&left) {
        let candidates: Vec<usize> = (0..n).filter(|i| left[*i]).collect();
        let set = irreducible(n, &candidates, &mut possible);
        if set.is_empty() {
            break;
        }
        set.iter().for_each(|i| left[*i] = false);
        sets.push(set);
    }
    resolved(&sets, &left, possible)
}

/// An irreducible part of the candidates that clashes, sorted; empty where even nothing is possible.
pub(super) fn irreducible(
    n: usize,
    candidates: &[usize],
    possible: &mut impl FnMut(&[bool]) -> bool,
) -> Vec<usize> {
    let mut set = Search { n, possible }.within(&[], false, candidates);
    set.sort_unstable();
    set
}

/// The sets with what resolves each; `left` marks the records in none of them.
pub(super) fn resolved(
    sets: &[Vec<usize>],
    left: &[bool],
    mut possible: impl FnMut(&[bool]) -> bool,
) -> Vec<Clash> {
    let mut of = |set: &Vec<usize>| {
        let mut kept = left.to_vec();
        set.iter().for_each(|i| kept[*i] = true);
        let mut resolves = |i: &usize| {
            kept[*i] = false;
            let is_possible = possible(&kept);
            kept[*i] = true;
            is_possible
        };
        let mut resolved_by = set.clone();
        resolved_by.retain(&mut resolves);
        Clash { set: set.clone(), resolved_by }
    };
    sets.iter().map(&mut of).collect()
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
