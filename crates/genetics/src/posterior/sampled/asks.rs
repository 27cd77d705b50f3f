//! Which joint chances to tally, so that those of all animals follow from them.

use super::table::n_entries;

/// Sets of unknowns that stand together in some table of the core, and where their numbers begin.
pub(super) struct Asks {
    scopes: Vec<Vec<u32>>,
    starts: Vec<usize>,
    /// Fewest of each that are held at once in any cutset.
    fewest: Vec<usize>,
}

impl Asks {
    /// A set that another holds, and that is nowhere held in part, goes into the other.
    pub(super) fn new(mut wanted: Vec<Vec<u32>>, cutsets: &[Vec<bool>], sizes: &[u16]) -> Self {
        let held = |scope: &[u32], cut: &[bool]| scope.iter().filter(|u| cut[**u as usize]).count();
        let fewest = |scope: &[u32]| cutsets.iter().map(|cut| held(scope, cut)).min().unwrap_or(0);
        wanted.sort_by_key(|scope| std::cmp::Reverse(scope.len()));
        let mut asks = Self { scopes: Vec::new(), starts: vec![0], fewest: Vec::new() };
        let mut of: Vec<Vec<usize>> = vec![Vec::new(); sizes.len()];
        for scope in wanted {
            let Some(first) = scope.first() else { continue };
            let asks_now = &asks;
            let holds = |at: &usize| {
                asks_now.fewest[*at] == 0 && scope.iter().all(|u| asks_now.scopes[*at].contains(u))
            };
            if of[*first as usize].iter().any(holds) {
                continue;
            }
            let at = asks.scopes.len();
            scope.iter().for_each(|u| of[*u as usize].push(at));
            asks.starts.push(asks.starts[at] + n_entries(&scope, sizes));
            asks.fewest.push(fewest(&scope));
            asks.scopes.push(scope);
        }
        asks
    }

    /// Numbers of all.
    pub(super) fn len(&self) -> usize {
        self.starts.last().copied().unwrap_or(0)
    }

    /// The sets with where they begin that are tallied while a cutset is held: those of which no
    /// other cutset holds fewer.
    pub(super) fn during(&self, cut: &[bool]) -> Vec<(&[u32], usize)> {
        let fits = |at: &usize| {
            self.scopes[*at].iter().filter(|u| cut[**u as usize]).count() == self.fewest[*at]
        };
        let sets = (0..self.scopes.len()).filter(fits);
        sets.map(|at| (self.scopes[at].as_slice(), self.starts[at])).collect()
    }

    /// The smallest set that holds all of `scope`, held in part as rarely as can be.
    pub(super) fn holding(&self, scope: &[u32]) -> Option<(&[u32], usize)> {
        let holds = |at: &usize| scope.iter().all(|u| self.scopes[*at].contains(u));
        let size = |at: &usize| (self.fewest[*at], self.starts[at + 1] - self.starts[*at]);
        let at = (0..self.scopes.len()).filter(holds).min_by_key(size)?;
        Some((&self.scopes[at], self.starts[at]))
    }

    /// Where each set stands.
    pub(super) fn ranges(&self) -> impl Iterator<Item = std::ops::Range<usize>> + '_ {
        self.starts.windows(2).map(|pair| pair[0]..pair[1])
    }
}
