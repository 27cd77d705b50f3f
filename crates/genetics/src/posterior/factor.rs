//! A table of numbers over at most three unknown animals.

/// Most animals one factor speaks of: sire, dam and one young.
pub(super) const MOST: usize = 3;

/// A table over `scope`, the first one's states outermost.
#[derive(Clone, Debug)]
pub(super) struct Factor {
    scope: [u32; MOST],
    n: u8,
    at: u32,
    len: u32,
}

impl Factor {
    /// The unknowns it speaks of.
    pub(super) fn scope(&self) -> &[u32] {
        &self.scope[..usize::from(self.n)]
    }

    /// Where its numbers stand.
    pub(super) const fn range(&self) -> std::ops::Range<usize> {
        self.at as usize..(self.at + self.len) as usize
    }
}

/// Factors with their numbers.
#[derive(Debug, Default)]
pub(super) struct Factors {
    pub(super) all: Vec<Factor>,
    pub(super) numbers: Vec<f64>,
}

impl Factors {
    /// Adds a factor whose numbers have been appended from `at` on.
    pub(super) fn close(&mut self, at: usize, unknowns: &[u32]) {
        let mut scope = [0; MOST];
        scope.iter_mut().zip(unknowns).for_each(|(slot, u)| *slot = *u);
        #[expect(
            clippy::cast_possible_truncation,
            reason = "three unknowns, tables within memory"
        )]
        self.all.push(Factor {
            scope,
            n: unknowns.len() as u8,
            at: at as u32,
            len: (self.numbers.len() - at) as u32,
        });
    }
}
